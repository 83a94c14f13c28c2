/**
 * What a valid record is: the schema, then what a schema cannot say. All faults are found at once, so the rules run on
 * whatever can be read, also where the schema has complained.
 */
import type { Fault } from "../errors.ts";
import { InputFaults } from "../errors.ts";
import { QUANTITY_DIMENSIONS, UNITS, unitsOf } from "../units/units.ts";
import { nearest } from "./nearest.ts";
import { TeardownRecord } from "./schema.ts";
import { foundText, schemaFaults } from "./schema-faults.ts";

/** Something that is not wrong, but that somebody should look at. */
export interface RecordWarning {
  readonly path: string;
  readonly text: string;
}

export type RecordCheck =
  | {
      readonly ok: true;
      readonly record: TeardownRecord;
      readonly faults: readonly [];
      readonly warnings: readonly RecordWarning[];
    }
  | { readonly ok: false; readonly faults: readonly Fault[]; readonly warnings: readonly RecordWarning[] };

/** Words that stand for something else in readings and claims and so are no ids. */
export const RESERVED_IDS = ["device", "zero", "glue", "screws", "SIM", "sibling"] as const;

type Loose = Record<string, unknown>;
const list = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);
const objects = (value: unknown): { item: Loose; index: number }[] =>
  list(value).flatMap((item, index) =>
    item !== null && typeof item === "object" && !Array.isArray(item) ? [{ item: item as Loose, index }] : [],
  );
const object = (value: unknown): Loose =>
  value !== null && typeof value === "object" && !Array.isArray(value) ? (value as Loose) : {};

/** Checks any value against the format and its rules. Never throws. */
export function checkRecord(value: unknown): RecordCheck {
  const faults = [...schemaFaults(TeardownRecord, value)];
  const root = object(value);
  const rules = new Rules(root, faults);
  rules.run();
  if (faults.length > 0) return { ok: false, faults: dedupe(faults), warnings: rules.warnings };
  return { ok: true, record: value as TeardownRecord, faults: [], warnings: rules.warnings };
}

/** The record, or all its faults thrown. @throws InputFaults */
export function requireRecord(value: unknown): TeardownRecord {
  const check = checkRecord(value);
  if (!check.ok) throw new InputFaults(check.faults);
  return check.record;
}

function dedupe(faults: readonly Fault[]): Fault[] {
  const seen = new Set<string>();
  return faults.filter((fault) => {
    const key = `${fault.path}\n${fault.found}\n${fault.expected}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

class Rules {
  readonly warnings: RecordWarning[] = [];
  private readonly root: Loose;
  private readonly faults: Fault[];
  private readonly parts = new Map<string, Loose>();
  private readonly joints = new Map<string, Loose>();
  private readonly tools = new Set<string>();
  private readonly ids = new Map<string, Set<string>>();

  constructor(root: Loose, faults: Fault[]) {
    this.root = root;
    this.faults = faults;
  }

  run(): void {
    this.uniqueIds();
    this.baseAndForest();
    this.partRules();
    this.jointRules();
    this.zoneRules();
    this.benchRules();
    this.describedRules();
    this.unitRules();
  }

  private fault(path: string, found: unknown, expected: string, near?: string): void {
    this.faults.push({ path, found: foundText(found), expected, ...(near === undefined ? {} : { nearest: near }) });
  }

  private uniqueIds(): void {
    const seen = new Map<string, string>();
    for (const kind of ["parts", "joints", "tools"] as const) {
      for (const { item, index } of objects(this.root[kind])) {
        if (typeof item.id !== "string") continue;
        const path = `${kind}[${index}].id`;
        const before = seen.get(item.id);
        if (before !== undefined) this.fault(path, item.id, `an id of its own (it stands at ${before} already)`);
        else seen.set(item.id, path);
        if ((RESERVED_IDS as readonly string[]).includes(item.id))
          this.fault(path, item.id, `an id that is none of the words ${RESERVED_IDS.join(", ")}`);
        if (kind === "parts" && !this.parts.has(item.id)) this.parts.set(item.id, item);
        if (kind === "joints" && !this.joints.has(item.id)) this.joints.set(item.id, item);
        if (kind === "tools") this.tools.add(item.id);
      }
    }
    for (const kind of [
      "sessions",
      "consumables",
      "instruments",
      "log",
      "readings",
      "claims",
      "media",
      "checks",
      "described",
      "zones",
    ]) {
      const own = new Map<string, number>();
      for (const { item, index } of objects(this.root[kind])) {
        if (typeof item.id !== "string") continue;
        const before = own.get(item.id);
        if (before !== undefined)
          this.fault(`${kind}[${index}].id`, item.id, `an id of its own (it stands at ${kind}[${before}].id already)`);
        else own.set(item.id, index);
      }
      this.ids.set(kind, new Set(own.keys()));
    }
  }

  /** One reference: must be a string that is among the known ids. */
  private refer(
    path: string,
    value: unknown,
    known: { has(id: string): boolean; keys(): Iterable<string> },
    what: string,
  ): void {
    if (typeof value !== "string" || known.has(value)) return;
    this.fault(path, value, `the id of ${what}`, nearest(value, known.keys()));
  }

  private referAll(
    path: string,
    value: unknown,
    known: { has(id: string): boolean; keys(): Iterable<string> },
    what: string,
  ): void {
    list(value).forEach((id, index) => this.refer(`${path}[${index}]`, id, known, what));
  }

  private groups(path: string, value: unknown): void {
    list(value).forEach((group, index) => this.referAll(`${path}[${index}]`, group, this.parts, "a part"));
  }

  private baseAndForest(): void {
    const bases = objects(this.root.parts).filter(({ item }) => item.base === true);
    if (Array.isArray(this.root.parts) && bases.length === 0) {
      this.faults.push({
        path: "parts",
        found: "no part with base: true",
        expected: "exactly one part that is the base",
      });
    }
    for (const { index } of bases.slice(1))
      this.fault(`parts[${index}].base`, true, `exactly one base (parts[${bases[0].index}] is one already)`);
    const baseId = bases[0]?.item.id;
    for (const { item, index } of objects(this.root.parts)) {
      const path = `parts[${index}].within`;
      this.refer(path, item.within, this.parts, "a part");
      if (item.within === undefined) continue;
      if (item.base === true) this.fault(path, item.within, "no `within` on the base: everything else is taken off it");
      if (typeof baseId === "string" && item.within === baseId)
        this.fault(path, item.within, "an assembly other than the base");
      const chain = new Set([item.id]);
      let here: unknown = item.within;
      while (typeof here === "string" && this.parts.has(here)) {
        if (chain.has(here)) {
          if (here === item.id) this.fault(path, item.within, "assemblies that do not contain themselves");
          break;
        }
        chain.add(here);
        here = this.parts.get(here)?.within;
      }
    }
  }

  private partRules(): void {
    for (const { item, index } of objects(this.root.parts)) {
      const path = `parts[${index}]`;
      this.groups(`${path}.under`, item.under);
      list(item.under).forEach((group, g) =>
        list(group).forEach((id, i) => {
          if (id === item.id) this.fault(`${path}.under[${g}][${i}]`, id, "a part other than itself");
        }),
      );
      const freeing = object(item.shift).freeing;
      list(freeing).forEach((id, i) => {
        this.refer(`${path}.shift.freeing[${i}]`, id, this.joints, "a joint");
        const joint = typeof id === "string" ? this.joints.get(id) : undefined;
        if (joint && Array.isArray(joint.releases) && joint.releases.length === 0) {
          this.fault(`${path}.shift.freeing[${i}]`, id, "a joint that has releases");
        }
      });
      this.referAll(`${path}.beneath`, item.beneath, this.parts, "a part");
      const brings = {
        has: (id: string) => this.joints.has(id) || this.tools.has(id),
        keys: () => [...this.joints.keys(), ...this.tools],
      };
      this.referAll(`${path}.spare.brings`, object(item.spare).brings, brings, "a joint or a tool");
      const level = list(item.level);
      if (typeof level[0] === "number" && typeof level[1] === "number" && level[0] >= level[1]) {
        this.warnings.push({
          path: `${path}.level`,
          text: `${this.nameOf(item)}: its level runs from ${level[0]} to ${level[1]}; the first should be nearer to the back face`,
        });
      }
    }
  }

  private nameOf(item: Loose): string {
    return typeof item.name === "string" ? item.name : String(item.id);
  }

  private jointRules(): void {
    let power: number | undefined;
    for (const { item, index } of objects(this.root.joints)) {
      const path = `joints[${index}]`;
      this.referAll(`${path}.holds`, item.holds, this.parts, "a part");
      const held = list(item.holds).filter((id) => typeof id === "string");
      if (held.length >= 2 && new Set(held).size < 2)
        this.fault(`${path}.holds`, held.join(", "), "at least two different parts");
      this.groups(`${path}.reach`, item.reach);
      if (item.power === true) {
        if (power !== undefined)
          this.fault(`${path}.power`, true, `at most one power joint (joints[${power}] is one already)`);
        else power = index;
      }
      const releases = objects(item.releases);
      for (const { item: release, index: r } of releases) {
        const at = `${path}.releases[${r}]`;
        this.referAll(
          `${at}.tools`,
          release.tools,
          { has: (id) => this.tools.has(id), keys: () => this.tools },
          "a tool",
        );
        this.refer(
          `${at}.heat.by`,
          object(release.heat).by,
          { has: (id) => this.tools.has(id), keys: () => this.tools },
          "a tool",
        );
        objects(release.harm).forEach(({ item: harm, index: h }) =>
          this.refer(`${at}.harm[${h}].part`, harm.part, this.parts, "a part"),
        );
        this.referAll(`${at}.destroys`, release.destroys, this.parts, "a part");
        const then = object(release.fails).then;
        if (
          typeof then === "number" &&
          (then === r || then >= releases.length || then < 0 || !Number.isInteger(then))
        ) {
          this.fault(
            `${at}.fails.then`,
            then,
            `the number of another release of this joint (0 to ${releases.length - 1}, not ${r})`,
          );
        }
      }
      const consumables = this.ids.get("consumables") ?? new Set<string>();
      objects(object(item.remake).uses).forEach(({ item: use, index: u }) =>
        this.refer(`${path}.remake.uses[${u}].consumable`, use.consumable, consumables, "a consumable"),
      );
      const each = object(item.screws).each;
      const count = typeof item.count === "number" ? item.count : 1;
      if (Array.isArray(each) && each.length > count) {
        this.warnings.push({
          path: `${path}.screws.each`,
          text: `joint ${String(item.id)}: ${each.length} screws are placed, but its count is ${count}`,
        });
      }
    }
  }

  /** Releases of one zone are done with the same heating. */
  private zoneRules(): void {
    const first = new Map<string, { heat: Loose; path: string }>();
    for (const { item, index } of objects(this.root.joints)) {
      for (const { item: release, index: r } of objects(item.releases)) {
        const heat = object(release.heat);
        if (typeof heat.zone !== "string") continue;
        const path = `joints[${index}].releases[${r}].heat`;
        const before = first.get(heat.zone);
        if (before === undefined) {
          first.set(heat.zone, { heat, path });
          continue;
        }
        for (const key of ["bond", "by", "down", "seconds", "soft"]) {
          if (heat[key] !== before.heat[key]) {
            this.fault(
              `${path}.${key}`,
              heat[key],
              `${foundText(before.heat[key])}, as at ${before.path}: releases of one zone are heated alike`,
            );
          }
        }
      }
    }
  }

  private benchRules(): void {
    const of = (kind: string): Set<string> => this.ids.get(kind) ?? new Set();
    const anything = new Set([...this.parts.keys(), ...this.joints.keys(), ...this.tools]);
    for (const kind of ["log", "readings", "claims", "media", "checks"]) {
      for (const { item, index } of objects(this.root[kind]))
        this.refer(`${kind}[${index}].session`, item.session, of("sessions"), "a session");
    }
    for (const { item, index } of objects(this.root.log)) {
      const path = `log[${index}]`;
      this.referAll(`${path}.parts`, item.parts, this.parts, "a part");
      this.referAll(`${path}.joints`, item.joints, this.joints, "a joint");
      this.refer(`${path}.tool`, item.tool, { has: (id) => this.tools.has(id), keys: () => this.tools }, "a tool");
      this.refer(`${path}.media`, item.media, of("media"), "a photograph or recording");
    }
    for (const { item, index } of objects(this.root.readings)) {
      const path = `readings[${index}]`;
      this.refer(`${path}.instrument`, item.instrument, of("instruments"), "an instrument");
      // A figure for another device names that device's parts, which are not in this record.
      if (item.record === undefined) {
        const measured = new Set([...this.parts.keys(), ...this.tools, "device", "zero"]);
        this.referAll(`${path}.of`, item.of, measured, 'a part or a tool, or "device" or "zero"');
        const worn = new Set([...anything, "glue", "screws", "SIM"]);
        this.referAll(`${path}.on`, item.on, worn, 'a part or a joint, or "glue", "screws" or "SIM"');
        this.referAll(`${path}.off`, item.off, worn, 'a part or a joint, or "glue", "screws" or "SIM"');
      }
    }
    for (const { item, index } of objects(this.root.claims)) {
      this.referAll(`claims[${index}].subject`, item.subject, new Set([...anything, "device"]), 'a part, or "device"');
    }
    for (const { item, index } of objects(this.root.checks))
      this.referAll(`checks[${index}].parts`, item.parts, this.parts, "a part");
  }

  private describedRules(): void {
    const zones = new Set<string>();
    for (const joint of this.joints.values()) {
      for (const { item } of objects(joint.releases))
        if (typeof object(item.heat).zone === "string") zones.add(object(item.heat).zone as string);
    }
    for (const { item, index } of objects(this.root.described)) {
      for (const { item: procedure, index: p } of objects(item.parts)) {
        this.refer(`described[${index}].parts[${p}].part`, procedure.part, this.parts, "a part");
        for (const { item: step, index: s } of objects(procedure.steps)) {
          const path = `described[${index}].parts[${p}].steps[${s}]`;
          this.referAll(
            `${path}.tools`,
            step.tools,
            { has: (id) => this.tools.has(id), keys: () => this.tools },
            "a tool",
          );
          list(step.operations).forEach((line, l) => this.describedLine(`${path}.operations[${l}]`, line, zones));
        }
      }
    }
  }

  private describedLine(path: string, line: unknown, zones: ReadonlySet<string>): void {
    if (typeof line !== "string") return;
    const words = /^(release|heat|lift|shift) (.+)$/.exec(line);
    if (!words) {
      this.fault(
        path,
        line,
        'an operation: "release JOINT", "release JOINT/1", "heat ZONE", "lift PART" or "shift PART"',
      );
      return;
    }
    const [, verb, what] = words;
    if (verb === "lift" || verb === "shift") this.refer(path, what, this.parts, "a part");
    else if (verb === "heat") this.refer(path, what, zones, "a zone that a release is heated in");
    else {
      if (this.joints.has(what)) return;
      const way = /^(.*)\/(\d+)$/.exec(what);
      const joint = way ? this.joints.get(way[1]) : undefined;
      if (!way || !joint) this.refer(path, way ? way[1] : what, this.joints, "a joint");
      else if (Number(way[2]) >= list(joint.releases).length) {
        this.fault(path, line, `one of the ${list(joint.releases).length} releases of ${way[1]}, counted from 0`);
      }
    }
  }

  private unitRules(): void {
    const device = object(this.root.device);
    const cell = object(device.cell);
    this.fits("device.cell.capacity", object(cell.capacity).unit, "capacity");
    this.fits("device.cell.voltage", object(cell.voltage).unit, "voltage");
    this.positive("device.cell.capacity.value", object(cell.capacity).value);
    this.positive("device.cell.voltage.value", object(cell.voltage).value);
    for (const { item, index } of objects(this.root.sessions))
      this.fits(`sessions[${index}].room`, object(item.room).unit, "temperature");
    for (const { item, index } of objects(this.root.joints))
      this.fits(`joints[${index}].screws.torque`, object(object(item.screws).torque).unit, "torque");
    const measured: Record<string, string> = {
      scale: "mass",
      caliper: "length",
      micrometer: "length",
      ruler: "length",
      thermocouple: "temperature",
      infrared: "temperature",
      stopwatch: "duration",
      "torque-driver": "torque",
    };
    for (const { item, index } of objects(this.root.instruments)) {
      const path = `instruments[${index}]`;
      const resolution = object(item.resolution);
      this.positive(`${path}.resolution.value`, resolution.value);
      const dimension = typeof item.kind === "string" ? measured[item.kind] : undefined;
      for (const key of ["resolution", "maxError", "repeatability", "sharedOffset"]) {
        const quantity = object(item[key]);
        if (dimension) this.fits(`${path}.${key}`, quantity.unit, dimension);
        else if (key !== "resolution") this.sameDimension(`${path}.${key}`, quantity.unit, resolution.unit);
        if (key !== "resolution" && typeof quantity.value === "number" && quantity.value < 0)
          this.fault(`${path}.${key}.value`, quantity.value, "a number of at least 0");
      }
    }
    for (const { item, index } of objects(this.root.readings)) this.readingUnits(`readings[${index}]`, item);
    for (const { item, index } of objects(this.root.claims)) {
      const implied = impliedQuantity(item);
      if (implied && item.unit !== undefined && item.relation !== "fraction" && item.unit !== "%")
        this.fits(`claims[${index}].unit`, item.unit, QUANTITY_DIMENSIONS[implied], true);
      if (item.relation === "fraction" && item.unit !== undefined && item.unit !== "1" && item.unit !== "%")
        this.fault(`claims[${index}].unit`, item.unit, "1 or % (a fraction)");
    }
  }

  private readingUnits(path: string, reading: Loose): void {
    const quantity = reading.quantity;
    if (typeof quantity !== "string" || !(quantity in QUANTITY_DIMENSIONS)) return;
    const dimension = QUANTITY_DIMENSIONS[quantity as keyof typeof QUANTITY_DIMENSIONS];
    this.fits(`${path}.unit`, reading.unit, dimension, true);
    if (list(reading.of).includes("zero")) return;
    if (dimension === "mass" || dimension === "length" || dimension === "area") {
      list(reading.values).forEach((value, index) => this.positive(`${path}.values[${index}]`, value));
    }
  }

  private positive(path: string, value: unknown): void {
    if (typeof value === "number" && Number.isFinite(value) && value <= 0) this.fault(path, value, "a number above 0");
  }

  private fits(path: string, unit: unknown, dimension: string, bare = false): void {
    if (typeof unit !== "string" || !(unit in UNITS)) return;
    if (UNITS[unit as keyof typeof UNITS].dimension !== dimension) {
      this.fault(
        bare ? path : `${path}.unit`,
        unit,
        `a unit of ${dimension}: ${unitsOf(dimension as never).join(", ")}`,
      );
    }
  }

  private sameDimension(path: string, unit: unknown, other: unknown): void {
    if (typeof unit !== "string" || typeof other !== "string" || !(unit in UNITS) || !(other in UNITS)) return;
    this.fits(path, unit, UNITS[other as keyof typeof UNITS].dimension);
  }
}

/** lighter and heavier mean mass, thinner and thicker thickness, whatever else the claim leaves out. */
function impliedQuantity(claim: Loose): keyof typeof QUANTITY_DIMENSIONS | undefined {
  if (typeof claim.quantity === "string" && claim.quantity in QUANTITY_DIMENSIONS)
    return claim.quantity as keyof typeof QUANTITY_DIMENSIONS;
  if (claim.relation === "lighter" || claim.relation === "heavier") return "mass";
  if (claim.relation === "thinner" || claim.relation === "thicker") return "thickness";
  return undefined;
}
