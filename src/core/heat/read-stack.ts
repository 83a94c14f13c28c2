/**
 * Reads `unseam-stack/1`: strict, every fault at once.
 *
 * Errors: `InputFaults` with path, found, expected and the nearest right spelling.
 */
import { nearest } from "../record/nearest.ts";
import { FaultList, join, quote, say } from "./fault-list.ts";
import { type Material, materialEntry, materialOf, nearestMaterials } from "./materials.ts";
import type { End, HeatStage, Layer, Line, Stack, Watch } from "./stack.ts";

export const STACK_FORMAT = "unseam-stack/1";
/** More layers than any device has; beyond it the file is not a stack. */
export const MOST_LAYERS = 200;
const MOST_STAGES = 1000;
const MOST_REPORTS = 100_000;
const MOST_LINES = 50;
/** A week: longer programmes are a slip of units. */
const MOST_SECONDS = 604_800;

const TOP = ["format", "name", "note", "start", "layers", "programme", "watch", "report", "beside"];

export function readStack(value: unknown): Stack {
  const list = new FaultList();
  const top = list.object(value, "", TOP, ["format", "start", "layers", "programme", "watch"]);
  if (top === undefined) {
    list.throwIfAny();
    throw new Error("unreachable");
  }
  if (Object.hasOwn(top, "format") && top.format !== STACK_FORMAT)
    list.add("format", say(top.format), quote(STACK_FORMAT), STACK_FORMAT);
  const start = readStart(top, list);
  const lines: Line[] = [
    {
      name: typeof top.name === "string" ? top.name : "stack",
      layers: readLayers(top.layers, "layers", list),
      watch: readWatches(top.watch, "watch", top.layers, start, list),
    },
  ];
  if (top.beside !== undefined) {
    const beside = list.array(top.beside, "beside", 0, MOST_LINES, "lines") ?? [];
    for (const [i, item] of beside.entries()) {
      const path = join("beside", i);
      const line = list.object(item, path, ["name", "layers", "watch"], ["name", "layers", "watch"]);
      if (line === undefined) continue;
      lines.push({
        name: list.text(line.name, join(path, "name"), "a name"),
        layers: readLayers(line.layers, join(path, "layers"), list),
        watch: readWatches(line.watch, join(path, "watch"), line.layers, start, list),
      });
    }
  }
  oneName(lines, list);
  const programme = readProgramme(top.programme, "programme", list);
  const report = readReport(top.report, programme, list);
  list.throwIfAny();
  return { kind: "stack", start, lines, programme, report };
}

function readStart(top: Readonly<Record<string, unknown>>, list: FaultList): number {
  return Object.hasOwn(top, "start") ? temperature(top.start, "start", list) : Number.NaN;
}

export function temperature(value: unknown, path: string, list: FaultList): number {
  return list.number(value, path, "degrees Celsius from -273.15 to 3000", (x) => x >= -273.15 && x <= 3000);
}

export function readLayers(value: unknown, path: string, list: FaultList): Layer[] {
  if (value === undefined) return [];
  const items = list.array(value, path, 1, MOST_LAYERS, "layers") ?? [];
  return items.map((item, i) => readLayer(item, join(path, i), list));
}

function readLayer(value: unknown, path: string, list: FaultList): Layer {
  const keys = ["name", "material", "thickness", "contactAfter"];
  const layer = list.object(value, path, keys, keys.slice(0, 3)) ?? {};
  const [material, materialId] = Object.hasOwn(layer, "material")
    ? readMaterial(layer.material, join(path, "material"), list)
    : [NOTHING, undefined];
  const thickness = Object.hasOwn(layer, "thickness")
    ? list.number(
        layer.thickness,
        join(path, "thickness"),
        "mm from 0.0001 to 10000, above zero",
        (x) => x >= 1e-4 && x <= 1e4,
      )
    : Number.NaN;
  const contact =
    layer.contactAfter === undefined
      ? undefined
      : list.number(
          layer.contactAfter,
          join(path, "contactAfter"),
          "W/(m2.K) above zero (leave it out for perfect contact)",
          (x) => x >= 1e-3 && x <= 1e12,
        );
  return {
    name: Object.hasOwn(layer, "name") ? list.text(layer.name, join(path, "name"), "a name") : "",
    material,
    thickness,
    ...(materialId === undefined ? {} : { materialId }),
    ...(contact === undefined ? {} : { contactAfter: contact }),
  };
}

const NOTHING: Material = { k: Number.NaN, rho: Number.NaN, cp: Number.NaN };

/** An id of the property table, or `{ k, rho, cp }`. */
export function readMaterial(value: unknown, path: string, list: FaultList): [Material, string | undefined] {
  if (typeof value === "string") {
    const entry = materialEntry(value);
    if (entry !== undefined) return [materialOf(entry), entry.id];
    const near = nearestMaterials(value);
    list.add(
      path,
      `the unknown material ${quote(value)}`,
      "an id of the property table (`unseam warm --materials` lists them), or { k, rho, cp }",
      near.length === 0 ? undefined : near.join(", "),
    );
    return [NOTHING, undefined];
  }
  const given = list.object(value, path, ["k", "rho", "cp"], ["k", "rho", "cp"]);
  if (given === undefined) return [NOTHING, undefined];
  const positive = (key: string, unit: string, least: number, most: number) =>
    Object.hasOwn(given, key)
      ? list.number(given[key], join(path, key), `${unit} from ${least} to ${most}`, (x) => x >= least && x <= most)
      : Number.NaN;
  return [
    {
      k: positive("k", "W/(m.K)", 1e-4, 1e5),
      rho: positive("rho", "kg/m3", 1e-3, 1e5),
      cp: positive("cp", "J/(kg.K)", 1, 1e5),
    },
    undefined,
  ];
}

export function readWatches(value: unknown, path: string, layers: unknown, start: number, list: FaultList): Watch[] {
  if (value === undefined) return [];
  const names = Array.isArray(layers)
    ? layers.map((layer) =>
        typeof layer === "object" && layer !== null ? (layer as { name?: unknown }).name : undefined,
      )
    : [];
  const items = list.array(value, path, 0, 1000, "watched faces") ?? [];
  return items.map((item, i) => readWatch(item, join(path, i), names, start, list));
}

function readWatch(value: unknown, path: string, layers: readonly unknown[], start: number, list: FaultList): Watch {
  const keys = ["name", "layer", "face", "soft", "plan", "stop", "counted"];
  const watch = list.object(value, path, keys, keys.slice(0, 3)) ?? {};
  const limit = (key: "soft" | "plan" | "stop") =>
    watch[key] === undefined ? undefined : temperature(watch[key], join(path, key), list);
  const soft = limit("soft");
  const plan = limit("plan");
  const stop = limit("stop");
  if (stop !== undefined && stop < start)
    list.add(join(path, "stop"), `a stop of ${stop} degC`, `a stop at or above the start of ${start} degC`);
  if (plan !== undefined && stop !== undefined && plan > stop)
    list.add(join(path, "plan"), `a plan limit of ${plan} degC`, `one at or below the stop of ${stop} degC`);
  const layer = Object.hasOwn(watch, "layer") ? list.text(watch.layer, join(path, "layer"), "the name of a layer") : "";
  const places = layers.filter((name) => name === layer).length;
  if (layer !== "" && layers.length > 0 && places !== 1) {
    const known = layers.filter((name): name is string => typeof name === "string");
    if (places === 0)
      list.add(
        join(path, "layer"),
        quote(layer),
        `a layer of this line: ${known.slice(0, 12).join(", ")}`,
        nearest(layer, known),
      );
    else
      list.add(join(path, "layer"), `${quote(layer)}, which ${places} layers are called`, "a name that one layer has");
  }
  if (Object.hasOwn(watch, "face") && watch.face !== "near" && watch.face !== "far")
    list.add(join(path, "face"), say(watch.face), '"near" (towards the hot side) or "far"');
  return {
    name: Object.hasOwn(watch, "name") ? list.text(watch.name, join(path, "name"), "a name") : "",
    layer,
    face: watch.face === "far" ? "far" : "near",
    ...(soft === undefined ? {} : { soft }),
    ...(plan === undefined ? {} : { plan }),
    ...(stop === undefined ? {} : { stop }),
    ...(watch.counted === undefined ? {} : { counted: readCounted(watch.counted, join(path, "counted"), list) }),
  };
}

function readCounted(value: unknown, path: string, list: FaultList): { above: number; seconds: number } {
  const counted = list.object(value, path, ["above", "seconds"], ["above", "seconds"]) ?? {};
  return {
    above: Object.hasOwn(counted, "above") ? temperature(counted.above, join(path, "above"), list) : Number.NaN,
    seconds: Object.hasOwn(counted, "seconds")
      ? list.number(counted.seconds, join(path, "seconds"), "seconds, zero or more", (x) => x >= 0)
      : Number.NaN,
  };
}

/** Answers name a watch and nothing else, so a name stands for one. */
function oneName(lines: readonly Line[], list: FaultList): void {
  const seen = new Map<string, string>();
  for (const [l, line] of lines.entries()) {
    for (const [w, watch] of line.watch.entries()) {
      const path = `${l === 0 ? "" : `beside[${l - 1}].`}watch[${w}].name`;
      const before = seen.get(watch.name);
      if (watch.name !== "" && before !== undefined)
        list.add(path, quote(watch.name), `a name of its own: ${before} has this one`);
      else seen.set(watch.name, path);
    }
  }
}

export function readProgramme(value: unknown, path: string, list: FaultList): HeatStage[] {
  if (value === undefined) return [];
  if (Array.isArray(value) && value.length === 0) {
    list.add(path, "a programme of no length", "at least one stage with its seconds");
    return [];
  }
  const items = list.array(value, path, 1, MOST_STAGES, "stages") ?? [];
  const stages = items.map((item, i) => readStage(item, join(path, i), list));
  const total = stages.reduce((sum, stage) => sum + stage.seconds, 0);
  if (total > MOST_SECONDS) list.add(path, `a programme of ${total} s`, `at most ${MOST_SECONDS} s (a week)`);
  return stages;
}

function readStage(value: unknown, path: string, list: FaultList): HeatStage {
  const stage = list.object(value, path, ["name", "seconds", "hot", "cool"], ["seconds", "hot", "cool"]) ?? {};
  return {
    seconds: Object.hasOwn(stage, "seconds")
      ? list.number(
          stage.seconds,
          join(path, "seconds"),
          "seconds above zero (a stage of no length heats nothing)",
          (x) => x > 0,
        )
      : Number.NaN,
    hot: readEnd(stage.hot, join(path, "hot"), list),
    cool: readEnd(stage.cool, join(path, "cool"), list),
  };
}

export function readEnd(value: unknown, path: string, list: FaultList): End {
  if (value === undefined) return { temperature: Number.NaN, h: 0 };
  const end = list.object(value, path, ["temperature", "h"], ["h"]) ?? {};
  const h =
    end.h === null || !Object.hasOwn(end, "h")
      ? null
      : list.number(
          end.h,
          join(path, "h"),
          "W/(m2.K), zero (insulated) or more, or null (held)",
          (x) => x >= 0 && x <= 1e12,
        );
  // An insulated face meets no surrounding, so its temperature may be left out.
  if (h === 0 && end.temperature === undefined) return { temperature: 0, h };
  return { temperature: temperature(end.temperature, join(path, "temperature"), list), h };
}

function readReport(value: unknown, programme: readonly HeatStage[], list: FaultList): number[] {
  if (value === undefined) return [];
  const length = programme.reduce((sum, stage) => sum + stage.seconds, 0);
  const items = list.array(value, "report", 0, MOST_REPORTS, "times") ?? [];
  // Stage lengths such as 0.1 + 0.2 do not sum to 0.3 exactly.
  const slack = 1e-9 * Math.max(1, length);
  return items.map((item, i) =>
    list.number(
      item,
      join("report", i),
      `seconds from 0 to the programme's length of ${length} s`,
      (x) => x >= 0 && (Number.isNaN(length) || x <= length + slack),
    ),
  );
}
