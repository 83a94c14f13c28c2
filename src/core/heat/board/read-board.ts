/** Reads `unseam-board/1`: strict, every fault at once. Errors: `InputFaults`. */
import { nearest } from "../../record/nearest.ts";
import { FaultList, type Json, join, quote, say } from "../fault-list.ts";
import { materialEntry } from "../materials.ts";
import { readMaterial, temperature } from "../read-stack.ts";
import type { Board, BoardLayer, BoardMaterial, BoardPart, BoardStage, Nozzle } from "./board.ts";
import { ALLOYS, type Alloy } from "./jstd.ts";

export const BOARD_FORMAT = "unseam-board/1";
/** Cells beyond which a planning aid is the wrong tool, and memory goes. */
export const MOST_CELLS = 400_000;
/** Layers thicker than this are cut into several cells, mm. */
export const CELL_HEIGHT = 1.5;
const MOST_SECONDS = 7200;

const TOP = ["format", "name", "note", "size", "cell", "start", "h", "layers", "parts", "heat", "report", "alloy"];

export function readBoard(value: unknown, alloy?: Alloy): Board {
  const list = new FaultList();
  const top = list.object(value, "", TOP, ["format", "size", "cell", "start", "h", "layers", "heat"]) ?? {};
  list.throwIfAny();
  if (top.format !== BOARD_FORMAT) list.add("format", say(top.format), quote(BOARD_FORMAT), BOARD_FORMAT);
  const size = pair(top.size, "size", list, "mm above zero, at most 1000", (x) => x > 0 && x <= 1000);
  const cell = list.number(top.cell, "cell", "mm from 0.02 to 50", (x) => x >= 0.02 && x <= 50);
  const start = temperature(top.start, "start", list);
  const h = list.number(top.h, "h", "W/(m2.K), zero or more", (x) => x >= 0 && x <= 1e6);
  const layers = (list.array(top.layers, "layers", 1, 40, "layers") ?? []).map((item, i) =>
    readLayer(item, join("layers", i), list),
  );
  const parts =
    top.parts === undefined
      ? []
      : (list.array(top.parts, "parts", 0, 2000, "parts") ?? []).map((item, i) =>
          readPart(item, join("parts", i), size, list),
        );
  separate(parts, list);
  const heat = (list.array(top.heat, "heat", 1, 200, "stages") ?? []).map((item, i) =>
    readStage(item, join("heat", i), size, list),
  );
  const length = heat.reduce((sum, stage) => sum + stage.seconds, 0);
  if (length > MOST_SECONDS) list.add("heat", `${length} s of heating`, `at most ${MOST_SECONDS} s`);
  const report =
    top.report === undefined
      ? []
      : (list.array(top.report, "report", 0, 10_000, "times") ?? []).map((item, i) =>
          list.number(
            item,
            join("report", i),
            `seconds from 0 to the length of ${length} s`,
            (x) => x >= 0 && (Number.isNaN(length) || x <= length * (1 + 1e-9)),
          ),
        );
  const solder = readAlloy(alloy ?? top.alloy, list);
  const cells =
    Math.ceil(size[0] / cell) *
    Math.ceil(size[1] / cell) *
    (layers.reduce((sum, layer) => sum + Math.max(1, Math.ceil(layer.thickness / CELL_HEIGHT)), 0) + 1);
  if (cells > MOST_CELLS)
    list.add("cell", `${cell} mm, which makes ${cells} cells`, `a cell that makes at most ${MOST_CELLS}`);
  list.throwIfAny();
  return {
    kind: "board",
    size,
    cell,
    start,
    h,
    layers,
    parts,
    heat,
    report,
    alloy: solder,
    liquidus: ALLOYS[solder].liquidus,
  };
}

function readAlloy(value: unknown, list: FaultList): Alloy {
  if (value === undefined) return "sac305";
  const names = Object.keys(ALLOYS);
  if (typeof value === "string" && names.includes(value)) return value as Alloy;
  list.add(
    "alloy",
    say(value),
    `one of ${names.join(", ")}`,
    typeof value === "string" ? nearest(value, names) : undefined,
  );
  return "sac305";
}

function pair(
  value: unknown,
  path: string,
  list: FaultList,
  expected: string,
  allowed: (x: number) => boolean,
): [number, number] {
  const items = list.array(value, path, 2, 2, "numbers");
  if (items === undefined) return [Number.NaN, Number.NaN];
  return [
    list.number(items[0], join(path, 0), expected, allowed),
    list.number(items[1], join(path, 1), expected, allowed),
  ];
}

function readLayer(value: unknown, path: string, list: FaultList): BoardLayer {
  const layer =
    list.object(value, path, ["name", "material", "thickness", "copper", "ring"], ["name", "material", "thickness"]) ??
    {};
  const material = boardMaterial(layer, path, list);
  const thickness = list.number(
    layer.thickness,
    join(path, "thickness"),
    "mm above zero",
    (x) => x >= 1e-3 && x <= 100,
  );
  const ring =
    layer.ring === undefined
      ? undefined
      : list.number(layer.ring, join(path, "ring"), "mm above zero along the edge", (x) => x > 0);
  return {
    name: list.text(layer.name, join(path, "name"), "a name"),
    material:
      layer.copper === undefined ? material : withCopper(material, layer.copper, thickness, join(path, "copper"), list),
    thickness,
    ...(ring === undefined ? {} : { ring }),
  };
}

function boardMaterial(from: Json, path: string, list: FaultList): BoardMaterial {
  const [material, id] = Object.hasOwn(from, "material")
    ? readMaterial(from.material, join(path, "material"), list)
    : [{ k: Number.NaN, rho: Number.NaN, cp: Number.NaN }, undefined];
  const entry = id === undefined ? undefined : materialEntry(id);
  return { ...material, kInPlane: entry?.kInPlane?.value ?? material.k };
}

/** Copper, Incropera/DeWitt Table A.1. */
const CU = { k: 401, rc: 8933 * 385 };

/**
 * Copper in a laminate: parallel rule along the layer, series rule through it (no vias). A number is the share of the
 * volume; `{ count, thickness, cover }` are foils in mm and their cover from 0 to 1.
 */
function withCopper(
  material: BoardMaterial,
  value: unknown,
  thickness: number,
  path: string,
  list: FaultList,
): BoardMaterial {
  let volume: number;
  let through: number;
  if (typeof value === "object" && value !== null && !Array.isArray(value)) {
    const keys = ["count", "thickness", "cover"];
    const foil = list.object(value, path, keys, keys) ?? {};
    const count = list.number(
      foil.count,
      join(path, "count"),
      "a whole number of foils",
      (x) => Number.isInteger(x) && x >= 0 && x <= 100,
    );
    const each = list.number(foil.thickness, join(path, "thickness"), "mm above zero", (x) => x > 0);
    const cover = list.number(foil.cover, join(path, "cover"), "a share from 0 to 1", (x) => x >= 0 && x <= 1);
    through = (count * each) / thickness;
    volume = through * cover;
    if (through > 1) list.add(path, `${count} foils of ${each} mm`, `less than the layer's ${thickness} mm`);
  } else {
    volume = list.number(
      value,
      path,
      "a share of the volume from 0 to 1, or { count, thickness, cover }",
      (x) => x >= 0 && x <= 1,
    );
    through = volume;
  }
  const rc = volume * CU.rc + (1 - volume) * material.rho * material.cp;
  const rho = volume * 8933 + (1 - volume) * material.rho;
  return {
    kInPlane: volume * CU.k + (1 - volume) * material.kInPlane,
    k: 1 / (through / CU.k + (1 - through) / material.k),
    rho,
    cp: rc / rho,
  };
}

function readPart(value: unknown, path: string, board: readonly [number, number], list: FaultList): BoardPart {
  const part =
    list.object(value, path, ["name", "at", "size", "material", "limit"], ["name", "at", "size", "material"]) ?? {};
  const at = pair(part.at, join(path, "at"), list, "mm on the board", (x) => x >= 0);
  const items = list.array(part.size, join(path, "size"), 3, 3, "lengths") ?? [];
  const [x, y, z] = [0, 1, 2].map((i) =>
    list.number(items[i], join(join(path, "size"), i), "mm above zero, at most 1000", (v) => v > 0 && v <= 1000),
  );
  for (const [axis, length] of [x, y].entries())
    if (at[axis] - length / 2 < -1e-9 || at[axis] + length / 2 > board[axis] + 1e-9)
      list.add(
        path,
        `a part from ${at[axis] - length / 2} to ${at[axis] + length / 2} mm along ${"xy"[axis]}`,
        `one that lies on the board of ${board[axis]} mm (\`at\` is its middle)`,
      );
  return {
    name: list.text(part.name, join(path, "name"), "a name"),
    at,
    size: [x, y, z],
    material: boardMaterial(part, path, list),
    ...(part.limit === undefined ? {} : { limit: temperature(part.limit, join(path, "limit"), list) }),
  };
}

function separate(parts: readonly BoardPart[], list: FaultList): void {
  const names = new Map<string, number>();
  for (const [i, part] of parts.entries()) {
    const before = names.get(part.name);
    if (before !== undefined)
      list.add(`parts[${i}].name`, quote(part.name), `a name of its own: parts[${before}] has this one`);
    names.set(part.name, i);
    for (let j = 0; j < i; j += 1) {
      const other = parts[j];
      const apart = [0, 1].some(
        (axis) => Math.abs(part.at[axis] - other.at[axis]) >= (part.size[axis] + other.size[axis]) / 2 - 1e-9,
      );
      if (!apart) list.add(`parts[${i}]`, `${part.name} standing in ${other.name}`, "parts side by side");
    }
  }
}

function readStage(value: unknown, path: string, board: readonly [number, number], list: FaultList): BoardStage {
  const stage = list.object(value, path, ["name", "seconds", "nozzle", "below"], ["seconds"]) ?? {};
  const seconds = list.number(stage.seconds, join(path, "seconds"), "seconds above zero", (x) => x > 0);
  const below =
    stage.below === undefined || stage.below === null
      ? undefined
      : readSource(stage.below, join(path, "below"), ["temperature", "h"], list);
  const nozzle =
    stage.nozzle === undefined || stage.nozzle === null
      ? undefined
      : readNozzle(stage.nozzle, join(path, "nozzle"), board, list);
  return { seconds, ...(nozzle === undefined ? {} : { nozzle }), ...(below === undefined ? {} : { below }) };
}

function readSource(
  value: unknown,
  path: string,
  keys: readonly string[],
  list: FaultList,
): { temperature: number; h: number } {
  const source = list.object(value, path, keys, ["temperature", "h"]) ?? {};
  return {
    temperature: temperature(source.temperature, join(path, "temperature"), list),
    h: list.number(source.h, join(path, "h"), "W/(m2.K), zero or more", (x) => x >= 0 && x <= 1e6),
  };
}

function readNozzle(value: unknown, path: string, board: readonly [number, number], list: FaultList): Nozzle {
  const keys = ["at", "size", "temperature", "h"];
  const source = readSource(value, path, keys, list);
  const raw = (typeof value === "object" && value !== null ? value : {}) as Json;
  const at = pair(raw.at, join(path, "at"), list, "mm on the board", (x) => x >= 0);
  if (at[0] > board[0] || at[1] > board[1])
    list.add(join(path, "at"), at.join(", "), `a place on the board of ${board.join(" x ")} mm`);
  const size = Array.isArray(raw.size)
    ? pair(raw.size, join(path, "size"), list, "mm above zero", (x) => x > 0)
    : list.number(raw.size, join(path, "size"), "mm: [x, y], or the diameter of a round nozzle", (x) => x > 0);
  return { at, size, ...source };
}
