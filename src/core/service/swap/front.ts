/**
 * The front of time against risk: every way in than which none is both quicker and less risky, from the quickest on.
 *
 * Each next point is the quickest way in whose expected damage is below the last one's (the ε-constraint method of Haimes,
 * Lasdon and Wismer, 1971, recalled, not read), until none is left. Exact where every point is proved. Risk is the planner's:
 * chances and prices of the record alone, in whole millionths.
 */
import type { Money, TeardownRecord } from "../../record/index.ts";
import type { Control } from "../../route/problem.ts";
import { findWayIn, type Question, type WayIn } from "../../route/ways/index.ts";
import { microsOf, moneyFrom } from "../money.ts";

export interface FrontPoint {
  readonly seconds: number;
  readonly steps: number;
  readonly risk: Money;
  readonly proved: boolean;
}

/** More are never needed to choose by, and each takes a plan. */
export const MOST_POINTS = 8;

/** @param quickest the way in by least time, without a cap */
export function frontOf(record: TeardownRecord, question: Question, quickest: WayIn, control: Control): FrontPoint[] {
  const points: FrontPoint[] = [];
  for (let way: WayIn | undefined = quickest; way?.risk && points.length < MOST_POINTS; ) {
    const { seconds, steps, risk, proved } = way;
    // Of ways that take as long the later one is the less risky.
    if (points.at(-1)?.seconds === seconds) points.pop();
    points.push({ seconds, steps, risk, proved });
    const micros = microsOf(risk);
    if (micros === 0n) break;
    const capRisk = moneyFrom(micros - 1n, risk.currency).amount;
    const next = findWayIn(record, { ...question, least: "seconds", capRisk }, control);
    way = "operations" in next ? next : undefined;
  }
  return points;
}
