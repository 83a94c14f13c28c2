import { useEffect, useMemo, useRef, useState } from "react";
import { PRIORITY_ROLES, type TeardownRecord } from "../../core/record/index.ts";
import { DEFAULT_READINGS } from "../../core/route/problem.ts";
import type { Question, Unreachable, WayIn } from "../../core/route/ways/types.ts";
import { spokenTime } from "../../figures/index.ts";
import type { KeptRecord } from "../../server/api.ts";
import { useComputed } from "../compute/use-computed.ts";

/** Ways in and class of a record, as far as one line can tell them. */
interface Told {
  readonly record: TeardownRecord;
  readonly ways: ReadonlyMap<string, string>;
  readonly law: string;
}

const PLAN = 1;
const NONE: readonly Question[] = [];

/**
 * What the last change did: to the ways in of the parts that the law names (and the one that is chosen), and to the
 * class. Computed in the worker; what stood before stays until there is an answer.
 */
export function Effect({ kept: newest, part }: { readonly kept: KeptRecord; readonly part: string | null }) {
  const kept = useSettled(newest);
  const { record } = kept;
  const questions = useMemo(() => {
    const named = record.parts.filter((one) => !one.base && PRIORITY_ROLES.some((role) => role === one.role));
    const to = new Set([...(part === null ? [] : [part]), ...named.map((one) => one.id)]);
    const reachable = [...to].filter((id) => record.parts.some((one) => one.id === id && !one.base));
    return reachable.map((id): Question => ({ to: [id], least: "seconds", damage: true }));
  }, [record, part]);
  // Whoever types goes on typing: nothing is computed meanwhile, and at rest one thing after the other.
  const resting = kept === newest;
  const asked = resting && questions.length > 0;
  const ways = useComputed(kept, "ways", asked ? { questions, seconds: PLAN } : null).answer;
  const waysTold = questions.length === 0 || (ways.kind !== "working" && ways.kind !== "idle");
  const law = useComputed(kept, "law", resting && waysTold ? { readings: DEFAULT_READINGS } : null).answer;

  const [before, setBefore] = useState<Told | null>(null);
  const told = useRef<Told | null>(null);
  const answers = ways.kind === "here" ? ways.value : questions.length === 0 ? NONE : null;
  const now = useMemo((): Told | null => {
    if (answers === null || law.kind === "working" || law.kind === "idle") return null;
    const lines = new Map<string, string>();
    questions.forEach((question, index) => {
      const answer = answers[index] as WayIn | Unreachable | undefined;
      if (answer !== undefined) lines.set(question.to[0]!, wayText(answer));
    });
    return { record, ways: lines, law: law.kind === "here" ? lawText(law.value) : "No class: see the page Law" };
  }, [answers, law, questions, record]);
  useEffect(() => {
    if (now === null || told.current?.record === now.record) return;
    setBefore(told.current);
    told.current = now;
  }, [now]);

  return (
    <p className="effect" role="status">
      {now === null ? "Working out what that does to the ways in and the class." : effectText(record, before, now)}
    </p>
  );
}

/** Milliseconds without a change after which something is worth computing: longer than from one drawing to the next while somebody types. */
const PAUSE = 700;

function useSettled<T>(value: T): T {
  const [settled, settle] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => settle(value), PAUSE);
    return () => clearTimeout(timer);
  }, [value]);
  return settled;
}

function effectText(record: TeardownRecord, before: Told | null, now: Told): string {
  const name = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  if (before === null) {
    const open = [...now.ways].filter(([, text]) => text.startsWith("no way")).map(([id]) => name(id));
    const ways =
      now.ways.size === 0
        ? "No part has a role that the law names yet."
        : open.length === 0
          ? `There is a way in to each of ${now.ways.size} parts.`
          : `No way in yet to ${open.join(", ")}.`;
    return `${ways} ${now.law}.`;
  }
  const changed = [...now.ways].filter(([id, text]) => before.ways.get(id) !== text);
  const ways =
    changed.length === 0
      ? "The last change moves no way in"
      : changed
          .slice(0, 3)
          .map(([id, text]) => `${name(id)}: ${before.ways.get(id) ?? "not asked before"} → ${text}`)
          .join("; ") + (changed.length > 3 ? `; and ${changed.length - 3} more` : "");
  return `${ways}. ${before.law === now.law ? `${now.law}, as before` : `${before.law} → ${now.law}`}.`;
}

function wayText(answer: WayIn | Unreachable): string {
  if ("unreachable" in answer) return "no way in";
  return `${spokenTime(answer.seconds)}, ${answer.steps} ${answer.steps === 1 ? "step" : "steps"}`;
}

function lawText(report: {
  readonly index: string | null;
  readonly class: string | null;
  readonly why?: string;
}): string {
  return report.class === null ? "No class yet" : `Index ${report.index}, class ${report.class}`;
}
