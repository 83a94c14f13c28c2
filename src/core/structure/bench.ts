/**
 * The rules of the bench stated on the record itself, one operation at a time.
 *
 * This is the check on the compiler and the solvers: it shares no code with `compile.ts`, and keeps to the words of the
 * planning rules. It costs more than they do and is meant for replaying an order, not for finding one.
 */
import type { Joint, Release, Side } from "../record/index.ts";
import { isLiveWork, onTheWayToPower, powerJoint } from "./power.ts";
import { isAway, reachable } from "./reach.ts";
import { liftTime, releaseTime, SET_A, shiftTime, type ZoneTime } from "./times.ts";
import { allowed, holding, reachOf, standing, underOf, type View } from "./view.ts";
import { warmZone } from "./warm-zones.ts";

export type BenchOperation =
  | { readonly kind: "release"; readonly joint: string; readonly release: number; readonly passes?: number }
  | { readonly kind: "lift" | "shift"; readonly part: string }
  | { readonly kind: "heat"; readonly zone: string };

/** Everything that decides what may come next and what it costs. Times in ms. */
export interface BenchState {
  readonly released: ReadonlySet<string>;
  readonly lifted: ReadonlySet<string>;
  readonly shifted: ReadonlySet<string>;
  readonly hand: readonly string[];
  readonly side: Side;
  /** When each zone's last heating ended; absent: cold. */
  readonly heated: ReadonlyMap<string, number>;
  readonly now: number;
  readonly open: boolean;
  readonly steps: number;
}

export interface Done {
  readonly state: BenchState;
  /** When its own work began. */
  readonly at: number;
  readonly ms: number;
  readonly fetch: readonly string[];
  readonly turn: boolean;
}

export type Outcome = { readonly ok: true; readonly done: Done } | { readonly ok: false; readonly because: string };

const no = (because: string): Outcome => ({ ok: false, because });

/** A bench with one record on it, seen as one question sees it. */
export class Bench {
  private readonly view: View;
  private readonly live: { readonly power: Joint; readonly exempt: ReadonlySet<string> } | undefined;
  private readonly zones = new Map<string, NonNullable<Release["heat"]>>();

  /** @param isolate whether the rule of power is in force for this question. */
  constructor(view: View, isolate: boolean) {
    this.view = view;
    const power = powerJoint(view);
    if (power && isolate) {
      this.live = { power, exempt: onTheWayToPower(view, power, (options) => reachable(view, options)) };
    }
    for (const joint of view.record.joints) {
      for (const { heat } of joint.releases) if (heat && !this.zones.has(heat.zone)) this.zones.set(heat.zone, heat);
    }
  }

  start(): BenchState {
    return {
      released: new Set(),
      lifted: new Set(),
      shifted: new Set(),
      hand: [],
      side: "back",
      heated: new Map(),
      now: 0,
      open: false,
      steps: 0,
    };
  }

  /** Does one operation, or says which rule forbids it. */
  apply(state: BenchState, operation: BenchOperation): Outcome {
    switch (operation.kind) {
      case "heat":
        return this.heat(state, operation.zone);
      case "release":
        return this.release(state, operation);
      case "lift":
        return this.lift(state, operation.part);
      case "shift":
        return this.shift(state, operation.part);
    }
  }

  private heat(state: BenchState, zone: string, rounds: ZoneTime | null = null): Outcome {
    const heat = this.zones.get(zone);
    if (!heat) return no(`there is no zone ${zone}`);
    const time = rounds ?? warmZone(this.view.record, heat).once;
    const held = heat.down === undefined && heat.by !== undefined ? [heat.by] : [];
    const side = heat.down === undefined ? undefined : opposite(heat.down);
    const ready = prepare(state, held, side);
    const end = ready.now + time.ms;
    return {
      ok: true,
      done: {
        state: {
          ...ready.state,
          heated: new Map([...state.heated, [zone, end]]),
          now: end,
          ...counted(state, held, true),
        },
        at: ready.now,
        ms: time.ms,
        fetch: ready.fetch,
        turn: ready.turn,
      },
    };
  }

  private release(state: BenchState, operation: BenchOperation & { kind: "release" }): Outcome {
    const { view } = this;
    const joint = view.joints.get(operation.joint);
    const release = joint?.releases[operation.release];
    if (!joint || !release) return no(`there is no release ${operation.release} of ${operation.joint}`);
    if (!standing(view, joint) || state.released.has(joint.id)) return no(`${joint.id} is released already`);
    if (!allowed(release, view.terms)) return no(`this question does not allow that release of ${joint.id}`);
    if (!this.clear(state, reachOf(view, joint), view.assemblies.containingJoint(joint)))
      return no(`${joint.id} is not in reach`);
    if (
      this.live &&
      !state.released.has(this.live.power.id) &&
      isLiveWork(view, joint, release) &&
      !this.live.exempt.has(joint.id)
    ) {
      return no(`${joint.id} is live work and the cell is not isolated`);
    }
    const work = releaseTime(joint, release).ms;
    const after = { released: new Set([...state.released, joint.id]) };
    if (operation.passes !== undefined) return this.inRounds(state, joint, release, work, operation.passes, after);
    const ready = prepare(state, release.tools, joint.side);
    const end = ready.now + work;
    if (release.heat) {
      const last = state.heated.get(release.heat.zone);
      const soft = warmZone(this.view.record, release.heat).once.soft;
      if (last === undefined) return no(`zone ${release.heat.zone} is cold`);
      if (soft !== null && end > last + soft) return no(`zone ${release.heat.zone} has gone cold`);
    }
    return {
      ok: true,
      done: {
        state: { ...ready.state, ...after, now: end, ...counted(state, release.tools, false) },
        at: ready.now,
        ms: work,
        fetch: ready.fetch,
        turn: ready.turn,
      },
    };
  }

  /** n rounds of one heating and then a piece of the work, nothing in between. */
  private inRounds(
    state: BenchState,
    joint: Joint,
    release: Release,
    work: number,
    rounds: number,
    after: { released: ReadonlySet<string> },
  ): Outcome {
    const heat = release.heat;
    if (!heat) return no(`${joint.id} needs no heat`);
    const warm = warmZone(this.view.record, heat);
    const own = warm.inRounds(work, release.tools.length);
    const time = own ?? warm.once;
    if (!time.passes || time.soft === null) return no(`${joint.id} cannot be interrupted`);
    let here = state;
    let begin: Done | undefined;
    const gaps: number[] = [];
    let setups = 0;
    for (let round = 0; round < 2; round += 1) {
      const heated = this.heat(here, heat.zone, own);
      if (!heated.ok) return heated;
      begin ??= heated.done;
      const ready = prepare(heated.done.state, release.tools, joint.side);
      gaps.push(ready.now - heated.done.state.now);
      if (round === 0) setups = ready.now - here.now;
      else setups += (rounds - 1) * (ready.now - here.now);
      here = ready.state;
    }
    const gap = Math.max(...gaps);
    if (gap >= time.soft) return no(`zone ${heat.zone} is cold before the tools are at hand`);
    let least = 2;
    while (gap * least + work > time.soft * least) least += 1;
    if (rounds !== least) return no(`${joint.id} takes ${least} rounds, not ${rounds}`);
    const source = heat.down === undefined && heat.by !== undefined ? [heat.by] : [];
    const afterFirst = { ...state, ...counted(state, source, true), hand: source.length > 0 ? source : state.hand };
    const cold = new Map(state.heated);
    cold.delete(heat.zone);
    return {
      ok: true,
      done: {
        state: {
          ...here,
          ...after,
          heated: cold,
          now: state.now + setups + work,
          ...counted(afterFirst, release.tools, false),
        },
        at: begin?.at ?? state.now,
        ms: state.now + setups + work - (begin?.at ?? state.now),
        fetch: begin?.fetch ?? [],
        turn: begin?.turn ?? false,
      },
    };
  }

  private lift(state: BenchState, id: string): Outcome {
    const { view } = this;
    const part = view.parts.get(id);
    if (!part || part.base || view.gone.has(id)) return no(`${id} cannot be lifted`);
    if (state.lifted.has(id)) return no(`${id} is lifted already`);
    const held = holding(view, id).find((joint) => !state.released.has(joint.id));
    if (held) return no(`${held.id} still holds ${id}`);
    if (!this.clear(state, underOf(view, part), view.assemblies.containing(id)))
      return no(`${id} lies under something`);
    const ready = prepare(state, [], part.side);
    const ms = liftTime(part);
    return {
      ok: true,
      done: {
        state: {
          ...ready.state,
          lifted: new Set([...state.lifted, id]),
          now: ready.now + ms,
          ...counted(state, [], true),
        },
        at: ready.now,
        ms,
        fetch: [],
        turn: ready.turn,
      },
    };
  }

  private shift(state: BenchState, id: string): Outcome {
    const { view } = this;
    const part = view.parts.get(id);
    if (!part?.shift || part.base || view.gone.has(id)) return no(`${id} cannot be shifted`);
    if (state.lifted.has(id) || state.shifted.has(id)) return no(`${id} has been moved already`);
    const held = part.shift.freeing.find((joint) => {
      const found = view.joints.get(joint);
      return found && standing(view, found) && !state.released.has(joint);
    });
    if (held) return no(`${held} still holds ${id}`);
    if (!this.clear(state, underOf(view, part), view.assemblies.containing(id)))
      return no(`${id} lies under something`);
    const ready = prepare(state, [], part.side);
    const ms = shiftTime(part);
    return {
      ok: true,
      done: {
        state: {
          ...ready.state,
          shifted: new Set([...state.shifted, id]),
          now: ready.now + ms,
          ...counted(state, [], true),
        },
        at: ready.now,
        ms,
        fetch: [],
        turn: ready.turn,
      },
    };
  }

  private clear(state: BenchState, groups: readonly (readonly string[])[], around: readonly string[]): boolean {
    return groups.length === 0 || groups.some((group) => group.every((part) => isAway(this.view, state, part, around)));
  }
}

function opposite(side: Side): Side {
  const faces: Record<Side, Side> = {
    back: "front",
    front: "back",
    top: "bottom",
    bottom: "top",
    left: "right",
    right: "left",
  };
  return faces[side];
}

/** Fetches and turns before an operation with these tools and this side. */
function prepare(
  state: BenchState,
  tools: readonly string[],
  side: Side | undefined,
): { readonly state: BenchState; readonly now: number; readonly fetch: readonly string[]; readonly turn: boolean } {
  const set = [...new Set(tools)];
  const differs =
    set.length > 0 && !(set.length === state.hand.length && set.every((tool) => state.hand.includes(tool)));
  const fetch = differs ? set.filter((tool) => !state.hand.includes(tool)) : [];
  const turn = side !== undefined && side !== state.side;
  const now = state.now + fetch.length * SET_A.fetch + (turn ? SET_A.turn : 0);
  return { state: { ...state, hand: differs ? set : state.hand, side: side ?? state.side, now }, now, fetch, turn };
}

/** Legal steps by the default readings: what an operation adds and whether work is open after it. */
function counted(
  state: BenchState,
  tools: readonly string[],
  closes: boolean,
): { readonly steps: number; readonly open: boolean } {
  const set = [...new Set(tools)];
  let { steps, open } = state;
  if (set.length > 0 && !(set.length === state.hand.length && set.every((tool) => state.hand.includes(tool)))) {
    if (open) steps += 1;
    open = false;
    steps += set.length - 1;
  }
  if (closes) return { steps: steps + 1, open: false };
  return { steps, open: true };
}
