/** What is away and undone along an order of work, in and back. */
import type { Joint, Part, TeardownRecord } from "../../record/index.ts";
import { Assemblies } from "../../structure/index.ts";

/** As much of an operation as a state depends on; way in and way back both have it. */
export interface Doing {
  readonly kind: "release" | "lift" | "shift" | "heat" | "close" | "refit" | "unshift";
  readonly joint?: string;
  readonly part?: string;
}

export interface BenchState {
  /** Parts lifted by themselves; what is within them is away with them. */
  readonly lifted: ReadonlySet<string>;
  readonly shifted: ReadonlySet<string>;
  readonly released: ReadonlySet<string>;
}

export const CLOSED_DEVICE: BenchState = { lifted: new Set(), shifted: new Set(), released: new Set() };

export function after(state: BenchState, doing: Doing): BenchState {
  const with_ = (set: ReadonlySet<string>, id: string | undefined) => (id === undefined ? set : new Set([...set, id]));
  const without = (set: ReadonlySet<string>, id: string | undefined) => new Set([...set].filter((one) => one !== id));
  switch (doing.kind) {
    case "release":
      return { ...state, released: with_(state.released, doing.joint) };
    case "close":
      return { ...state, released: without(state.released, doing.joint) };
    case "lift":
      return { ...state, lifted: with_(state.lifted, doing.part) };
    case "refit":
      return { ...state, lifted: without(state.lifted, doing.part) };
    case "shift":
      return { ...state, shifted: with_(state.shifted, doing.part) };
    case "unshift":
      return { ...state, shifted: without(state.shifted, doing.part) };
    case "heat":
      return state;
  }
}

/** The state before the first operation, and after each. */
export function statesAlong(start: BenchState, operations: readonly Doing[]): BenchState[] {
  const states = [start];
  for (const doing of operations) states.push(after(states.at(-1)!, doing));
  return states;
}

/** What can be seen and reached in a state; a doubted relation does not hide what it is asked about. */
export class Sight {
  private readonly assemblies: Assemblies;
  private readonly parts: ReadonlyMap<string, Part>;

  constructor(record: TeardownRecord) {
    this.assemblies = new Assemblies(record);
    this.parts = new Map(record.parts.map((part) => [part.id, part]));
  }

  away(part: string, state: BenchState): boolean {
    return this.assemblies.containing(part).some((one) => state.lifted.has(one));
  }

  /**
   * Can be put on a scale or between jaws with the others of `of`: away by itself, or in an assembly that is one of them. The
   * base is what is left when all else is away.
   */
  held(part: string, of: readonly string[], state: BenchState): boolean {
    if (this.parts.get(part)?.base === true)
      return [...this.parts.keys()].every(
        (id) => id === part || this.assemblies.of(part).has(id) || of.includes(id) || this.away(id, state),
      );
    return this.assemblies.containing(part).some((one) => state.lifted.has(one) && (one === part || of.includes(one)));
  }

  /** Not in the way of `of`: away, or tilted so that it is freed. */
  clear(part: string, of: string, state: BenchState): boolean {
    if (this.away(part, state)) return true;
    const shift = this.parts.get(part)?.shift;
    return state.shifted.has(part) && shift !== undefined && (shift.freeing.includes(of) || shift.freeing.length === 0);
  }

  private open(groups: readonly (readonly string[])[] | undefined, of: string, state: BenchState): boolean {
    if (groups === undefined || groups.length === 0) return true;
    return groups.some((group) => group.every((one) => this.clear(one, of, state)));
  }

  /** In its place, with nothing over it. */
  bare(part: string, state: BenchState): boolean {
    return !this.away(part, state) && this.open(this.parts.get(part)?.under, part, state);
  }

  reached(joint: Joint, state: BenchState): boolean {
    return this.open(joint.reach, joint.id, state);
  }

  /** Whether a look tells if the thing lies under one of the groups: one of them is bare, and the thing not away yet. */
  tells(of: string, groups: readonly (readonly string[])[], here: boolean, state: BenchState): boolean {
    return here && groups.flat().some((one) => one !== of && this.bare(one, state));
  }
}
