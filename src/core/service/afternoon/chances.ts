/**
 * Last chances: for each thing that is not known, when along an order of work it can first be settled, and the last
 * operation before which it still can. What an operation closes for good is said before it.
 *
 * A chance is open in a state when the thing can be seen, reached or held then; its windows are the longest runs of such
 * states. What fits into the minutes left is taken by what it decides (the class, then a claim, then time on a way in,
 * then the record) for each second that it takes.
 */
import { type BenchState, CLOSED_DEVICE, type Doing, statesAlong } from "./states.ts";
import type { Want, Worth } from "./wants.ts";

export interface Chance {
  readonly id: string;
  readonly kind: Want["kind"];
  readonly does: string;
  readonly seconds: number;
  readonly worth: Worth;
  /** Operations done when it can first be settled: 0 = before the first. null: nowhere along this order of work. */
  readonly opens: number | null;
  /** The operation (its place from 0) that closes it for good; null: it stays open to the end. */
  readonly closedBy: number | null;
  /** The runs of states in which it can be settled, first and last. */
  readonly windows: readonly (readonly [number, number])[];
  /** It can be settled in the state that work has come to. */
  readonly now: boolean;
  /** It was open, and along this order of work never is again. */
  readonly gone: boolean;
}

/** @param done operations of the order that are done already */
export function chancesAlong(
  wants: readonly Want[],
  operations: readonly Doing[],
  done = 0,
  start: BenchState = CLOSED_DEVICE,
): Chance[] {
  const states = statesAlong(start, operations);
  return wants.map((want) => {
    const { when, ...told } = want;
    const windows = runs(states.map(when));
    const last = windows.at(-1)?.[1] ?? null;
    return {
      ...told,
      opens: windows[0]?.[0] ?? null,
      closedBy: last === null || last === operations.length ? null : last,
      windows,
      now: windows.some(([from, to]) => from <= done && done <= to),
      gone: last !== null && last < done,
    };
  });
}

function runs(open: readonly boolean[]): [number, number][] {
  const found: [number, number][] = [];
  open.forEach((one, index) => {
    const last = found.at(-1);
    if (!one) return;
    if (last !== undefined && last[1] === index - 1) last[1] = index;
    else found.push([index, index]);
  });
  return found;
}

/** What the next operation closes for good. */
export const closedNext = (chances: readonly Chance[], done: number): Chance[] =>
  chances.filter((chance) => chance.closedBy === done).sort(byWorth);

/** What is still to be had, most worth first, as far as the minutes go. */
export function withinMinutes(
  chances: readonly Chance[],
  minutes: number,
): { readonly take: Chance[]; readonly leave: Chance[] } {
  const take: Chance[] = [];
  const leave: Chance[] = [];
  let left = 60 * minutes;
  for (const chance of [...chances].filter((one) => one.opens !== null && !one.gone).sort(byWorth)) {
    if (chance.seconds <= left) {
      take.push(chance);
      left -= chance.seconds;
    } else leave.push(chance);
  }
  const soonest = (a: Chance, b: Chance) => (a.opens ?? 0) - (b.opens ?? 0) || byWorth(a, b);
  return { take: take.sort(soonest), leave };
}

/** A class before a claim before time before completeness; then what is had for the fewest seconds. */
export function byWorth(a: Chance, b: Chance): number {
  const rank = ({ worth }: Chance): number =>
    worth.class !== undefined ? 0 : worth.claim !== undefined ? 1 : worth.seconds !== undefined ? 2 : 3;
  const per = ({ worth, seconds }: Chance): number => (worth.seconds ?? 0) / seconds;
  return rank(a) - rank(b) || per(b) - per(a) || a.seconds - b.seconds || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);
}

export function worthText({ worth }: Pick<Chance, "worth">): string {
  const parts = [
    worth.class === undefined ? null : `decides between class ${worth.class.map((one) => one ?? "none").join(" and ")}`,
    worth.claim === undefined
      ? null
      : `${worth.among ? "one of the readings that decide" : "decides"} “${worth.claim}”`,
    worth.seconds === undefined ? null : `${Math.round(worth.seconds)} s of a way in hang on it`,
  ].filter((one) => one !== null);
  return parts.length === 0 ? "completes the record" : parts.join(", ");
}

/** Said before an operation: what it closes for good. */
export function lastChanceText(before: string, chances: readonly Chance[]): string | null {
  if (chances.length === 0) return null;
  const each = chances.map((one) => `${one.does}, ${Math.round(one.seconds)} s, ${worthText(one)}`);
  return `Before you ${before}, last chance: ${each.join("; ")}.`;
}
