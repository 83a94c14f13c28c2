/**
 * The answer of a solver in the words of the record: operations, times, assumptions, the range that people are shown.
 */
import type { Side } from "../../record/index.ts";
import { SIDES } from "../../record/index.ts";
import { type Compiled, moneyOf, releaseTime, SET_A } from "../../structure/index.ts";
import { liftSpread, releaseSpread, SETUP_B, type Spread, shiftSpread } from "../../structure/set-b.ts";
import type { Objective, Solved } from "../problem.ts";
import { type Replayed, replay } from "../replay.ts";
import { remoteSteps } from "./remote.ts";
import type { Branch, Question, WayIn, WayOperation } from "./types.ts";

/** @throws Error when the solver's order breaks a rule: ours, never the caller's. */
export function describeWay(
  compiled: Compiled,
  objective: Objective,
  answer: Solved,
  question: Question,
  warnings: readonly string[],
  milliseconds: number,
): WayIn {
  const replayed = replay(compiled.problem, objective, answer.moves);
  if (replayed.kind === "violation")
    throw new Error(`the planner's order breaks a rule at move ${replayed.index}: ${replayed.because}`);
  const remote = remoteSteps(compiled.view.record, question.to);
  const operations = answer.moves.map((_, index) => operationOf(compiled, answer, replayed, index));
  const { currency } = compiled.harm;
  return {
    targets: question.to,
    least: question.least,
    seconds: replayed.ms / 1000,
    steps: replayed.steps + remote,
    remoteSteps: remote,
    risk: currency === null ? null : moneyOf(replayed.risk, currency),
    lowerBound: boundOf(objective, answer, remote),
    proved: answer.proved,
    range: rangeOf(compiled, answer, replayed),
    operations,
    branches: branchesOf(compiled, answer),
    assumptions: assumptionsOf(compiled, answer),
    warnings: [...compiled.warnings, ...warnings, ...mixedCurrencies(compiled), ...openTies(answer)],
    milliseconds,
  };
}

function openTies({ proved, stopped }: Solved): string[] {
  if (!proved || stopped === "proof") return [];
  return [
    "Nothing needs less, and that is proved; time ran out before equal orders of work were told apart by their seconds.",
  ];
}

function operationOf(compiled: Compiled, answer: Solved, replayed: Replayed, index: number): WayOperation {
  const { problem, meanings } = compiled;
  const move = answer.moves[index];
  const cost = replayed.perMove[index];
  const setup = cost.fetched.length * problem.fetch + (cost.turned ? problem.turn : 0);
  const common = {
    fetch: cost.fetched.map((tool) => problem.tools[tool]),
    turn: cost.turned,
    at: (cost.at + setup) / 1000,
    seconds: (cost.ms - setup) / 1000,
    steps: cost.steps,
  };
  if (move.kind === "heat") {
    const zone = problem.zones[move.zone];
    return {
      kind: "heat",
      zone: zone.id,
      tools: zone.tools.map((tool) => problem.tools[tool]),
      ...(zone.soft === null ? {} : { soft: zone.soft / 1000 }),
      ...sideOf(zone.side),
      ...common,
    };
  }
  const operation = problem.operations[move.operation];
  const meaning = meanings[move.operation];
  const tools = operation.tools.map((tool) => problem.tools[tool]);
  const passes = move.passes === undefined ? {} : { passes: move.passes };
  if (meaning.kind !== "release")
    return { kind: meaning.kind, part: meaning.part.id, tools, ...sideOf(operation.side), ...common };
  const release = meaning.joint.releases[meaning.release];
  return {
    kind: "release",
    joint: meaning.joint.id,
    release: meaning.release,
    ...(release.heat ? { zone: release.heat.zone } : {}),
    action: release.action,
    tools,
    ...sideOf(operation.side),
    ...passes,
    ...common,
  };
}

function sideOf(side: number): { side?: Side } {
  return side < 0 ? {} : { side: SIDES[side] };
}

function boundOf(objective: Objective, answer: Solved, remote: number): number {
  if (objective.least === "seconds") return answer.lowerBound / 1000;
  if (objective.least === "steps") return answer.lowerBound + remote;
  return answer.lowerBound / 1_000_000;
}

/** The same order by set B; heatings and fetches keep their times. */
function rangeOf(compiled: Compiled, answer: Solved, replayed: Replayed): { low: number; usual: number; high: number } {
  const sum = [0, 0, 0];
  const add = (spread: Spread, factor = 1): void => {
    for (const i of [0, 1, 2]) sum[i] += spread[i] * factor;
  };
  answer.moves.forEach((move, index) => {
    const cost = replayed.perMove[index];
    add(SETUP_B.fetch, cost.fetched.length);
    if (cost.turned) add(SETUP_B.turn);
    const own = cost.ms - cost.fetched.length * SET_A.fetch - (cost.turned ? SET_A.turn : 0);
    if (move.kind === "heat") return add([own, own, own]);
    const meaning = compiled.meanings[move.operation];
    if (meaning.kind === "lift") return add(liftSpread(meaning.part));
    if (meaning.kind === "shift") return add(shiftSpread(meaning.part));
    const release = meaning.joint.releases[meaning.release];
    const spread = releaseSpread(meaning.joint, release);
    // Of an interrupted release the heatings and inner fetches keep their time.
    const rest = own - releaseTime(meaning.joint, release).ms;
    add([spread[0] + rest, spread[1] + rest, spread[2] + rest]);
  });
  const [low, usual, high] = sum.map((ms) => Math.round(ms) / 1000);
  return { low, usual, high };
}

function branchesOf(compiled: Compiled, answer: Solved): Branch[] {
  const { problem, meanings } = compiled;
  return answer.moves.flatMap((move) => {
    if (move.kind === "heat") return [];
    const meaning = meanings[move.operation];
    if (meaning.kind !== "release") return [];
    const fails = meaning.joint.releases[meaning.release].fails;
    if (!fails) return [];
    const next = meaning.joint.releases[fails.then];
    const work = fails.seconds === undefined ? releaseTime(meaning.joint, next).ms : Math.round(fails.seconds * 1000);
    const inHand = problem.operations[move.operation].tools.map((tool) => problem.tools[tool]);
    // Fetch what the other way needs, and afterwards what was in hand again.
    const out = next.tools.filter((tool) => !inHand.includes(tool)).length;
    const back = next.tools.length === 0 ? 0 : inHand.filter((tool) => !next.tools.includes(tool)).length;
    const seconds = (work + (out + back) * problem.fetch) / 1000;
    return [
      {
        joint: meaning.joint.id,
        chance: fails.chance,
        then: fails.then,
        seconds,
        expected: Math.round(fails.chance * seconds * 1000) / 1000,
      },
    ];
  });
}

function assumptionsOf(compiled: Compiled, answer: Solved): string[] {
  const said = new Set<string>();
  for (const move of answer.moves) {
    if (move.kind === "heat") {
      const text = compiled.zonesAssumed[move.zone];
      if (text) said.add(text);
      continue;
    }
    const text = compiled.assumed[move.operation];
    if (text) said.add(text);
    const meaning = compiled.meanings[move.operation];
    if (meaning.kind !== "release") continue;
    const release = meaning.joint.releases[meaning.release];
    const zone = problemZone(compiled, move.operation);
    if (zone !== undefined && move.passes !== undefined) {
      const zoneText = compiled.zonesAssumed[zone];
      if (zoneText) said.add(zoneText);
    }
    for (const part of [...(release.harm ?? []).map((harm) => harm.part), ...(release.destroys ?? [])]) {
      if (compiled.harm.unpriced.includes(part)) said.add(`${part} has no price: what may happen to it counts 0`);
    }
  }
  return [...said];
}

function problemZone(compiled: Compiled, operation: number): number | undefined {
  const { zone } = compiled.problem.operations[operation];
  return zone < 0 ? undefined : zone;
}

function mixedCurrencies(compiled: Compiled): string[] {
  const { mixed } = compiled.harm;
  return mixed.length === 0 ? [] : [`Prices in ${mixed.join(" and ")}: expected damage is not added up.`];
}
