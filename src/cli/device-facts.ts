/** What the planner and the law say of a device, for putting two beside each other. */
import { performance } from "node:perf_hooks";
import { InputError, InputFaults } from "../core/errors.ts";
import { assessRecord } from "../core/law/index.ts";
import type { DeviceFacts } from "../core/measure/index.ts";
import { PRIORITY_ROLES, type PriorityRole, type TeardownRecord } from "../core/record/index.ts";
import { findWayIn } from "../core/route/ways/index.ts";

type Way = { seconds: number; steps: number; proved: boolean };

/** Least seconds and, apart, least steps to each priority part (of several the longest); and the legal index. */
export function deviceFacts(record: TeardownRecord, limit: number, warn: (text: string) => void): DeviceFacts {
  const control = { now: () => performance.now() };
  const ways: { [role in PriorityRole]?: Way | null } = {};
  for (const role of PRIORITY_ROLES) {
    const parts = record.parts.filter((part) => part.role === role && part.base !== true);
    if (parts.length === 0) continue;
    const found = parts.map((part) => wayTo(record, part.id, limit));
    ways[role] = found.some((way) => way === null) ? null : longest(found as Way[]);
    if (ways[role] === null) warn(`${record.device.name}: there is no way in to every ${role} without damage`);
  }
  try {
    const { answer } = assessRecord(record, { findWayIn, control, limit });
    return { ways, index: answer.index, class: answer.class };
  } catch (error) {
    if (!(error instanceof InputError || error instanceof InputFaults)) throw error;
    warn(`${record.device.name}: no index (${error.message.split("\n")[0]})`);
    return { ways, index: null, class: null };
  }
}

function wayTo(record: TeardownRecord, part: string, limit: number): Way | null {
  const ask = (least: "seconds" | "steps") =>
    findWayIn(record, { to: [part], least }, { now: () => performance.now(), deadline: performance.now() + limit });
  const quick = ask("seconds");
  const short = ask("steps");
  if (!("operations" in quick) || !("operations" in short)) return null;
  return { seconds: quick.seconds, steps: short.steps, proved: quick.proved && short.proved };
}

function longest(ways: readonly Way[]): Way {
  return {
    seconds: Math.max(...ways.map((way) => way.seconds)),
    steps: Math.max(...ways.map((way) => way.steps)),
    proved: ways.every((way) => way.proved),
  };
}
