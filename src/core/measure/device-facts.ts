/**
 * What the planner and the law say of a device, for putting two beside each other: least seconds and, apart, least
 * legal steps to each priority part (a part that serves a role counts as it; of several of one role the longest), and the index.
 *
 * Cost: two plans a priority part, each cut off at `limit`; then the law's own plans. Not part of the room's index, so
 * that figures do not bring the planner along.
 */
import { InputError, InputFaults } from "../errors.ts";
import { assessRecord, instancesOf } from "../law/index.ts";
import { PRIORITY_ROLES, type PriorityRole, type TeardownRecord } from "../record/index.ts";
import { findWayIn } from "../route/ways/index.ts";
import type { DeviceFacts } from "./compare-records.ts";

type Way = { readonly seconds: number; readonly steps: number; readonly proved: boolean };

export interface FactsControl {
  /** Milliseconds, from any zero. */
  readonly now: () => number;
  /** Milliseconds for each plan. */
  readonly limit: number;
  /** What could not be had, in words. */
  readonly warn?: (text: string) => void;
  /** After each priority part: so many of so many. */
  readonly done?: (done: number, of: number) => void;
}

export function deviceFacts(record: TeardownRecord, { now, limit, warn, done }: FactsControl): DeviceFacts {
  const ways: { [role in PriorityRole]?: Way | null } = {};
  const here = PRIORITY_ROLES.map((role) => ({
    role,
    parts: instancesOf(record, role).filter((part) => part.base !== true),
  })).filter(({ parts }) => parts.length > 0);
  const known = new Map<string, Way | null>();
  const wayTo = (part: string): Way | null => {
    if (!known.has(part)) known.set(part, planned(part));
    return known.get(part)!;
  };
  const planned = (part: string): Way | null => {
    const [quick, short] = (["seconds", "steps"] as const).map((least) =>
      findWayIn(record, { to: [part], least }, { now, deadline: now() + limit }),
    );
    if (!("operations" in quick!) || !("operations" in short!)) return null;
    return { seconds: quick.seconds, steps: short.steps, proved: quick.proved && short.proved };
  };
  here.forEach(({ role, parts }, i) => {
    const found = parts.map((part) => wayTo(part.id));
    ways[role] = found.some((way) => way === null) ? null : longest(found as Way[]);
    if (ways[role] === null) warn?.(`${record.device.name}: there is no way in to every ${role} without damage`);
    done?.(i + 1, here.length + 1);
  });
  try {
    const { answer } = assessRecord(record, { findWayIn, control: { now }, limit });
    return { ways, index: answer.index, class: answer.class };
  } catch (error) {
    if (!(error instanceof InputError || error instanceof InputFaults)) throw error;
    warn?.(`${record.device.name}: no index (${error.message.split("\n")[0]})`);
    return { ways, index: null, class: null };
  } finally {
    done?.(here.length + 1, here.length + 1);
  }
}

function longest(ways: readonly Way[]): Way {
  return {
    seconds: Math.max(...ways.map((way) => way.seconds)),
    steps: Math.max(...ways.map((way) => way.steps)),
    proved: ways.every((way) => way.proved),
  };
}
