/**
 * Verdicts on the claims of a record: what was said, whether the readings bear it, and what may be said instead.
 *
 * Each relation has one judge. Conditions that no probability can repair make a claim undecidable: something else was on
 * or off on the two sides, the list is open, the claim is about the model and one unit was measured.
 */
import type { Claim, QuantityName } from "../record/schema.ts";
import { baseUnit, QUANTITY_DIMENSIONS } from "../units/index.ts";
import type { ClaimContext, Judged } from "./claim-context.ts";
import { cannot, claimed, measured } from "./claim-context.ts";
import { judgeAddsUp, judgeRanked, judgeSuperlative } from "./claim-lists.ts";
import type { Comparand, Side } from "./claim-sides.ts";
import { comparand, countedIn, counterparts, nameOf, quantityOf, sideOf, unlike } from "./claim-sides.ts";
import type { Ruling, Verdict } from "./claim-verdict.ts";
import {
  judgeDirection,
  judgeFigure,
  judgeFraction,
  judgeSame,
  judgeValue,
  lastPlace,
  smallestDifference,
} from "./claim-verdict.ts";
import { capital, directionWords, fractionWords, sameWords, size, valueWords } from "./claim-words.ts";
import type { Estimate } from "./estimate.ts";
import { covariance, sharedSources, subtract } from "./estimate.ts";
import type { Bench } from "./readings.ts";

export interface ClaimVerdict {
  readonly id: string;
  readonly verdict: Verdict;
  /** That the claim is true, given the readings; null where it cannot be computed, or where what was measured is not what is claimed. */
  readonly probability: number | null;
  /** Where a condition forbids a verdict: the probability for what was measured (our unit; the things on the list). */
  readonly probabilityOfMeasured?: number;
  /** Only the claimed figure stands in the way, and better readings may settle it. */
  readonly figureOpen?: true;
  /** What may be said instead. */
  readonly wording: string;
  /** Ids of readings; the sibling's with "sibling:" before them. */
  readonly restsOn: readonly string[];
  readonly text: string;
  readonly quantity: QuantityName | null;
  readonly unit: Estimate["unit"];
  /** The quantity judged (a difference, ratio or value), for the strip that shows it against its limit. */
  readonly value: number | null;
  readonly u: number | null;
  readonly interval: readonly [number, number] | null;
  readonly threshold: number | readonly [number, number] | null;
  /** Where the value has to lie for what is claimed: above or below the threshold, within the band, or at it. */
  readonly holds: "above" | "below" | "within" | "at" | null;
  /** The smallest difference that these instruments could support; null where none is judged. */
  readonly smallest: number | null;
  /** Errors that both sides share, and that therefore cancel or add. */
  readonly shared: readonly string[];
  readonly warnings: readonly string[];
}

export function judgeClaims(bench: Bench, sibling?: Bench): ClaimVerdict[] {
  return bench.record.claims.map((claim) => judgeClaim(claim, bench, sibling));
}

export function judgeClaim(claim: Claim, bench: Bench, sibling?: Bench): ClaimVerdict {
  const quantity = quantityOf(claim, bench);
  if (quantity === undefined) {
    return undecided(
      claim,
      null,
      "",
      `It cannot be told: the claim does not say which quantity of ${nameOf(bench.record, claim.subject)} it is about.`,
    );
  }
  const unit = baseUnit(QUANTITY_DIMENSIONS[quantity]);
  const judged = JUDGES[claim.relation]({ claim, quantity, bench, sibling, unit });
  const { ruling, sides } = judged;
  if (ruling === undefined) return undecided(claim, quantity, judged.unit, judged.wording, judged.warnings);
  const warnings = [...new Set([...(judged.warnings ?? []), ...sides.flatMap((side) => side.remarks)])];
  let wording = judged.wording;
  let forbidden = false;
  if (judged.said !== undefined) wording = `${wording} ${judged.said}`;
  if (judged.blocked !== undefined) {
    forbidden = true;
    wording = `${wording} But ${judged.blocked}.`;
  }
  if (claim.about === "model" && claim.published !== true) {
    // Unit-to-unit spread is not known from one unit, whatever this unit shows.
    forbidden = true;
    wording = `Our unit only: ${wording} One unit cannot speak for the model.`;
  }
  const barred = forbidden || ruling.conditional === true;
  const [a, b] = sides;
  return {
    id: claim.id,
    verdict: barred ? "cannot-tell" : ruling.verdict,
    probability: barred ? null : ruling.probability,
    ...(barred ? { probabilityOfMeasured: ruling.probability } : {}),
    ...(ruling.conditional && !forbidden ? { figureOpen: true as const } : {}),
    wording,
    restsOn: [...new Set(sides.flatMap((side) => side.figure.readings))],
    text: claim.text,
    quantity,
    unit: judged.unit,
    value: ruling.value,
    u: ruling.u,
    interval: ruling.interval,
    threshold: ruling.threshold,
    holds: ruling.holds ?? (typeof ruling.threshold === "number" ? "above" : "within"),
    smallest: judged.smallest ?? null,
    shared: a !== undefined && b !== undefined ? [...new Set(sharedSources(a.figure, b.figure).map(sourceText))] : [],
    warnings,
  };
}

function sourceText(source: string): string {
  const [kind = "", rest = ""] = source.split(/:(.*)/s);
  return `${kind.replace("-step", "")} of ${rest.split(/[[{]/)[0]}`;
}

function undecided(
  claim: Claim,
  quantity: QuantityName | null,
  unit: Estimate["unit"],
  wording: string,
  warnings: readonly string[] = [],
): ClaimVerdict {
  return {
    id: claim.id,
    verdict: "cannot-tell",
    probability: null,
    wording,
    restsOn: [],
    text: claim.text,
    quantity,
    unit,
    value: null,
    u: null,
    interval: null,
    threshold: null,
    holds: null,
    smallest: null,
    shared: [],
    warnings,
  };
}

const JUDGES: { readonly [relation in Claim["relation"]]: (context: ClaimContext) => Judged } = {
  lighter: (context) => directional(context, -1),
  thinner: (context) => directional(context, -1),
  smaller: (context) => directional(context, -1),
  shorter: (context) => directional(context, -1),
  fewer: (context) => directional(context, -1),
  heavier: (context) => directional(context, 1),
  thicker: (context) => directional(context, 1),
  larger: (context) => directional(context, 1),
  longer: (context) => directional(context, 1),
  more: (context) => directional(context, 1),
  same,
  fraction,
  superlative: judgeSuperlative,
  ranked: judgeRanked,
  "adds-up": judgeAddsUp,
};

function directional(context: ClaimContext, sign: 1 | -1): Judged {
  const { claim, quantity, bench, sibling, unit } = context;
  const own = sideOf(bench, claim.subject, quantity, "", countedIn(claim.text));
  if ("missing" in own) return cannot(context, own.missing);
  const figure = claimed(context);
  const other = comparand(claim, quantity, bench, sibling);
  if (other === undefined) {
    if (figure === undefined || figure.relative)
      return cannot(context, "the claim does not say what it is compared with");
    return againstStated(context, own, figure, sign);
  }
  if ("missing" in other.side) return cannot(context, other.side.missing);
  const base = { sides: [own, other.side], unit, ...conditions(context, own, other) };
  const d = measured(sign > 0 ? subtract(own.figure, other.side.figure) : subtract(other.side.figure, own.figure));
  const smallest = smallestDifference(d.u, d.dof);
  if (figure?.relative) {
    // "12 % lighter": the ratio less one, in the claimed direction.
    const r = judgeFraction(
      measured(own.figure),
      measured(other.side.figure),
      covariance(own.figure, other.side.figure),
      1,
      "over",
    );
    const share = { value: sign * (r.value - 1) * 100, u: r.u * 100, dof: d.dof };
    const ruling = judgeFigure(share, figure.value, figure.place, claim.band);
    return {
      ...base,
      unit: "%",
      ruling,
      smallest,
      wording: directionWords(
        claim.relation,
        own.name,
        other.side.name,
        ruling,
        "%",
        (100 * smallest) / Math.abs(other.side.figure.value),
      ),
    };
  }
  const rounded = claim.published ? [lastPlace(other.side.figure.value) / 2] : [];
  const ruling =
    figure === undefined
      ? judgeDirection(d, other.side.figure.terms.size === 0 ? rounded : [])
      : judgeFigure(d, figure.value, figure.place, claim.band);
  return {
    ...base,
    ruling,
    smallest,
    wording: directionWords(claim.relation, own.name, other.side.name, ruling, unit, smallest),
  };
}

/** Against a limit or a published figure that the claim itself states. */
function againstStated(
  context: ClaimContext,
  own: Side,
  figure: { value: number; place: number },
  sign: 1 | -1,
): Judged {
  const { claim, unit } = context;
  const x = measured(own.figure);
  const d = { ...x, value: sign * (x.value - figure.value) };
  const ruling = judgeDirection(d, claim.published ? [figure.place / 2] : []);
  const stated = `${claim.published ? "the published " : ""}${claim.value} ${claim.unit ?? ""}`.trim();
  const smallest = smallestDifference(d.u, d.dof);
  return {
    sides: [own],
    unit,
    ruling,
    smallest,
    wording: directionWords(claim.relation, own.name, stated, ruling, unit, smallest),
    ...(claim.published
      ? { warnings: ["a published figure is rounded, may have a tolerance, and may count other things in"] }
      : {}),
  };
}

function same(context: ClaimContext): Judged {
  const { claim, quantity, bench, sibling, unit } = context;
  const own = sideOf(bench, claim.subject, quantity, "", countedIn(claim.text));
  if ("missing" in own) return cannot(context, own.missing);
  const figure = claimed(context);
  const other = comparand(claim, quantity, bench, sibling);
  if (other === undefined) {
    if (figure === undefined || figure.relative)
      return cannot(context, "the claim does not say what it is compared with");
    const x = measured(own.figure);
    const ruling = judgeValue(x, figure.value, figure.place, claim.band);
    const stated = `${claim.published ? "the published " : ""}${claim.value} ${claim.unit ?? unit}`;
    return {
      sides: [own],
      unit,
      ruling,
      smallest: smallestDifference(x.u, x.dof),
      wording: valueWords(own.name, quantity, ruling, unit, stated),
    };
  }
  if ("missing" in other.side) return cannot(context, other.side.missing);
  const d = measured(subtract(own.figure, other.side.figure));
  const base = {
    sides: [own, other.side],
    unit,
    smallest: smallestDifference(d.u, d.dof),
    ...conditions(context, own, other),
  };
  if (figure === undefined) {
    const ruling: Ruling = judgeDirection(d);
    return {
      ...base,
      ruling,
      wording: `${capital(own.name)} and ${other.side.name} differ by ${size(ruling, unit)}.`,
      blocked: "what would still count as the same is not stated",
    };
  }
  const delta = figure.relative ? (figure.value / 100) * Math.abs(other.side.figure.value) : figure.value;
  if (!(delta > 0)) return cannot(context, "what would still count as the same is not stated");
  const ruling = judgeSame(d, delta);
  return { ...base, ruling, wording: sameWords(own.name, other.side.name, ruling, unit, delta) };
}

function fraction(context: ClaimContext): Judged {
  const { claim, quantity, bench, sibling } = context;
  if (claim.value === undefined) return cannot(context, "the claim does not say which fraction");
  const q = claim.unit === "%" ? claim.value / 100 : claim.value;
  const own = sideOf(bench, claim.subject, quantity, "", countedIn(claim.text));
  if ("missing" in own) return cannot(context, own.missing);
  const other = comparand(claim, quantity, bench, sibling);
  if (other === undefined) return cannot(context, "the claim does not say what it is a fraction of");
  if ("missing" in other.side) return cannot(context, other.side.missing);
  const [a, b] = [measured(own.figure), measured(other.side.figure)];
  if (!(Math.abs(b.value) > 3 * b.u))
    return cannot(context, `${other.side.name} is not clear of zero, so that nothing is a fraction of it`);
  const ruling = judgeFraction(a, b, covariance(own.figure, other.side.figure), q, claim.band);
  return {
    sides: [own, other.side],
    unit: "",
    ruling,
    wording: fractionWords(own.name, other.side.name, ruling, q),
    ...conditions(context, own, other),
  };
}

/** Unlike `on` and `off`: of like things it forbids a verdict; of a part and the whole it is only said. */
function conditions(
  { claim, bench, sibling }: ClaimContext,
  own: Side,
  other: Comparand,
): Pick<Judged, "blocked" | "said"> {
  if ("missing" in other.side) return {};
  const back = (id: string) => {
    if (!other.sibling || sibling === undefined) return id;
    return counterparts(sibling.record, bench.record, [id])[0] ?? id;
  };
  const differing = unlike(own, other.side, back);
  if (differing.length === 0) return {};
  // A part and the whole: what the whole was weighed without is no part of the part.
  const isWhole = (ids: readonly string[]) => ids.includes("device");
  const otherIs = (claim.than === "sibling" ? claim.subject : [claim.than ?? ""]).map((id) =>
    id.replace("sibling:", ""),
  );
  const partAndWhole = isWhole(claim.subject) !== isWhole(otherIs);
  // Two different things of one device need not have the same parts on; glue and screws weigh on either, and a SIM where it is on.
  const alike = other.sibling || differing.some((entry) => /: ((on|off) (glue|screws)|on SIM)$/.test(entry));
  return partAndWhole || !alike
    ? { said: `Measured with ${differing.join("; ")}.` }
    : { blocked: `the two sides were not measured alike (${differing.join("; ")})` };
}
