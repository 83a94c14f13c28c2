/**
 * The planning problem as a document of its own, `unseam-problem/1`: operations that need one another, tools, sides,
 * zones, and nothing of the bench besides. Read strictly: every fault is told at once, with its path and the nearest
 * right spelling. Seconds in, whole milliseconds inside.
 */
import { type Fault, InputFaults } from "../errors.ts";
import { nearest } from "../record/nearest.ts";
import { foundText } from "../record/schema-faults.ts";
import type { Move, Need, Objective, Operation, Problem, Zone } from "./problem.ts";
import { DEFAULT_READINGS } from "./problem.ts";

export const BARE_FORMAT = "unseam-problem/1";

/** The question a bare problem asks. */
export const BARE_OBJECTIVE: Objective = { least: "seconds", readings: DEFAULT_READINGS };

/** Longer than any work on a bench; sums of it stay exact. */
const MOST_SECONDS = 1e7;

const KEYS = {
  document: ["format", "operations", "setup", "start", "targets", "zones"],
  operation: ["id", "seconds", "tools", "side", "needs", "heat"],
  setup: ["fetch", "turn"],
  start: ["tools", "side"],
  zone: ["seconds", "soft", "by"],
} as const;

type Fields = { readonly [key: string]: unknown };

/** @throws InputFaults with every fault found */
export function readBare(document: unknown): Problem {
  const reader = new Reader();
  const problem = reader.problem(document);
  if (problem === null || reader.faults.length > 0) throw new InputFaults(reader.faults);
  return problem;
}

/** The order as the document's own names: ids of operations, and "heat:" with the zone. */
export function bareOrder(problem: Problem, moves: readonly Move[]): string[] {
  return moves.map((move) =>
    move.kind === "heat" ? `heat:${problem.zones[move.zone]!.id}` : problem.operations[move.operation]!.id,
  );
}

class Reader {
  readonly faults: Fault[] = [];
  private readonly tools = new Names();
  private readonly sides = new Names();

  problem(document: unknown): Problem | null {
    const top = this.fields("", document, KEYS.document);
    if (top === null) return null;
    if (top.format !== BARE_FORMAT) {
      const near = typeof top.format === "string" ? BARE_FORMAT : undefined;
      this.fault("format", foundText(top.format), JSON.stringify(BARE_FORMAT), near);
    }
    const setup = this.fields("setup", top.setup, KEYS.setup);
    const fetch = setup === null ? 0 : this.time("setup.fetch", setup.fetch);
    const turn = setup === null ? 0 : this.time("setup.turn", setup.turn);
    const start = top.start === undefined ? {} : this.fields("start", top.start, KEYS.start);
    const hand = this.toolSet("start.tools", start?.tools);
    const up = start?.side === undefined ? "back" : this.word("start.side", start.side);
    const side = this.sides.id(up ?? "back");
    const { zones, zoneIds } = this.zones(top.zones);
    const raw = this.list("operations", top.operations);
    const ids = this.ids(raw, zoneIds);
    const operations = raw.map((value, i) => this.operation(`operations[${i}]`, value, ids, zoneIds));
    const targets = this.targets(top.targets, ids);
    const start0 = { tools: hand, side };
    return { operations, zones, tools: this.tools.list, sides: this.sides.list, fetch, turn, start: start0, targets };
  }

  private zones(value: unknown): { zones: Zone[]; zoneIds: Map<string, number> } {
    const zoneIds = new Map<string, number>();
    if (value === undefined) return { zones: [], zoneIds };
    if (!isObject(value)) {
      this.fault("zones", foundText(value), "an object with a zone under each name");
      return { zones: [], zoneIds };
    }
    const zones = Object.entries(value).map(([id, zone], index): Zone => {
      zoneIds.set(id, index);
      const path = `zones.${id}`;
      const fields = this.fields(path, zone, KEYS.zone) ?? {};
      const soft = fields.soft === undefined ? null : this.time(`${path}.soft`, fields.soft);
      const by = fields.by === undefined ? null : this.word(`${path}.by`, fields.by);
      const ms = isObject(zone) ? this.time(`${path}.seconds`, fields.seconds) : 0;
      return { id, ms, soft, tools: by === null ? [] : [this.tools.id(by)], side: -1 };
    });
    return { zones, zoneIds };
  }

  private ids(raw: readonly unknown[], zoneIds: ReadonlyMap<string, number>): Map<string, number> {
    const ids = new Map<string, number>();
    for (const [i, value] of raw.entries()) {
      const path = `operations[${i}].id`;
      const id = isObject(value) ? this.word(path, value.id) : null;
      if (id === null) continue;
      const zone = id.startsWith("heat:") ? id.slice("heat:".length) : undefined;
      if (ids.has(id)) this.fault(path, `${JSON.stringify(id)} a second time`, "an id of its own for each operation");
      else if (zone !== undefined && zoneIds.has(zone)) {
        this.fault(path, JSON.stringify(id), `an id that is not the name of heating zone ${JSON.stringify(zone)}`);
      } else ids.set(id, i);
    }
    return ids;
  }

  private operation(
    path: string,
    value: unknown,
    ids: ReadonlyMap<string, number>,
    zoneIds: ReadonlyMap<string, number>,
  ): Operation {
    const fields = this.fields(path, value, KEYS.operation) ?? {};
    const side = fields.side === undefined ? null : this.word(`${path}.side`, fields.side);
    const heat = fields.heat === undefined ? null : this.word(`${path}.heat`, fields.heat);
    const zone = heat === null ? -1 : (zoneIds.get(heat) ?? -1);
    if (heat !== null && zone < 0) this.unknown(`${path}.heat`, heat, "a zone", zoneIds.keys());
    return {
      id: typeof fields.id === "string" ? fields.id : "",
      kind: "release",
      ms: isObject(value) ? this.time(`${path}.seconds`, fields.seconds) : 0,
      tools: this.toolSet(`${path}.tools`, fields.tools),
      side: side === null ? -1 : this.sides.id(side),
      needs: this.needs(`${path}.needs`, fields.needs, ids),
      zone,
      passes: false,
      clean: false,
      tray: false,
      risk: 0,
      bundle: [],
    };
  }

  private needs(path: string, value: unknown, ids: ReadonlyMap<string, number>): readonly Need[] {
    if (value === undefined) return [];
    const groups = this.list(path, value).map((group, g) =>
      this.list(`${path}[${g}]`, group).flatMap((id, a) => {
        const found = this.reference(`${path}[${g}][${a}]`, id, ids);
        return found === null ? [] : [[found]];
      }),
    );
    return groups.length === 0 ? [] : [groups];
  }

  private targets(value: unknown, ids: ReadonlyMap<string, number>): number[] {
    const list = this.list("targets", value);
    if (Array.isArray(value) && list.length === 0) this.fault("targets", "an empty list", "at least one operation");
    const targets = list.flatMap((id, i) => this.reference(`targets[${i}]`, id, ids) ?? []);
    return [...new Set(targets)];
  }

  private reference(path: string, value: unknown, ids: ReadonlyMap<string, number>): number | null {
    const id = this.word(path, value);
    if (id === null) return null;
    const found = ids.get(id);
    if (found === undefined) this.unknown(path, id, "the id of an operation", ids.keys());
    return found ?? null;
  }

  private toolSet(path: string, value: unknown): number[] {
    if (value === undefined) return [];
    const set = new Set<number>();
    for (const [i, tool] of this.list(path, value).entries()) {
      const name = this.word(`${path}[${i}]`, tool);
      if (name === null) continue;
      const id = this.tools.id(name);
      if (set.has(id)) this.fault(`${path}[${i}]`, `${JSON.stringify(name)} a second time`, "each tool once");
      set.add(id);
    }
    return [...set].sort((a, b) => a - b);
  }

  private fields(path: string, value: unknown, keys: readonly string[]): Fields | null {
    if (!isObject(value)) {
      this.fault(path, foundText(value), `an object with ${keys.join(", ")}`);
      return null;
    }
    for (const key of Object.keys(value)) {
      if (keys.includes(key)) continue;
      const at = path === "" ? key : `${path}.${key}`;
      this.fault(at, `the key ${JSON.stringify(key)}`, `one of the keys ${keys.join(", ")}`, nearest(key, keys));
    }
    return value;
  }

  private list(path: string, value: unknown): readonly unknown[] {
    if (Array.isArray(value)) return value;
    this.fault(path, foundText(value), "a list");
    return [];
  }

  private word(path: string, value: unknown): string | null {
    if (typeof value === "string" && value !== "") return value;
    this.fault(path, foundText(value), "text that is not empty");
    return null;
  }

  private time(path: string, value: unknown): number {
    if (typeof value === "number" && value >= 0 && value <= MOST_SECONDS) return Math.round(value * 1000);
    this.fault(path, foundText(value), `seconds from 0 to ${MOST_SECONDS}`);
    return 0;
  }

  private unknown(path: string, id: string, what: string, known: Iterable<string>): void {
    this.fault(path, foundText(id), what, nearest(id, known));
  }

  private fault(path: string, found: string, expected: string, near?: string): void {
    this.faults.push({ path, found, expected, ...(near === undefined ? {} : { nearest: near }) });
  }
}

class Names {
  readonly list: string[] = [];
  private readonly ids = new Map<string, number>();

  id(name: string): number {
    const known = this.ids.get(name);
    if (known !== undefined) return known;
    this.ids.set(name, this.list.length);
    return this.list.push(name) - 1;
  }
}

function isObject(value: unknown): value is Fields {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
