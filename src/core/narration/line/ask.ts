/**
 * Questions that are one line away while the hands are busy: where something lies, what is in a cup, how many screws, what
 * was done last, what something weighs. Answered from the record alone; what it does not know it says.
 */
import type { Part, TeardownRecord } from "../../record/schema.ts";
import { sessionClock } from "../../units/index.ts";
import { lastCup, lying, nextCup, screwWords } from "./cups.ts";
import { couldMean, partsIn } from "./names.ts";
import { work } from "./shown.ts";
import type { LineContext, LineTold } from "./types.ts";

const ASKS = /^(?:where|what|which|how|when|who|is|are|did|does|do|has|have)\b/;

const TALK =
  /^(?:the|a|an|of|it|its|them|they|this|that|these|those|in|on|to|for|by|with|and|screws?|bolts?|hold|holds|held|many|much|heavy|thick|wide|long|tall|big|weigh|weighs|lie|lies|go|goes|went|put|there|here|mass|weight|thickness)$/;

export const isQuestion = (line: string): boolean => /\?\s*$/.test(line) || ASKS.test(line.trim().toLowerCase());

const told = (words: string, lines: readonly string[] = []): LineTold => ({ kind: "told", words, lines });

/** @param words the line in lower case without signs; @param place a cup or field that it names */
export function answerQuestion(words: readonly string[], context: LineContext, place: string | null): LineTold {
  const { record } = context;
  const text = words.join(" ");
  if (place !== null && place !== "same" && place !== "next" && /\b(?:what|which|in|is)\b/.test(text))
    return inCup(record, place);
  if (/\b(?:next|free) cup\b|\bcup (?:is )?(?:next|free)\b/.test(text))
    return told(nextCup(lastCup(record.log)), [`last used: ${lastCup(record.log) ?? "none"}`]);
  if (/\blast\b/.test(text)) return last(record);
  const named = partsIn(
    record,
    words,
    (index) => !/^(?:where|what|which|how|screws?|is|are|the|of)$/.test(words[index]!),
  );
  const chosen = record.parts.find((part) => part.id === context.part);
  // "How many screws hold it?" is about the part that is chosen; a name that is not known is not.
  const content = words.filter((word) => !ASKS.test(word) && !TALK.test(word));
  const parts =
    named.length > 0 ? named.map((one) => one.part) : chosen === undefined || content.length > 0 ? [] : [chosen];
  if (parts.length === 0) {
    const could = couldMean(
      record,
      words.filter((word) => !ASKS.test(word) && word.length > 3),
    );
    return could.length > 0
      ? told(
          "Which one?",
          could.slice(0, 8).map((part) => part.name),
        )
      : told("Not known", [
          "ask: where are the screws of a part, what is in cup 4, how many screws hold it, what was last",
        ]);
  }
  const part = parts[0]!;
  if (/\bwhere\b/.test(text)) return where(record, part, /\bscrews?\b|\bbolts?\b/.test(text));
  if (/\bhow (?:heavy|much|thick|wide|long|big|tall)|\bweigh|\bmass\b|\bthickness\b/.test(text))
    return measured(record, part);
  return holding(record, part);
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

function where(record: TeardownRecord, part: Part, screws: boolean): LineTold {
  const all = lying(record);
  const joints = new Set(
    record.joints.filter((joint) => joint.kind === "screw" && joint.holds.includes(part.id)).map((joint) => joint.id),
  );
  // A joint holds two parts: the one it was undone for is meant where there is one.
  const own = all.filter(({ entry }) => entry.action === "unscrew" && entry.parts?.includes(part.id));
  const found = screws
    ? own.length > 0
      ? own
      : all.filter(({ entry }) => entry.joints?.some((id) => joints.has(id)))
    : all.filter(({ entry }) => entry.action !== "unscrew" && entry.parts?.includes(part.id));
  const what = screws ? `screws of ${part.name}` : part.name;
  if (found.length > 0)
    return told(
      `${capital(what)}: ${[...new Set(found.map((one) => one.lies))].join(", ")}`,
      found.map(({ entry }) => work(record, entry)),
    );
  const touched = record.log.findLast((entry) =>
    screws ? entry.joints?.some((id) => joints.has(id)) : entry.parts?.includes(part.id) && entry.action !== "note",
  );
  if (touched === undefined) return told(`${capital(what)}: still in place`, ["the log has no work on it"]);
  if (/^(?:fasten|refit)$/.test(touched.action)) return told(`${capital(what)}: back in`, [work(record, touched)]);
  return told(`${capital(what)}: no place was said`, [work(record, touched)]);
}

/** What lies in a cup or on a field now. */
export function inCup(record: TeardownRecord, cup: string): LineTold {
  const found = lying(record).filter((one) => one.lies.toLowerCase() === cup.toLowerCase());
  if (found.length === 0) return told(`${capital(cup)}: empty`, ["nothing that was put there is still out"]);
  return told(
    `${capital(cup)}: ${found.map(({ entry }) => (entry.parts ?? []).map((id) => nameOf(record, id)).join(", ") || (entry.text ?? entry.action)).join(" · ")}`,
    found.map(({ entry }) => work(record, entry)),
  );
}

function last(record: TeardownRecord): LineTold {
  const entry = record.log.at(-1);
  return entry === undefined
    ? told("Nothing yet")
    : told(work(record, entry), entry.text === undefined ? [] : [entry.text]);
}

function measured(record: TeardownRecord, part: Part): LineTold {
  const found = record.readings.filter(
    (one) => one.of.length === 1 && one.of[0] === part.id && one.record === undefined,
  );
  if (found.length === 0) return told(`${part.name}: not measured yet`);
  return told(
    `${part.name}: ${[...new Set(found.map((one) => `${one.quantity} ${one.values.join(", ")} ${one.unit}`))].join(" · ")}`,
    found.map(
      (one) =>
        `${one.quantity} ${one.values.join(", ")} ${one.unit}${one.at === undefined ? "" : `, ${sessionClock(one.at)}`}`,
    ),
  );
}

function holding(record: TeardownRecord, part: Part): LineTold {
  const joints = record.joints.filter((joint) => joint.holds.includes(part.id));
  const screws = joints.filter((joint) => joint.kind === "screw" && joint.holds[0] === part.id);
  const shown = screws.length > 0 ? screws : joints.filter((joint) => joint.kind === "screw");
  const words = shown.length === 0 ? "no screws are known" : shown.map(screwWords).join(" · ");
  return told(
    `${part.name}: ${words}`,
    joints.map(
      (joint) =>
        `${joint.kind === "screw" ? screwWords(joint) : joint.kind.replaceAll("-", " ")} to ${joint.holds
          .filter((id) => id !== part.id)
          .map((id) => nameOf(record, id))
          .join(", ")}`,
    ),
  );
}

const nameOf = (record: TeardownRecord, id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
