/**
 * The layer stack under the places of a record's zone: outlines say which parts lie there, levels how thick they are and
 * what gap is between them, materials how they conduct, bonds what fills a gap.
 *
 * Layers are named by their part's or joint's id, gaps "air 1", "air 2", … from the back. What had to be assumed is
 * collected and returned beside the stack. Errors: `InputFaults`, with paths into the record.
 */
import { InputFaults } from "../errors.ts";
import type { Joint, Part, Release, TeardownRecord } from "../record/index.ts";
import { nearest } from "../record/nearest.ts";
import { FaultList, join } from "./fault-list.ts";
import { type MaterialEntry, materialEntry, materialFromWords, materialOf } from "./materials.ts";
import { readProgramme, readWatches } from "./read-stack.ts";
import { planRounds, type RoundsControl } from "./rounds.ts";
import { SETTINGS } from "./settings.ts";
import { simulate } from "./simulate.ts";
import type { HeatStage, Layer, Line, Stack, Watch } from "./stack.ts";
import { warmWindow } from "./window.ts";

export interface ZoneStack {
  readonly stack: Stack;
  /** What the record does not say and was assumed. */
  readonly notes: string[];
  /** What of the layers the record does not give: materials, thicknesses, what is heated by what. Empty: all is given. */
  readonly missing: readonly string[];
}

type Zone = NonNullable<TeardownRecord["zones"]>[number];
type Point = readonly [number, number];

/** Gaps thinner than this are rounding of levels, mm. */
const NO_GAP = 0.005;
/** Thickness of a bond that nobody has measured, mm. Common practice, no source: 0.1 to 0.3. */
const USUAL_BOND = 0.15;
const BONDS: readonly Joint["kind"][] = ["adhesive", "tape", "debondable-adhesive", "seal"];

/** The stack of a zone. */
export function stackFromZone(record: TeardownRecord, id: string): ZoneStack {
  const zones = record.zones ?? [];
  const index = zones.findIndex((item) => item.id === id);
  const zone = zones[index];
  const list = new FaultList();
  if (zone === undefined) {
    const ids = zones.map((item) => item.id);
    list.add(
      "zones",
      `no zone ${JSON.stringify(id)}`,
      ids.length === 0 ? "zones in the record" : `one of ${ids.join(", ")}`,
      nearest(id, ids),
    );
    list.throwIfAny();
  }
  const notes: string[] = [];
  const missing: string[] = [];
  const path = join("zones", index);
  const start = roomOf(record, notes);
  const uses = usesOf(record, id);
  const front = hotFromFront(uses, notes);
  const lines = zone.lines.map((line, i): { name: string; layers: Layer[] } => {
    const layers = layersAt(record, line.at, notes, missing);
    if (layers.length === 0)
      list.add(
        join(join(path, "lines"), i),
        `nothing under ${line.at.join(", ")}`,
        "a place inside the outline of at least one part that has a level",
      );
    return { name: line.name, layers: front ? layers.reverse() : layers };
  });
  if (lines.length === 0) list.add(join(path, "lines"), "no lines", "at least one named place");
  const watch =
    zone.watch === undefined ? usualWatches(record, uses, lines, notes) : zoneWatches(zone, path, lines, start, list);
  const programme =
    zone.programme === undefined
      ? usualProgramme(uses, start, notes)
      : readProgramme(zone.programme, join(path, "programme"), list);
  list.throwIfAny();
  if (zone.programme === undefined && !uses.some(({ release }) => release.heat?.plate !== undefined))
    missing.push("the setting of the heat source");
  return { stack: { kind: "stack", start, lines: shareWatches(lines, watch), programme, report: [] }, notes, missing };
}

interface Use {
  readonly joint: Joint;
  readonly release: Release;
}

function usesOf(record: TeardownRecord, zone: string): Use[] {
  return record.joints.flatMap((joint) =>
    joint.releases.filter((release) => release.heat?.zone === zone).map((release) => ({ joint, release })),
  );
}

function hotFromFront(uses: readonly Use[], notes: string[]): boolean {
  const down = uses.map(({ release }) => release.heat?.down).find((side) => side !== undefined);
  const side = down ?? uses.map(({ joint }) => joint.side).find((item) => item !== undefined);
  if (side === "front") return true;
  if (side !== "back") notes.push("The record does not say from which face the zone is heated; the back was assumed.");
  return false;
}

function roomOf(record: TeardownRecord, notes: string[]): number {
  for (const session of record.sessions ?? []) {
    if (session.room?.unit === "degC") return session.room.value;
    if (session.room?.unit === "degF") return ((session.room.value - 32) * 5) / 9;
  }
  notes.push("The record does not give the room's temperature; 23 degC was assumed.");
  return 23;
}

/** Inside the outer ring and outside the holes; even-odd over all rings. */
export function covers(outline: Part["outline"], [x, y]: Point): boolean {
  if (outline === undefined) return false;
  let inside = false;
  for (const ring of outline) {
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
      const [xi, yi] = ring[i];
      const [xj, yj] = ring[j];
      if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
    }
  }
  return inside;
}

/** Layers under a place, from the back to the front. */
function layersAt(record: TeardownRecord, at: Point, notes: string[], missing: string[]): Layer[] {
  const parts = record.parts
    .filter((part) => part.level !== undefined && covers(part.outline, at))
    .sort((a, b) => a.level![0] - b.level![0] || a.level![1] - b.level![1]);
  const layers: Layer[] = [];
  let before: Part | undefined;
  let z = 0;
  let airs = 0;
  for (const part of parts) {
    const [from, to] = part.level!;
    const begin = before === undefined ? from : Math.max(from, z);
    if (to - begin < NO_GAP) {
      say(notes, `${part.id} lies within ${before?.id ?? "another part"} at ${at.join(", ")} and was left out there.`);
      continue;
    }
    if (before !== undefined) {
      if (z - from > NO_GAP)
        say(
          notes,
          `${part.id} and ${before.id} overlap by ${mm(z - from)} mm at ${at.join(", ")}; the later one was cut.`,
        );
      let gap = begin - z;
      const bond = bondBetween(record, before, part);
      if (bond !== undefined) {
        const thickness = bond.bond?.thickness ?? (gap > NO_GAP ? gap : USUAL_BOND);
        if (bond.bond?.thickness === undefined) {
          say(notes, `The thickness of ${bond.id} is not recorded; ${mm(thickness)} mm was assumed.`);
          say(missing, `the thickness of ${bond.id}`);
        }
        layers.push(layerOf(bond.id, bondMaterial(bond, notes), thickness));
        gap -= thickness;
      }
      if (gap > NO_GAP) {
        airs += 1;
        layers.push(layerOf(`air ${airs}`, materialEntry("air")!, gap));
      }
    }
    layers.push(layerOf(part.id, partMaterial(part, notes, missing), to - begin));
    before = part;
    z = to;
  }
  return layers;
}

function layerOf(name: string, entry: MaterialEntry, thickness: number): Layer {
  return { name, material: materialOf(entry), materialId: entry.id, thickness: Math.max(thickness, 1e-4) };
}

function mm(x: number): number {
  return Math.round(x * 1000) / 1000;
}

function say(notes: string[], text: string): void {
  if (!notes.includes(text)) notes.push(text);
}

/** A bond between two parts that lie next to each other, or between assemblies that they belong to. */
function bondBetween(record: TeardownRecord, a: Part, b: Part): Joint | undefined {
  const ofA = lineage(record, a);
  const ofB = lineage(record, b);
  return record.joints.find(
    (joint) =>
      BONDS.includes(joint.kind) &&
      joint.holds.some((id) => ofA.includes(id) && !ofB.includes(id)) &&
      joint.holds.some((id) => ofB.includes(id) && !ofA.includes(id)),
  );
}

function lineage(record: TeardownRecord, part: Part): string[] {
  const ids: string[] = [];
  for (let now: Part | undefined = part; now !== undefined && !ids.includes(now.id); ) {
    ids.push(now.id);
    const above: string | undefined = now.within;
    now = above === undefined ? undefined : record.parts.find(({ id }) => id === above);
  }
  return ids;
}

function bondMaterial(joint: Joint, notes: string[]): MaterialEntry {
  const id = joint.kind === "tape" || joint.kind === "seal" ? "psa_foam" : "psa_solid";
  say(notes, `${joint.id} was taken for ${id} of the property table (${joint.kind}); enter or fit its conductivity.`);
  return materialEntry(id)!;
}

const BY_ROLE: Readonly<Partial<Record<NonNullable<Part["role"]>, string>>> = {
  battery: "li_pouch",
  display: "glass_aluminosilicate",
  "back-cover": "glass_aluminosilicate",
  "protective-foil": "pet",
  board: "fr4",
  sensor: "fr4",
  frame: "al6013",
  bracket: "ss304",
  shield: "ss304",
  antenna: "pet",
  cable: "pet",
  coil: "cu",
  gasket: "psa_foam",
  motor: "ss304",
  hinge: "ss304",
  "sim-tray": "ss304",
};

function partMaterial(part: Part, notes: string[], missing: string[]): MaterialEntry {
  if (part.material !== undefined) {
    const entry = materialEntry(part.material) ?? materialFromWords(part.material);
    if (entry !== undefined) {
      if (entry.id !== part.material)
        say(notes, `${part.id}: "${part.material}" was taken for ${entry.id} of the property table.`);
      return entry;
    }
  }
  const id = (part.role && BY_ROLE[part.role]) ?? "pc";
  const found =
    part.material === undefined ? "no material is recorded" : `"${part.material}" is not in the property table`;
  say(notes, `${part.id}: ${found}; ${id} was assumed.`);
  say(missing, `the material of ${part.id}`);
  return materialEntry(id)!;
}

function zoneWatches(
  zone: Zone,
  path: string,
  lines: readonly { layers: Layer[] }[],
  start: number,
  list: FaultList,
): Watch[] {
  const names = [...new Set(lines.flatMap(({ layers }) => layers.map(({ name }) => name)))].map((name) => ({ name }));
  return readWatches(zone.watch, join(path, "watch"), names, start, list);
}

/** Each watch into every line that has its layer; from the second line on its name says which. */
function shareWatches(lines: readonly { name: string; layers: Layer[] }[], watch: readonly Watch[]): Line[] {
  const used = new Set<string>();
  return lines.map(({ name, layers }) => ({
    name,
    layers,
    watch: watch
      .filter((item) => layers.some((layer) => layer.name === item.layer))
      .map((item) => {
        const own = used.has(item.name) ? `${item.name} (${name})` : item.name;
        used.add(own);
        return { ...item, name: own };
      }),
  }));
}

function usualWatches(
  record: TeardownRecord,
  uses: readonly Use[],
  lines: readonly { layers: Layer[] }[],
  notes: string[],
): Watch[] {
  const present = new Set(lines.flatMap(({ layers }) => layers.map(({ name }) => name)));
  const found: Watch[] = [];
  for (const { joint, release } of uses) {
    if (!present.has(joint.id) || found.some((watch) => watch.layer === joint.id)) continue;
    found.push({
      name: `${joint.id}, inner face`,
      layer: joint.id,
      face: "far",
      soft: release.heat?.bond ?? SETTINGS.soft.value,
    });
  }
  const { plan, stop, countedAbove, counted, panel } = SETTINGS;
  for (const part of record.parts) {
    if (!present.has(part.id)) continue;
    if (part.role === "battery")
      found.push({
        name: part.name,
        layer: part.id,
        face: "near",
        plan: plan.value,
        stop: stop.value,
        counted: { above: countedAbove.value, seconds: counted.value },
      });
    if (part.role === "display") found.push({ name: part.name, layer: part.id, face: "near", stop: panel.value });
  }
  notes.push(
    "The zone watches nothing of its own; the bond, the cell and the panel were watched with the usual limits.",
  );
  return found;
}

function usualProgramme(uses: readonly Use[], start: number, notes: string[]): HeatStage[] {
  const heat = uses.map(({ release }) => release.heat).find((item) => item !== undefined);
  const temperature = heat?.plate ?? (heat?.bond ?? SETTINGS.soft.value) + 15;
  const seconds = heat?.seconds ?? 120;
  const h = SETTINGS.padContact.value;
  notes.push(`The zone has no programme; a pad of ${temperature} degC and ${h} W/(m2.K) for ${seconds} s was assumed.`);
  return [{ seconds: Math.max(seconds, 1), hot: { temperature, h }, cool: { temperature: start, h: 8 } }];
}

/** What a release needs of heat, computed from the layers. */
export type ReleaseHeat =
  | {
      readonly kind: "computed";
      /** Seconds of the first heating, and seconds for which the bond can be cut after it (null: over an hour). */
      readonly seconds: number;
      readonly soft: number | null;
      /** Heatings for the whole cut, and the time from the first heating's start to the end of the cut. */
      readonly rounds: number;
      readonly elapsed: number;
      readonly counted: number;
      readonly peak: number;
      readonly assumptions: readonly string[];
    }
  | { readonly kind: "none"; readonly why: string; readonly assumptions: readonly string[] };

/**
 * Heating time, soft time and rounds of a cut of `cut` seconds in a zone. Times to hundredths of a second.
 *
 * @throws InputFaults where the zone does not give the layers
 */
export function heatOfRelease(
  record: TeardownRecord,
  zone: string,
  cut: number,
  control: RoundsControl = {},
): ReleaseHeat {
  return heatOfStack(stackFromZone(record, zone), zone, cut, control);
}

/** The same for a zone's stack that is there already. */
export function heatOfStack(
  { stack, notes }: Pick<ZoneStack, "stack" | "notes">,
  zone: string,
  cut: number,
  control: RoundsControl = {},
): ReleaseHeat {
  if (!stack.lines.some((line) => line.watch.some((watch) => watch.soft !== undefined)))
    throw new InputFaults([
      {
        path: "zones",
        found: `no bond with a \`soft\` limit under the places of ${zone}`,
        expected: "a place where the bond lies, and a watch on it",
      },
    ]);
  const { refine } = simulate(stack);
  const window = warmWindow(stack, refine);
  if (window.kind === "none") return { kind: "none", why: window.why, assumptions: notes };
  const planned = planRounds(stack, cut, refine, control);
  if (planned.kind === "none") return { kind: "none", why: planned.why, assumptions: notes };
  const { heatings, elapsed, peak, counted, sequence } = planned.rounds;
  const [heat, work] = sequence;
  // The soft time of the first lift-off: its piece of cutting where the bond hardened during it.
  const soft = heatings > 1 ? work.to - work.from : softAfter(stack, refine, heat.to);
  const cents = (x: number) => Math.round(x * 100) / 100;
  return {
    kind: "computed",
    seconds: cents(heat.to),
    soft: soft === null ? null : Math.floor(soft * 100) / 100,
    rounds: heatings,
    elapsed: cents(elapsed),
    counted: cents(counted),
    peak,
    assumptions: notes,
  };
}

/** Seconds for which every bond stays soft when it is lifted off at `at`. */
function softAfter(stack: Stack, refine: readonly number[], at: number): number | null {
  const answer = warmWindow(stack, refine, at);
  return answer.kind === "window" ? answer.window.after : null;
}
