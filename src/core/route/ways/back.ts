/**
 * The way back: every lift, shift and release of a way in has its opposite, and read from its end to its beginning a way
 * back is a way in, heat, soft time and power aside. So nothing is closed over what is still open.
 *
 * It is found by the same planner on the operations of the way in, read backwards. That works because the cost of tools is
 * the same in both directions: from empty hands, the sum over changes of |new \ old| forwards equals the sum of |old \ new|
 * backwards plus the last set, which is what the backward reading fetches first. Turns are symmetric; the side that is up
 * when the way back begins is asked for by one operation of no time at the backward end, and the other end is free, so each
 * side is tried there.
 */
import type { Joint } from "../../record/index.ts";
import {
  type Compiled,
  isElectrical,
  liftTime,
  onTheWayToPower,
  powerJoint,
  reachable,
  releaseTime,
  shiftTime,
} from "../../structure/index.ts";
import {
  type Answer,
  type Control,
  DEFAULT_READINGS,
  type Need,
  type Objective,
  type Operation,
  type Problem,
} from "../problem.ts";
import { replay } from "../replay.ts";
import { solve } from "../solve.ts";
import { crossingWarnings } from "./crossings.ts";

export interface BackOperation {
  readonly kind: "close" | "refit" | "unshift";
  readonly joint?: string;
  readonly part?: string;
  readonly tools: readonly string[];
  readonly fetch: readonly string[];
  readonly turn: boolean;
  readonly at: number;
  readonly seconds: number;
  /** Seconds that run by themselves afterwards, hands off. */
  readonly cure?: number;
  /** The fastener or bond has to be new. */
  readonly renew?: boolean;
}

/** A wish beyond the rules: the first joint is to be closed before the second. */
export interface ClosedBefore {
  readonly first: string;
  readonly then: string;
}

export interface WayBack {
  /** Fetches, turns and pressing included; curing runs by itself and is not. */
  readonly seconds: number;
  /** Without the pressing. */
  readonly handsOn: number;
  readonly lowerBound: number;
  readonly proved: boolean;
  readonly operations: readonly BackOperation[];
  readonly assumptions: readonly string[];
  readonly warnings: readonly string[];
}

const SECONDS: Objective = { least: "seconds", readings: DEFAULT_READINGS };

interface Opposite {
  readonly ms: number;
  readonly press: number;
  readonly assumed: boolean;
}

/**
 * The quickest way back from a way in.
 *
 * @param done operations of the compiled problem that the way in did, in its order
 * @param sideUp index of the side that is up at its end
 * @param wishes kept as well; where they cannot all be kept there is no way back, and the caller asks again with fewer
 * @returns null where none was found in time
 */
export function findWayBack(
  compiled: Compiled,
  done: readonly number[],
  sideUp: number,
  control: Control,
  wishes: readonly ClosedBefore[] = [],
): WayBack | null {
  const set = [...done].sort((a, b) => a - b);
  const opposites = set.map((operation) => oppositeOf(compiled, operation));
  const problem = wished(compiled, set, backwards(compiled, set, opposites, sideUp), wishes);
  let best: { problem: Problem; answer: Extract<Answer, { kind: "solved" }> } | null = null;
  let bound = Number.POSITIVE_INFINITY;
  const sides = new Set([sideUp, ...problem.operations.map(({ side }) => side).filter((side) => side >= 0)]);
  for (const side of [...sides].sort((a, b) => a - b)) {
    const from: Problem = { ...problem, start: { tools: [], side } };
    const answer = solve(from, SECONDS, control);
    if (answer.kind === "no-way") continue;
    bound = Math.min(bound, answer.lowerBound);
    if (answer.kind === "solved" && (best === null || answer.ms < best.answer.ms)) best = { problem: from, answer };
  }
  if (best === null) return null;
  const order = best.answer.moves
    .flatMap((move) => (move.kind === "do" && move.operation < set.length ? [move.operation] : []))
    .reverse();
  return tell(compiled, set, opposites, order, sideUp, { bound, ms: best.answer.ms });
}

/** The problem of the backward reading: the same needs among the operations that were done, and the rules of closing. */
function backwards(
  compiled: Compiled,
  set: readonly number[],
  opposites: readonly Opposite[],
  sideUp: number,
): Problem {
  const index = new Map(set.map((operation, i) => [operation, i]));
  const closing = closingNeeds(compiled, set, index);
  const operations = set.map((operation, i): Operation => {
    const own = compiled.problem.operations[operation];
    return {
      ...own,
      ms: opposites[i].ms,
      tools: isBondRelease(compiled, operation) ? [] : own.tools,
      needs: [...structural(compiled, operation).map((need) => renumber(need, index)), ...closing[i]],
      zone: -1,
      passes: false,
      clean: false,
      risk: 0,
      bundle: [],
    };
  });
  const end: Operation = {
    id: "the way back begins",
    kind: "release",
    ms: 0,
    tools: [],
    side: sideUp,
    needs: set.map((_, i): Need => [[[i]]]),
    zone: -1,
    passes: false,
    clean: false,
    tray: false,
    risk: 0,
    bundle: [],
  };
  return { ...compiled.problem, operations: [...operations, end], zones: [], targets: [set.length] };
}

/** Read backwards, the joint that is closed first is released after the other. */
function wished(
  compiled: Compiled,
  set: readonly number[],
  problem: Problem,
  wishes: readonly ClosedBefore[],
): Problem {
  if (wishes.length === 0) return problem;
  const place = new Map<string, number>();
  set.forEach((operation, i) => {
    const meaning = compiled.meanings[operation];
    if (meaning.kind === "release") place.set(meaning.joint.id, i);
  });
  const operations = problem.operations.map((operation, i): Operation => {
    const extra = wishes.flatMap(({ first, then }): Need[] => {
      const other = place.get(then);
      return place.get(first) === i && other !== undefined ? [[[[other]]]] : [];
    });
    return extra.length === 0 ? operation : { ...operation, needs: [...operation.needs, ...extra] };
  });
  return { ...problem, operations };
}

/** The needs of an operation without the one that waits for the cell to be isolated. */
function structural(compiled: Compiled, operation: number): readonly Need[] {
  return compiled.problem.operations[operation].needs.filter((need) => !compiled.powerNeeds.has(need));
}

function renumber(need: Need, index: ReadonlyMap<number, number>): Need {
  return need.map((group) => group.map((atom) => atom.flatMap((operation) => index.get(operation) ?? [])));
}

/**
 * Closing has two rules of its own. Read backwards: a part that runs beneath others comes off after them, and the power
 * joint is opened before every other electrical joint that need not be opened to get to it.
 */
function closingNeeds(compiled: Compiled, set: readonly number[], index: ReadonlyMap<number, number>): Need[][] {
  const { view, meanings } = compiled;
  const liftOf = new Map<string, number>();
  for (const operation of set) {
    const meaning = meanings[operation];
    if (meaning.kind === "lift") liftOf.set(meaning.part.id, index.get(operation) ?? -1);
  }
  const power = powerJoint(view);
  const powerAt = set.findIndex((operation) => {
    const meaning = meanings[operation];
    return meaning.kind === "release" && meaning.joint.id === power?.id;
  });
  const exempt =
    power && powerAt >= 0 ? onTheWayToPower(view, power, (options) => reachable(view, options)) : new Set<string>();
  return set.map((operation) => {
    const meaning = meanings[operation];
    if (meaning.kind === "release") {
      const waits =
        powerAt >= 0 && meaning.joint.id !== power?.id && isElectrical(meaning.joint) && !exempt.has(meaning.joint.id);
      return waits ? [[[[powerAt]]]] : [];
    }
    if (meaning.kind !== "lift") return [];
    return (meaning.part.beneath ?? []).flatMap((over): Need[] => {
      const lift = liftOf.get(over);
      return lift === undefined ? [] : [[[[lift]]]];
    });
  });
}

const BONDS: ReadonlySet<Joint["kind"]> = new Set(["adhesive", "tape", "debondable-adhesive", "seal"]);

/** A bond is laid by hand: the tools that cut it are not fetched for it. */
function isBondRelease(compiled: Compiled, operation: number): boolean {
  const meaning = compiled.meanings[operation];
  return meaning.kind === "release" && BONDS.has(meaning.joint.kind);
}

function oppositeOf(compiled: Compiled, operation: number): Opposite {
  const meaning = compiled.meanings[operation];
  if (meaning.kind === "lift") return { ms: liftTime(meaning.part), press: 0, assumed: true };
  if (meaning.kind === "shift") return { ms: shiftTime(meaning.part), press: 0, assumed: true };
  const { joint } = meaning;
  const ms = (seconds: number | undefined): number => Math.round((seconds ?? 0) * 1000);
  const { clean, lay, press } = joint.remake ?? {};
  const remade = ms(clean) + ms(lay) + ms(press);
  if (BONDS.has(joint.kind) && remade > 0) return { ms: remade, press: ms(press), assumed: false };
  return { ms: releaseTime(joint, joint.releases[meaning.release]).ms + remade, press: ms(press), assumed: true };
}

function tell(
  compiled: Compiled,
  set: readonly number[],
  opposites: readonly Opposite[],
  order: readonly number[],
  sideUp: number,
  found: { readonly bound: number; readonly ms: number },
): WayBack {
  const { problem, meanings } = compiled;
  // Forwards, from empty hands and the side that is up, without needs: the costs alone.
  const forwards: Problem = {
    ...problem,
    zones: [],
    targets: [],
    start: { tools: [], side: sideUp },
    operations: order.map(
      (i): Operation => ({
        ...problem.operations[set[i]],
        ms: opposites[i].ms,
        tools: isBondRelease(compiled, set[i]) ? [] : problem.operations[set[i]].tools,
        needs: [],
        zone: -1,
        passes: false,
        clean: false,
      }),
    ),
  };
  const replayed = replay(
    forwards,
    SECONDS,
    order.map((_, operation) => ({ kind: "do", operation })),
  );
  if (replayed.kind === "violation") throw new Error(`the way back breaks a rule: ${replayed.because}`);
  const operations = order.map((i, place): BackOperation => {
    const cost = replayed.perMove[place];
    const setup = cost.fetched.length * problem.fetch + (cost.turned ? problem.turn : 0);
    const meaning = meanings[set[i]];
    const common = {
      tools: forwards.operations[place].tools.map((tool) => problem.tools[tool]),
      fetch: cost.fetched.map((tool) => problem.tools[tool]),
      turn: cost.turned,
      at: (cost.at + setup) / 1000,
      seconds: opposites[i].ms / 1000,
    };
    if (meaning.kind === "lift") return { kind: "refit", part: meaning.part.id, ...common };
    if (meaning.kind === "shift") return { kind: "unshift", part: meaning.part.id, ...common };
    const { joint } = meaning;
    const leaves = joint.releases[meaning.release].leaves;
    return {
      kind: "close",
      joint: joint.id,
      ...common,
      ...(joint.remake?.cure === undefined ? {} : { cure: joint.remake.cure }),
      ...(leaves === "spent" || leaves === "broken" || joint.remake?.newFastener ? { renew: true } : {}),
    };
  });
  const press = opposites.reduce((sum, one) => sum + one.press, 0);
  const warnings = set.flatMap((operation) => {
    const meaning = meanings[operation];
    if (meaning.kind !== "release" || meaning.joint.remake) return [];
    const leaves = meaning.joint.releases[meaning.release].leaves;
    return leaves === "spent" || leaves === "broken"
      ? [`${meaning.joint.id} is ${leaves} and the record does not say how it is made again`]
      : [];
  });
  const laid = set.flatMap((operation) => {
    const meaning = meanings[operation];
    return meaning.kind === "release" ? [] : [meaning.part];
  });
  return {
    seconds: replayed.ms / 1000,
    handsOn: (replayed.ms - press) / 1000,
    lowerBound: Math.min(found.bound, found.ms) / 1000,
    proved: found.bound >= found.ms,
    operations,
    assumptions: opposites.some((one) => one.assumed)
      ? ["Fastening and putting back take as long as the way in took for them."]
      : [],
    warnings: [...warnings, ...crossingWarnings([...new Set(laid)])],
  };
}
