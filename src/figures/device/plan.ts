/** The plan: what lies bare, to scale, with screws as crosses and the names of the parts. */
import { circle, group, type Look, path, polygon, polyline, type Shape, text } from "../scene.ts";
import { type BareGrid, bareGrid } from "./bare.ts";
import type { DrawingInput } from "./drawing.ts";
import { labelSpot } from "./label-place.ts";
import type { Layout } from "./layout.ts";
import { LABEL_SIZE, type LeaderName, placeLeaders } from "./leaders.ts";
import type { PlacedDevice, PlacedPart, PlacedScrew } from "./placed.ts";

/** A part that can be chosen in the plan, at the middle of its bare area, in px of the sheet. */
export interface Choice {
  readonly part: string;
  readonly name: string;
  readonly x: number;
  readonly y: number;
}

export interface Plan {
  readonly shapes: readonly Shape[];
  readonly choices: readonly Choice[];
  /** Parts that lie bare and whose name found no room. */
  readonly unnamed: readonly string[];
}

/** Outline of a part by what it is to the reader: chosen, on the way in, already away, or just there. */
export function outlineLook(input: DrawingInput, id: string): Look {
  if (input.chosen.has(id)) return { stroke: "accent", weight: "bold" };
  if (input.way.has(id)) return { stroke: "accent", weight: "line", dash: "way" };
  return { stroke: "ink", weight: "hair" };
}

const GRID = 110;
const NOTHING: ReadonlySet<number> = new Set();

export function drawPlan(device: PlacedDevice, layout: Layout, input: DrawingInput): Plan {
  const long = Math.max(device.bounds.x1 - device.bounds.x0, device.bounds.y1 - device.bounds.y0);
  const grid = bareGrid(device, input.away, input.depth, input.seen, Math.max(long / GRID, 0.4));
  const place = (rings: PlacedPart["rings"]) => rings.map((ring) => ring.map(([x, y]) => layout.at(x, y)));
  const shapes: Shape[] = [];
  const bare = grid.present.filter((_, i) => grid.count[i]! > 0);
  for (const part of [...bare].reverse()) {
    const look = outlineLook(input, part.id);
    shapes.push(
      group(
        [polygon(place(part.rings), { ...look, fill: part.hatch ?? "sheet" })],
        { part: part.id },
        part.base ? `${part.name}, what everything else is taken off` : part.name,
      ),
    );
  }
  // The body's edge stays the heaviest line, whatever lies over it.
  const base = device.parts.find((part) => part.base);
  if (base) shapes.push(polygon(place([base.rings[0]!]), { stroke: "ink", weight: "line" }));
  shapes.push(...cableShapes(device, layout, input, grid));
  const screws = device.screws.filter((screw) => isBare(screw, grid, input));
  shapes.push(...screws.map((screw) => screwShape(screw, layout, input)));
  shapes.push(...coveredShapes(device, layout, input, bare));
  if (input.quiet) return { shapes, choices: [], unnamed: [] };
  const names = nameShapes(device, layout, input, grid, screws);
  return { shapes: [...shapes, ...names.shapes], choices: names.choices, unnamed: names.unnamed };
}

function cellOf(grid: BareGrid, x: number, y: number): number {
  const column = Math.floor((x - grid.x0) / grid.cell);
  const row = Math.floor((y - grid.y0) / grid.cell);
  if (column < 0 || row < 0 || column >= grid.columns || row >= grid.rows) return -1;
  return row * grid.columns + column;
}

/** The part that lies bare at a place in mm, or undefined outside the device. */
function ownerAt(grid: BareGrid, x: number, y: number): PlacedPart | undefined {
  const cell = cellOf(grid, x, y);
  return cell < 0 || grid.owner[cell]! < 0 ? undefined : grid.present[grid.owner[cell]!];
}

const TOUCH = 1e-6;

/** Whether something nearer to the eye than the level covers the place. */
function isCovered(
  grid: BareGrid,
  x: number,
  y: number,
  level: readonly [number, number],
  input: DrawingInput,
): boolean {
  const owner = ownerAt(grid, x, y);
  if (owner === undefined || owner.base) return false;
  return input.seen === "back" ? owner.level[0] < level[0] - TOUCH : owner.level[1] > level[1] + TOUCH;
}

function isBare(screw: PlacedScrew, grid: BareGrid, input: DrawingInput): boolean {
  if (input.released.has(screw.joint)) return false;
  if (screw.side === (input.seen === "back" ? "front" : "back")) return false;
  const held = grid.present.filter((part) => screw.holds.includes(part.id));
  if (held.filter((part) => !part.base).length === 0) return false;
  const owner = ownerAt(grid, ...screw.at);
  if (owner !== undefined && screw.holds.includes(owner.id)) return true;
  return !isCovered(grid, ...screw.at, [screw.near, screw.far], input);
}

const SCREW = 4.2;

function screwShape(screw: PlacedScrew, layout: Layout, input: DrawingInput): Shape {
  const [x, y] = layout.at(...screw.at);
  const stroke = input.wayJoints.has(screw.joint) ? "accent" : "ink";
  const arm = SCREW * 0.62;
  return group(
    [
      circle(x, y, SCREW, { stroke, weight: "thin", fill: "paper" }),
      path(
        [
          ["M", x - arm, y],
          ["L", x + arm, y],
          ["M", x, y - arm],
          ["L", x, y + arm],
        ],
        { stroke, weight: "thin" },
      ),
    ],
    { joint: screw.joint },
  );
}

/** A cable's run where nothing lies over it. */
function cableShapes(device: PlacedDevice, layout: Layout, input: DrawingInput, grid: BareGrid): Shape[] {
  return device.cables.flatMap((cable) => {
    if (input.away.has(cable.part)) return [];
    const level = cable.level;
    if (level !== null && (input.seen === "back" ? level[1] <= input.depth : level[0] >= input.depth)) return [];
    const runs: (readonly [number, number])[][] = [[]];
    for (const [x, y] of cable.points)
      if (level !== null && isCovered(grid, x, y, level, input)) runs.push([]);
      else runs.at(-1)!.push(layout.at(x, y));
    const look = outlineLook(input, cable.part);
    return runs
      .filter((run) => run.length > 1)
      .map((run) => group([polyline(run, { ...look, weight: "line" })], { part: cable.part }));
  });
}

/** What was chosen but lies under something else: its outline, dotted, so that one sees where to go. */
function coveredShapes(
  device: PlacedDevice,
  layout: Layout,
  input: DrawingInput,
  bare: readonly PlacedPart[],
): Shape[] {
  return device.parts
    .filter((part) => input.chosen.has(part.id) && !bare.includes(part))
    .map((part) =>
      polygon(
        part.rings.map((ring) => ring.map(([x, y]) => layout.at(x, y))),
        input.away.has(part.id)
          ? { stroke: "soft", weight: "line", dash: "away", faint: true }
          : { stroke: "accent", weight: "line", dash: "dot" },
      ),
    );
}

function nameShapes(
  device: PlacedDevice,
  layout: Layout,
  input: DrawingInput,
  grid: BareGrid,
  screws: readonly PlacedScrew[],
): Plan {
  const pixels = grid.cell * layout.scale;
  const blocked = new Set<number>();
  const reach = (SCREW + 1) / layout.scale;
  for (const { at } of screws)
    for (let x = at[0] - reach; x <= at[0] + reach; x += grid.cell / 2)
      for (let y = at[1] - reach; y <= at[1] + reach; y += grid.cell / 2) blocked.add(cellOf(grid, x, y));
  const shapes: Shape[] = [];
  const choices: Choice[] = [];
  const leaders: LeaderName[] = [];
  grid.present.forEach((part, index) => {
    if (grid.count[index] === 0) return;
    const chosen = input.chosen.has(part.id);
    const clear = labelSpot(grid, index, part.name, chosen, LABEL_SIZE, pixels, blocked);
    // Over a screw's edge is better than out on a leader.
    const spot = clear?.lines ? clear : labelSpot(grid, index, part.name, chosen, LABEL_SIZE, pixels, NOTHING);
    if (spot === null) return;
    // Cells are square in mm: through the plan's own mapping, so that the mirrored view is right too.
    const [x, y] = layout.at(grid.x0 + spot.column * grid.cell, grid.y0 + spot.row * grid.cell);
    if (!part.base || grid.count[index]! > 12) choices.push({ part: part.id, name: part.name, x, y });
    const tone = chosen ? "accent" : "ink";
    if (spot.lines === null) {
      if (part.base && !chosen) return;
      const weight = chosen ? 1e9 : input.way.has(part.id) ? 1e6 + part.area : part.area;
      leaders.push({ part: part.id, name: part.name, x, y, weight, tone, bold: chosen });
      return;
    }
    const rows = spot.lines;
    shapes.push(
      group(
        rows.map((words, row) => {
          const shift = (row - (rows.length - 1) / 2) * (LABEL_SIZE + 2) + LABEL_SIZE * 0.34;
          return text(spot.upright ? x + LABEL_SIZE * 0.34 : x, spot.upright ? y : y + shift, words, {
            size: LABEL_SIZE,
            anchor: "middle",
            tone,
            halo: true,
            ...(chosen ? { bold: true as const } : {}),
            ...(spot.upright ? { rotate: -90 } : {}),
          });
        }),
        { part: part.id },
      ),
    );
  });
  for (const part of device.parts) {
    const hidden = !grid.present.includes(part) || grid.count[grid.present.indexOf(part)] === 0;
    if (!input.chosen.has(part.id) || !hidden) continue;
    const [x, y] = layout.at((part.bounds.x0 + part.bounds.x1) / 2, (part.bounds.y0 + part.bounds.y1) / 2);
    const state = input.away.has(part.id) || !grid.present.includes(part) ? "away" : "covered";
    leaders.push({ part: part.id, name: `${part.name}, ${state}`, x, y, weight: 1e9, tone: "accent", bold: true });
  }
  const placed = placeLeaders(layout, leaders);
  return { shapes: [...shapes, ...placed.shapes], choices, unnamed: placed.left };
}
