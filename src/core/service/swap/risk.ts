/**
 * Risk of damage by joint and method, as a Beta that logged outcomes update: the chance of the record, or where it has none
 * the prior of common practice (no source), with a small weight. Hazards to people and to the cell are never priced: they are
 * gates and say who may do the work.
 */
import type { Hazard, Joint, Money, Release, TeardownRecord } from "../../record/index.ts";
import type { WayIn } from "../../route/ways/index.ts";
import { microsOf, moneyFrom, times } from "../money.ts";
import { betaInterval } from "../reckon/replace-limit.ts";
import { releasesOf } from "./closing.ts";

/** Jobs that a chance of the record, or a prior, counts for. Our own setting. */
export const PRIOR_WEIGHT = 20;

export interface RiskItem {
  readonly joint: string;
  readonly action: string;
  readonly part: string;
  /** Mean of the Beta, and its central 90 %. */
  readonly chance: number;
  readonly low: number;
  readonly high: number;
  readonly a: number;
  readonly b: number;
  readonly basis: "record" | "common practice, no source";
  readonly outcomes: { readonly fine: number; readonly damaged: number };
  /** The part is replaced anyway: its damage costs nothing. */
  readonly replaced?: true;
}

export interface HazardGate {
  readonly joint: string;
  readonly action: string;
  readonly hazard: Hazard;
  readonly who: string;
}

export interface Risk {
  /** Chance that at least one thing is damaged that is not replaced anyway; the items taken as independent. */
  readonly chance: number;
  /** null: no price, or prices in several currencies. */
  readonly expected: Money | null;
  readonly items: readonly RiskItem[];
  readonly hazards: readonly HazardGate[];
  readonly assumptions: readonly string[];
}

const WHO: Readonly<Record<Hazard, string>> = {
  puncture:
    "People trained for lithium cells, with the site's fire measures at hand; not alone, and never on a swollen or hot cell.",
  short: "Qualified people: the cell cannot be taken as isolated here; insulated tools, no rings or watches.",
  burn: "People who know this heat source; gloves, and the hot work is never left alone.",
  fume: "Only with extraction at the work.",
  shard: "Only with eye protection and cut-proof gloves.",
};

/** Priors of common practice (no source), first time and practised: middle of the range. */
const PRIORS = {
  glass: { first: 0.1, practised: 0.02 },
  display: { first: 0.065, practised: 0.0125 },
  connector: { first: 0.005, practised: 0.001 },
} as const;

export function riskOf(
  record: TeardownRecord,
  way: WayIn,
  replaced: ReadonlySet<string>,
  hands: "first" | "practised",
): Risk {
  const releases = [...releasesOf(record, way).values()];
  const items = releases.flatMap(({ joint, release }) =>
    harmsOf(record, joint, release, hands).map(({ part, chance, basis }): RiskItem => {
      const outcomes = outcomesOf(record, joint.id, part);
      const a = chance * PRIOR_WEIGHT + outcomes.damaged;
      const b = (1 - chance) * PRIOR_WEIGHT + outcomes.fine;
      const [low, high] = a > 0 && b > 0 ? betaInterval(a, b, 0.9) : [a > 0 ? 1 : 0, a > 0 ? 1 : 0];
      return {
        joint: joint.id,
        action: release.action,
        part,
        chance: a / (a + b),
        low,
        high,
        a,
        b,
        basis,
        outcomes,
        ...(replaced.has(part) ? { replaced: true as const } : {}),
      };
    }),
  );
  const counted = items.filter((item) => !item.replaced);
  const prices = counted.map(({ part }) => record.parts.find(({ id }) => id === part)?.spare?.price);
  const currencies = new Set(prices.flatMap((price) => (price ? [price.currency] : [])));
  const [currency] = currencies;
  const assumptions = counted.flatMap(({ part }, i) =>
    prices[i] === undefined ? [`${part} has no price: what may happen to it counts 0.`] : [],
  );
  if (items.some(({ basis }) => basis !== "record"))
    assumptions.push("Chances of damage that the record does not give are those of common practice (no source).");
  return {
    chance: 1 - counted.reduce((none, { chance }) => none * (1 - chance), 1),
    expected:
      currencies.size === 1 && currency !== undefined
        ? moneyFrom(
            counted.reduce((sum, { chance }, i) => sum + (prices[i] ? times(microsOf(prices[i]!), chance) : 0n), 0n),
            currency,
          )
        : null,
    items,
    hazards: releases.flatMap(({ joint, release }) =>
      (release.hazard ?? []).map((hazard) => ({ joint: joint.id, action: release.action, hazard, who: WHO[hazard] })),
    ),
    assumptions: [...new Set(assumptions)],
  };
}

interface Harm {
  readonly part: string;
  readonly chance: number;
  readonly basis: RiskItem["basis"];
}

function harmsOf(record: TeardownRecord, joint: Joint, release: Release, hands: "first" | "practised"): Harm[] {
  if (release.harm !== undefined) return release.harm.map(({ part, chance }) => ({ part, chance, basis: "record" }));
  const held = joint.holds.flatMap((id) => record.parts.find((part) => part.id === id) ?? []);
  const prior = (part: string, chance: number): Harm => ({ part, chance, basis: "common practice, no source" });
  const bonded = joint.kind === "adhesive" || joint.kind === "tape" || joint.kind === "seal";
  const forced = release.action === "slice" || release.action === "pry";
  const display = held.find((part) => part.role === "display");
  if (bonded && forced && display) return [prior(display.id, PRIORS.display[hands])];
  const glass = held.find((part) => part.role === "back-cover" && /glass/i.test(part.material ?? part.name));
  if (bonded && forced && glass) return [prior(glass.id, PRIORS.glass[hands])];
  if (joint.kind !== "connector" || release.action !== "unplug") return [];
  // What is plugged in is at risk rather than what it is plugged into.
  const plugged = held.find((part) => !part.base && part.role !== "board") ?? held.find((part) => !part.base);
  return plugged ? [prior(plugged.id, PRIORS.connector[hands] * (joint.count ?? 1))] : [];
}

/** Logged work on a joint that ended fine or damaged; parts named by the entry narrow it to them. */
function outcomesOf(record: TeardownRecord, joint: string, part: string): { fine: number; damaged: number } {
  let fine = 0;
  let damaged = 0;
  for (const entry of record.log) {
    if (entry.draft || entry.outcome === undefined || !(entry.joints ?? []).includes(joint)) continue;
    if (entry.outcome === "fine") fine += 1;
    else if (entry.parts === undefined || entry.parts.length === 0 || entry.parts.includes(part)) damaged += 1;
  }
  return { fine, damaged };
}
