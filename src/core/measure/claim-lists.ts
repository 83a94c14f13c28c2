/** Claims about lists: the extreme one, an order, and parts that add up to a whole. */
import type { ClaimContext, Judged } from "./claim-context.ts";
import { cannot, claimed, measured } from "./claim-context.ts";
import type { Side } from "./claim-sides.ts";
import { nameOf, sideOf } from "./claim-sides.ts";
import type { Ruling } from "./claim-verdict.ts";
import { judgeSame, LEVEL, smallestDifference, verdictOf } from "./claim-verdict.ts";
import { capital, leastText, size } from "./claim-words.ts";
import { closureOf } from "./closure.ts";
import { coverageFactor } from "./distributions.ts";
import type { Estimate } from "./estimate.ts";
import { add, subtract } from "./estimate.ts";
import { massClosure } from "./mass-budget.ts";
import { probabilityBelow } from "./probability.ts";
import type { Bench } from "./readings.ts";
import { thicknessClosures } from "./thickness-budget.ts";

const SMALLEST = /\b(thinn?est|lightest|smallest|shortest|slimmest|fewest|least|lowest|narrowest)\b/i;
const LARGEST = /\b(thickest|heaviest|largest|biggest|longest|most|highest|tallest|widest|greatest)\b/i;

/** P(low < high) for two figures with what they share taken out. */
function pair(low: Estimate, high: Estimate): { value: number; u: number; dof: number; p: number } {
  const d = measured(subtract(high, low));
  const p = d.u === 0 ? (d.value > 0 ? 1 : 0) : 1 - probabilityBelow(0, d.value, d.u, d.dof);
  return { ...d, p };
}

function interval(d: { value: number; u: number; dof: number }): readonly [number, number] {
  const U = d.u === 0 ? 0 : coverageFactor(LEVEL, d.dof) * d.u;
  return [d.value - U, d.value + U];
}

/** "thinnest", "heaviest": every pair must hold (intersection-union); the list must be complete and named. */
export function judgeSuperlative(context: ClaimContext): Judged {
  const { claim, quantity, bench, unit } = context;
  const smallest = SMALLEST.test(claim.text);
  if (!smallest && !LARGEST.test(claim.text))
    return cannot(context, "the words do not say which end of the list is meant");
  const [first, ...listed] = claim.subject;
  const own = sideOf(bench, [first!], quantity);
  if ("missing" in own) return cannot(context, own.missing);
  const { others, complete, unmeasured } = rivals(context, first!, listed);
  if (others.length === 0) return cannot(context, `nothing else was measured to compare ${own.name} with`);
  const pairs = others.map((other) => ({
    other,
    ...(smallest ? pair(own.figure, other.figure) : pair(other.figure, own.figure)),
  }));
  const worst = pairs.reduce((a, b) => (b.p < a.p ? b : a));
  const ruling: Ruling = {
    verdict: verdictOf(worst.p),
    probability: worst.p,
    value: worst.value,
    u: worst.u,
    interval: interval(worst),
    threshold: 0,
  };
  const end = (smallest ? SMALLEST : LARGEST).exec(claim.text)![0].toLowerCase();
  const of = `the ${others.length + 1} measured`;
  const rest = `nearest ${worst.other.name}, ${size(ruling, unit)} away`;
  const wording =
    ruling.verdict === "supported"
      ? `${capital(own.name)} is the ${end} of ${of} (${rest}).`
      : ruling.verdict === "not-supported"
        ? `${capital(own.name)} is not the ${end} of ${of}: ${worst.other.name} is beyond it by ${size(ruling, unit)}.`
        : `Whether ${own.name} is the ${end} of ${of} cannot be told: ${rest}.`;
  const open = complete ? unmeasured : `the list is not named, so that nothing can be said beyond ${of}`;
  // A single one that is beyond it refutes the claim, however long the list is.
  const blocked = ruling.verdict === "not-supported" ? undefined : open;
  return {
    sides: [own, worst.other],
    unit,
    ruling,
    smallest: smallestDifference(worst.u, worst.dof),
    wording,
    ...(blocked === undefined ? {} : { blocked }),
  };
}

/** What the extreme one is compared with: the rest of the subject; the sibling; every other part of the device. */
function rivals(
  { claim, quantity, bench, sibling }: ClaimContext,
  first: string,
  listed: readonly string[],
): { others: Side[]; complete: boolean; unmeasured?: string } {
  const found = (from: Bench, ids: readonly string[], owner = "") =>
    ids.map((id) => sideOf(from, [id], quantity, owner));
  const sort = (sides: ReturnType<typeof found>, complete: boolean) => {
    const lost = sides.flatMap((side) => ("missing" in side ? [side.missing] : []));
    return {
      others: sides.filter((side): side is Side => !("missing" in side)),
      complete,
      ...(lost.length > 0 ? { unmeasured: lost.join("; ") } : {}),
    };
  };
  if (listed.length > 0) return sort(found(bench, listed), true);
  if (first === "device" || claim.than?.startsWith("sibling")) {
    const named = claim.than === "sibling" || claim.than?.startsWith("sibling:") === true;
    const there = claim.than?.startsWith("sibling:") ? claim.than.slice("sibling:".length) : first;
    return sibling === undefined
      ? { others: [], complete: false }
      : sort(found(sibling, [there], there === "device" ? "" : ` of ${sibling.record.device.name}`), named);
  }
  // "The heaviest part": all parts that were measured by themselves; the rest is too light to matter or not known.
  const named = claim.than === undefined || claim.than === "device";
  const parts = bench.record.parts.filter((part) => part.id !== first && part.within !== first);
  const sides = found(
    bench,
    parts.map((part) => part.id),
  );
  const lost = sides.filter((side) => "missing" in side).length;
  return {
    others: sides.filter((side): side is Side => !("missing" in side)),
    complete: named,
    ...(lost > 0 ? { unmeasured: `${lost} of the parts were not measured by themselves` } : {}),
  };
}

/** An order of three or more: each neighbouring pair must hold. */
export function judgeRanked(context: ClaimContext): Judged {
  const { claim, quantity, bench, unit } = context;
  if (claim.subject.length < 2) return cannot(context, "an order needs at least two things");
  const sides = claim.subject.map((id) => sideOf(bench, [id], quantity));
  const lost = sides.find((side) => "missing" in side);
  if (lost !== undefined && "missing" in lost) return cannot(context, lost.missing);
  const list = sides as Side[];
  const falls = LARGEST.test(claim.text)
    ? true
    : SMALLEST.test(claim.text)
      ? false
      : list[0]!.figure.value >= list.at(-1)!.figure.value;
  const pairs = list.slice(1).map((side, i) => {
    const before = list[i]!;
    return {
      names: [before.name, side.name],
      ...(falls ? pair(side.figure, before.figure) : pair(before.figure, side.figure)),
    };
  });
  const worst = pairs.reduce((a, b) => (b.p < a.p ? b : a));
  const ruling: Ruling = {
    verdict: verdictOf(worst.p),
    probability: worst.p,
    value: worst.value,
    u: worst.u,
    interval: interval(worst),
    threshold: 0,
  };
  const order = list.map((side) => side.name).join(", then ");
  const between = `${worst.names.join(" and ")}, ${size(ruling, unit)} apart`;
  const wording =
    ruling.verdict === "supported"
      ? `By ${quantity}, ${falls ? "largest" : "smallest"} first: ${order} (closest: ${between}).`
      : ruling.verdict === "not-supported"
        ? `Not in that order: ${worst.names.join(" and ")} are the other way round by ${size(ruling, unit)}.`
        : `The order cannot be told for ${between}: call them equal.`;
  return { sides: list, unit, ruling, smallest: smallestDifference(worst.u, worst.dof), wording };
}

/** Parts against the device: |R| + t·u <= y. Without y only whether they close (R²/u² below χ² at 95 %). */
export function judgeAddsUp(context: ClaimContext): Judged {
  const { claim, quantity, bench, unit } = context;
  const found = residual(context);
  if ("missing" in found) return cannot(context, found.missing);
  const { figure } = found;
  const d = measured(figure);
  const sides: Side[] = [{ figure, name: "the parts", on: [], off: [], remarks: [] }];
  const whole = nameOf(bench.record, ["device"]);
  const left = `${Math.abs(d.value) < 1e-9 ? "nothing" : size({ ...judgeSame(d, 1), value: d.value }, unit)} ${d.value < 0 ? "too much" : "unaccounted for"}`;
  if (claim.value === undefined) {
    const test = closureOf(d.value, d.u);
    const ruling: Ruling = {
      verdict: verdictOf(test.p),
      probability: test.p,
      value: d.value,
      u: d.u,
      interval: interval(d),
      threshold: 0,
      holds: "at",
    };
    const wording = test.closes
      ? `The ${quantity} budget of ${whole} closes within its uncertainty (${left}).`
      : `The ${quantity} budget of ${whole} does not close: ${left}.`;
    const open = test.closes ? { blocked: "within how much it should add up is not stated" } : {};
    return { sides, unit, ruling, wording, smallest: smallestDifference(d.u, d.dof), ...open };
  }
  const stated = claimed(context)!;
  const y = Math.abs(stated.relative ? (stated.value / 100) * found.whole.value : stated.value);
  const ruling = judgeSame(d, y);
  const to = `${claim.value} ${claim.unit ?? unit}`;
  const wording =
    ruling.verdict === "supported"
      ? `The parts add up to ${whole} within ${to} (${left}).`
      : ruling.verdict === "not-supported"
        ? `The parts do not add up to ${whole} within ${to}: ${left}.`
        : `Whether the parts add up to ${whole} within ${to} cannot be told: ${left}; ${leastText(Math.abs(d.value) + smallestDifference(d.u, d.dof), unit)} could be said.`;
  return { sides, unit, ruling, wording, smallest: smallestDifference(d.u, d.dof) };
}

function residual({
  claim,
  quantity,
  bench,
}: ClaimContext): { readonly figure: Estimate; readonly whole: Estimate } | { readonly missing: string } {
  const parts = claim.subject.filter((id) => id !== "device");
  if (parts.length > 0) {
    const whole = sideOf(
      bench,
      claim.than === undefined || claim.than === "device" ? ["device"] : [claim.than],
      quantity,
    );
    if ("missing" in whole) return whole;
    const sum = sideOf(bench, parts, quantity);
    const each = "missing" in sum ? parts.map((id) => sideOf(bench, [id], quantity)) : [sum];
    const lost = each.find((side) => "missing" in side);
    if (lost !== undefined && "missing" in lost) return lost;
    return { whole: whole.figure, figure: subtract(whole.figure, add(...each.map((side) => (side as Side).figure))) };
  }
  const closed =
    quantity === "mass" ? massClosure(bench) : quantity === "thickness" ? thicknessClosures(bench)[0] : undefined;
  if (closed === undefined) return { missing: `there is no budget of ${quantity}` };
  const { budget, residual: figure } = closed;
  if (figure === undefined) return { missing: `the ${quantity} budget has no whole or no parts` };
  if (budget.missing.length > 0) {
    return {
      missing: `${nameOf(bench.record, budget.missing)} ${budget.missing.length === 1 ? "was" : "were"} not measured`,
    };
  }
  return { figure, whole: closed.whole! };
}
