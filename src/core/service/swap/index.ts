/**
 * A swap: parts to replace -> the way in, the way back with everything that it takes, what to prove, times, risk and price.
 *
 * Promised: the way back passes `validateSwap`; the same record, question and seed give the same answer; money is exact and of
 * one currency; a price that is not known is null with the reason.
 */
import { InputError } from "../../errors.ts";
import { type Money, meantPart, type TeardownRecord } from "../../record/index.ts";
import type { Control } from "../../route/problem.ts";
import { wayBackFrom } from "../../route/ways/in-and-back.ts";
import { type Branch, findWayIn, type Question, type Unreachable, type WayIn } from "../../route/ways/index.ts";
import { Assemblies } from "../../structure/index.ts";
import { microsOf, moneyFrom, times, toHundredths } from "../money.ts";
import { exponentOf, unitFactor } from "../reckon/learning.ts";
import { betaInterval, replaceLimit } from "../reckon/replace-limit.ts";
import { connectionsFirst, testStopsOf } from "./closing.ts";
import { type FrontPoint, frontOf } from "./front.ts";
import { atIntake, type IntakeRule, intakeRules } from "./intake.ts";
import { type ConsumableNeeded, needsOf, type PartNeeded, type ToolNeeded } from "./needs.ts";
import { type PriceParts, type Spread, type SwapPrice, simulateSwap } from "./price.ts";
import { disturbedBy } from "./prove.ts";
import { HANDLING, type SwapQuestion, type SwapSettings, settingsOf, USUAL_LABOUR } from "./question.ts";
import { type Risk, riskOf } from "./risk.ts";
import { type SwapBack, swapBack } from "./sequence.ts";
import { ENOUGH, type OwnTime, ownTimes, type Timed, timeModel, timesBack, timesIn } from "./times.ts";
import { type SwapFault, validateSwap } from "./validate.ts";

export { costlyToUndo, type TestStop } from "./closing.ts";
export type { FrontPoint } from "./front.ts";
export type { Spread } from "./price.ts";
export { disturbedBy } from "./prove.ts";
export { DEFAULTS, type SwapQuestion, type SwapSettings, TIME_SETS } from "./question.ts";
export type { Laid, SwapBack, SwapBackOperation } from "./sequence.ts";
export { ownTimes } from "./times.ts";
export { type SwapFault, validateSwap } from "./validate.ts";

/** The highest price at which repair still beats a new device. */
export interface RepairUpTo extends Money {
  /** Central 90 % from the chance of success. */
  readonly low: string;
  readonly high: string;
  readonly success: number;
}

export interface Swap {
  readonly replace: readonly string[];
  readonly intake: readonly IntakeRule[];
  readonly wayIn: WayIn;
  readonly wayBack: SwapBack;
  /** Functions to prove at the end: through what came off and what was opened, and no other. */
  readonly prove: readonly string[];
  readonly seconds: {
    /** Hands-on time by simulation, branches included. */
    readonly p50: number;
    readonly p90: number;
    readonly mean: number;
    /** Hands-on time by the planner's times, and until everything has cured. */
    readonly handsOn: number;
    readonly elapsed: number;
  };
  /** The simulated jobs behind `seconds` and `price`. */
  readonly spread: Spread;
  readonly parts: readonly PartNeeded[];
  readonly consumables: readonly ConsumableNeeded[];
  readonly tools: readonly ToolNeeded[];
  readonly risk: Risk;
  /** Left out where it was not asked for. Empty where nothing that can be harmed has a price. */
  readonly front?: readonly FrontPoint[];
  readonly price: SwapPrice | null;
  readonly why?: string;
  readonly priceOf?: PriceParts;
  readonly repairUpTo: RepairUpTo | null;
  readonly branches: readonly Branch[];
  /** What this bench's log says about times, with how many observations. */
  readonly ownTimes: readonly OwnTime[];
  readonly settings: SwapSettings;
  readonly assumptions: readonly string[];
  readonly warnings: readonly string[];
}

/**
 * @throws InputError for parts that are not there, the base, or settings out of their limits
 */
export function swapOf(record: TeardownRecord, asked: SwapQuestion, control: Control): Swap | Unreachable {
  const settings = settingsOf(asked.settings);
  checkReplaced(record, asked.replace);
  const conditions = asked.conditions ?? [];
  const seen = atIntake(record, conditions);
  const question: Question = {
    to: [...new Set(asked.replace)],
    least: "seconds",
    damage: asked.damage === true,
    accept: asked.accept ?? [],
    conditions,
  };
  const capped = asked.capRisk === undefined ? question : { ...question, capRisk: asked.capRisk };
  const way = findWayIn(seen, capped, control);
  if (!("operations" in way)) return way;
  const wishes = connectionsFirst(seen, question, way);
  const wished = wayBackFrom(seen, question, way, control, wishes);
  const back = wished ?? wayBackFrom(seen, question, way, control);
  if (back === null)
    return {
      unreachable: question.to.map((part) => ({
        part,
        because: "a way in was found, but no way back in the time given",
        blockedBy: [],
      })),
    };
  const needs = needsOf(seen, way, question.to, settings.jobsAMonth);
  const disturbed = disturbedBy(seen, way);
  const stops = testStopsOf(seen, way, disturbed, back.operations);
  const wayBack = swapBack({ record: seen, way, back, stops, needs, disturbed, replace: question.to });
  const faults = validateSwap(seen, question, way, wayBack.operations, wishes);
  if (faults.length > 0 && wished !== null) throw new Error(`the way back breaks a rule: ${faults[0]!.because}`);
  const replaced = new Set(question.to.flatMap((id) => [...new Assemblies(seen).of(id)]));
  const risk = riskOf(seen, way, replaced, settings.hands);
  const model = timeModel(seen, settings.times);
  const learning = learningFactor(settings);
  const branches = way.branches;
  const handling = wayBack.operations.flatMap((operation): Timed[] =>
    operation.kind === "test-stop" || operation.kind === "pair" || operation.kind === "prove"
      ? [
          {
            kind: "three-point",
            low: operation.seconds * 0.7,
            usual: operation.seconds,
            high: operation.seconds * 1.6,
          } as const,
        ]
      : (("relaid" in operation ? operation.relaid : undefined) ?? []).map(
          (laid) => ({ kind: "fixed", seconds: laid.clean + laid.lay }) as const,
        ),
  );
  const simulated = simulateSwap(
    seen,
    needs,
    {
      times: [...timesIn(seen, model, way), ...timesBack(seen, model, back.operations, way), ...handling],
      branches,
      items: risk.items,
      learning,
    },
    settings,
  );
  const handsOn = round(way.seconds + wayBack.handsOn);
  return {
    replace: question.to,
    intake: intakeRules(conditions),
    wayIn: way,
    wayBack,
    prove: disturbed.functions,
    seconds: {
      p50: simulated.p50,
      p90: simulated.p90,
      mean: simulated.mean,
      handsOn,
      elapsed: round(way.seconds + wayBack.elapsed),
    },
    spread: simulated.spread,
    parts: needs.parts,
    consumables: needs.consumables,
    tools: needs.tools,
    risk,
    ...(asked.front ? { front: frontAsked(seen, question, asked.capRisk === undefined ? way : null, control) } : {}),
    price: simulated.price,
    ...(simulated.why === undefined ? {} : { why: simulated.why }),
    ...(simulated.made === undefined ? {} : { priceOf: simulated.made }),
    repairUpTo: repairUpTo(seen, settings),
    branches,
    ownTimes: settings.times === "own" ? ownTimes(seen) : [],
    settings,
    assumptions: [
      ...new Set([
        ...way.assumptions,
        ...wayBack.assumptions,
        ...needs.assumptions,
        ...risk.assumptions,
        ...settingsSaid(asked.settings ?? {}, settings, simulated.price !== null, record),
      ]),
    ],
    warnings: [
      ...new Set([
        ...way.warnings,
        ...wayBack.warnings,
        ...needs.warnings,
        ...(wished === null
          ? ["Not every connection could be closed before the steps that cannot be undone cheaply."]
          : []),
        ...faults.map(({ because }) => because),
      ]),
    ],
  };
}

function frontAsked(
  record: TeardownRecord,
  question: Question,
  quickest: WayIn | null,
  control: Control,
): FrontPoint[] {
  const way = quickest ?? findWayIn(record, question, control);
  return "operations" in way ? frontOf(record, question, way, control) : [];
}

const round = (seconds: number): number => Math.round(seconds * 1000) / 1000;

function checkReplaced(record: TeardownRecord, replace: readonly string[]): void {
  const ids = record.parts.map(({ id }) => id);
  if (replace.length === 0) throw new InputError({ path: "replace", found: "no part", expected: "at least one part" });
  for (const id of replace) {
    if (ids.includes(id)) continue;
    const near = meantPart(record, id);
    throw new InputError({
      path: "replace",
      found: JSON.stringify(id),
      expected: "the id of a part of this record",
      ...(near === undefined ? {} : { nearest: near }),
    });
  }
  const base = record.parts.find((part) => part.base);
  if (base && replace.includes(base.id))
    throw new InputError({
      path: "replace",
      found: JSON.stringify(base.id),
      expected: "a part that comes off: this is the base, which everything else is taken off",
    });
}

function learningFactor({ repeat, learningRate, learningModel }: SwapSettings): number {
  return learningRate === null ? 1 : unitFactor(learningModel, exponentOf(learningRate), repeat);
}

function repairUpTo(record: TeardownRecord, settings: SwapSettings): RepairUpTo | null {
  const { price } = record.device;
  if (price === undefined) return null;
  const { lifeNew, lifeRepaired, interest, success, successJobs } = settings;
  const whole = replaceLimit({ replace: 1, lifeNew, lifeRepaired, rate: interest }).limit;
  const a = success * successJobs;
  const b = (1 - success) * successJobs;
  const [low, high] = a > 0 && b > 0 ? betaInterval(a, b, 0.9) : [success, success];
  const at = (chance: number): string =>
    moneyFrom(toHundredths(times(microsOf(price), whole * chance)), price.currency).amount;
  return { amount: at(success), currency: price.currency, low: at(low), high: at(high), success };
}

/** What no record holds and nobody gave. */
function settingsSaid(
  given: Partial<SwapSettings>,
  used: SwapSettings,
  priced: boolean,
  record: TeardownRecord,
): string[] {
  const said: string[] = [];
  if (priced && given.labour === undefined)
    said.push(
      `Labour taken as ${USUAL_LABOUR.amount} ${USUAL_LABOUR.currency} an hour (common practice 35 to 75, no source).`,
    );
  if (priced && given.warranty === undefined)
    said.push("4 % of jobs taken to come back under warranty (common practice 2 to 6 %, no source).");
  const without = (["overhead", "margin", "tax"] as const).filter((name) => used[name] === 0);
  if (priced && without.length > 0) said.push(`The price is without ${without.join(", ")}: set at 0.`);
  if (used.times === "own")
    said.push(
      `Times: this bench's own where its log has at least ${ENOUGH} of an action, else common practice (set B, no source).`,
    );
  else if (used.times === "A")
    said.push("Times of set A have no spread of their own: 0.7 to 1.6 of each is taken (own setting, no source).");
  else said.push("Times of common practice (set B, no source).");
  if (used.learningRate !== null)
    said.push(
      `Learning: ${used.learningModel} model, rate ${used.learningRate}, repeat ${used.repeat}; chosen by the caller.`,
    );
  if (used.hands === "first" && given.hands === undefined)
    said.push("Chances of damage are those of first-timers where the record gives none.");
  if (record.device.price !== undefined && (given.lifeNew === undefined || given.lifeRepaired === undefined))
    said.push(
      `Repair limit: ${used.lifeNew} years new against ${used.lifeRepaired} repaired at ${used.interest * 100} % a year, success ${used.success} (own settings, no source).`,
    );
  if (HANDLING.prove > 0) said.push("Hands-on time counts heating: heat is never left alone.");
  return said;
}

export type { SwapFault as Fault };
