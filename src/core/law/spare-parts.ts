/**
 * Points for spare parts from who can get them (2023/1669 Annex IV point 5): the highest level that is fully met; parts
 * that the device does not have count as met. A part offered to end users is taken as offered to professionals too.
 */
import type { Part, PriorityRole, TeardownRecord } from "../record/schema.ts";
import type { RuleSet } from "./rules/types.ts";
import { rolesOf } from "./score.ts";
import { priorityRolesOf, type Span } from "./segment.ts";

type Offer = "end-users" | "professionals" | "nobody";

export interface SparePoints extends Span {
  /** Parts of which it is not known to whom they are sold. */
  readonly unknown: readonly Part[];
  /** With some answers to what is unknown no level is met, and the law has no points. */
  readonly mayHaveNone: boolean;
  /** The parts that keep a level from being met at worst, and to whom each must be offered for it. */
  readonly shortOf: (points: number) => readonly { readonly part: Part; readonly to: "end-users" | "professionals" }[];
  /** The level met at worst and what keeps it from the next. */
  readonly because: string;
}

/** The roles whose spare parts the act asks for: the hinge only of foldable smartphones. */
export function askedRoles(record: TeardownRecord): readonly PriorityRole[] {
  const { foldable, kind } = record.device;
  return rolesOf(foldable).filter((role) => role !== "hinge" || kind !== "slate-tablet");
}

export function sparePoints(rules: RuleSet, record: TeardownRecord): SparePoints {
  const asked = askedRoles(record);
  const parts = record.parts.filter((part) => priorityRolesOf(part).some((role) => asked.includes(role)));
  const unknown = parts.filter((part) => part.spare?.to === undefined);
  /** Every unknown part offered as the level needs it, which is the least that meets it. */
  const leastFor = (endUsers: readonly PriorityRole[] | "all"): ((part: Part) => Offer) => {
    return (part) => part.spare?.to ?? (asksEndUsers(part, asked, endUsers) ? "end-users" : "professionals");
  };
  const levelWith = (offer: (part: Part) => Offer): number | null =>
    rules.spareLevels.find((level) => parts.every((part) => meets(part, asked, level.endUsers, offer(part))))?.points ??
    null;
  const lowest = rules.spareLevels.at(-1);
  const low = levelWith(leastFor(lowest?.endUsers ?? "all"));
  const high = levelWith((part) => part.spare?.to ?? "end-users");
  const none = levelWith((part) => part.spare?.to ?? "nobody");
  return {
    low,
    high,
    unknown,
    mayHaveNone: unknown.length > 0 && none === null && low !== null,
    shortOf: (points) => {
      const endUsers = rules.spareLevels.find((level) => level.points === points)?.endUsers ?? "all";
      const offer = leastFor(lowest?.endUsers ?? "all");
      return parts
        .filter((part) => !meets(part, asked, endUsers, offer(part)))
        .map((part) => ({ part, to: asksEndUsers(part, asked, endUsers) ? "end-users" : "professionals" }));
    },
    because: becauseOf(rules, parts, asked, low, leastFor(lowest?.endUsers ?? "all")),
  };
}

function asksEndUsers(part: Part, asked: readonly PriorityRole[], endUsers: readonly PriorityRole[] | "all"): boolean {
  return priorityRolesOf(part).some((role) => asked.includes(role) && (endUsers === "all" || endUsers.includes(role)));
}

function meets(
  part: Part,
  asked: readonly PriorityRole[],
  endUsers: readonly PriorityRole[] | "all",
  offer: Offer,
): boolean {
  if (asksEndUsers(part, asked, endUsers)) return offer === "end-users";
  return offer !== "nobody";
}

function becauseOf(
  rules: RuleSet,
  parts: readonly Part[],
  asked: readonly PriorityRole[],
  points: number | null,
  offer: (part: Part) => Offer,
): string {
  const next = rules.spareLevels.filter((level) => points === null || level.points > points).at(-1);
  if (next === undefined) return "all priority parts are offered to end users and professionals";
  const short = parts.filter((part) => !meets(part, asked, next.endUsers, offer(part)));
  const names = short
    .map((part) => `${part.name} (${part.spare?.to ?? `not known, at worst ${offer(part)}`})`)
    .join(", ");
  return `${points === null ? "no level is met" : `${points} points`}; for ${next.points} the offer falls short for ${names}`;
}
