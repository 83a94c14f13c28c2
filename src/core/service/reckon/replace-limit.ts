/**
 * The highest price at which a repair still beats a new device.
 *
 * Unequal lives are compared by their equivalent annual cost: a repair that gives L_r years saves C_new * crf(i, L_n) each
 * year, so it may cost at most that over crf(i, L_r), with crf(i, L) = i / (1 - (1+i)^-L), or 1/L at i = 0 (any textbook
 * of engineering economy). A failed repair buys nothing and a new device follows, so the limit is
 * multiplied by the chance of success. With few jobs behind it that chance is a Beta (Jeffreys), and the limit an interval.
 */
import { fisherQuantile } from "../../measure/distributions.ts";

export interface LimitQuestion {
  /** Price of the new device. */
  readonly replace: number;
  /** Years; both left out: equal lives. */
  readonly lifeNew?: number;
  readonly lifeRepaired?: number;
  /** Interest a year, 0.05 for 5 %. */
  readonly rate?: number;
  /** Running cost a year. */
  readonly yearlyNew?: number;
  readonly yearlyRepaired?: number;
  /** What the new device is still worth at the end of its life. */
  readonly salvageNew?: number;
  readonly success?: number;
  readonly successes?: number;
  readonly trials?: number;
  /** Expected cost of damage by the attempt. */
  readonly damage?: number;
  readonly level?: number;
}

export interface Limit {
  readonly limit: number;
  readonly success: number;
  /** Limit at the ends of the interval of the chance of success; left out where that is given and not counted. */
  readonly interval?: readonly [number, number];
  readonly annualNew?: number;
}

/** Capital recovery factor. */
export function recovery(rate: number, years: number): number {
  return rate === 0 ? 1 / years : rate / -Math.expm1(-years * Math.log1p(rate));
}

export function replaceLimit(question: LimitQuestion): Limit {
  const { replace, lifeNew, lifeRepaired, rate = 0, damage = 0 } = question;
  const saved = savedBy(question);
  const limitAt = (success: number): number => Math.max(0, success * saved - damage);
  const { successes, trials } = question;
  const counted = successes !== undefined && trials !== undefined;
  const success = question.success ?? (counted ? (successes + 0.5) / (trials + 1) : 1);
  return {
    limit: limitAt(success),
    success,
    ...(counted
      ? {
          interval: betaInterval(successes + 0.5, trials - successes + 0.5, question.level ?? 0.9).map(
            limitAt,
          ) as unknown as readonly [number, number],
        }
      : {}),
    ...(lifeNew === undefined || lifeRepaired === undefined
      ? {}
      : {
          annualNew:
            (replace - (question.salvageNew ?? 0) / (1 + rate) ** lifeNew) * recovery(rate, lifeNew) +
            (question.yearlyNew ?? 0),
        }),
  };
}

function savedBy({
  replace,
  lifeNew,
  lifeRepaired,
  rate = 0,
  salvageNew = 0,
  yearlyNew = 0,
  yearlyRepaired = 0,
}: LimitQuestion): number {
  if (lifeNew === undefined || lifeRepaired === undefined) return replace;
  const capital = (replace - salvageNew / (1 + rate) ** lifeNew) * recovery(rate, lifeNew);
  return (capital + yearlyNew - yearlyRepaired) / recovery(rate, lifeRepaired);
}

/** Central interval of Beta(a, b), by the F distribution (Abramowitz & Stegun 26.6.2). */
export function betaInterval(a: number, b: number, level: number): [number, number] {
  const tail = (1 - level) / 2;
  return [betaQuantile(a, b, tail), betaQuantile(a, b, 1 - tail)];
}

export function betaQuantile(a: number, b: number, p: number): number {
  const f = fisherQuantile(p, 2 * a, 2 * b);
  return (a * f) / (a * f + b);
}
