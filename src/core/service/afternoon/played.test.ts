/**
 * The slim phone's first look played again from a thin record: nothing measured, the relations that matter in doubt. The list
 * is followed in order at every operation and answered from the full record; then each item in turn is passed over.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { assessRecord } from "../../law/index.ts";
import { figuresOf } from "../../measure/index.ts";
import type { TeardownRecord } from "../../record/index.ts";
import { countingClock } from "../../route/counting-clock.ts";
import { findWayIn } from "../../route/ways/index.ts";
import { openQuestions } from "../../structure/index.ts";
import { byWorth, type Chance, chancesAlong, closedNext } from "./chances.ts";
import { wantsOf, workSoFar } from "./index.ts";

const read = (name: string): TeardownRecord =>
  JSON.parse(readFileSync(new URL(`../../../../examples/${name}.json`, import.meta.url), "utf8"));
const full = read("thrandle-5");
const sibling = read("thrandle-4");
const { operations } = workSoFar(full, [], "s1");

/** What the model before would lend: what the back glass lies over, by which the class hangs where updates end sooner. */
const below = (groups: readonly (readonly string[])[] | undefined): boolean =>
  groups?.flat().includes("back-glass") === true;
const DOUBT = { basis: "sibling" as const };
const whole: TeardownRecord = { ...full, market: { ...full.market, updateYears: 5 } };
const thin: TeardownRecord = {
  ...whole,
  parts: full.parts.map((part) => (below(part.under) ? { ...part, ...DOUBT } : part)),
  joints: full.joints.map((joint) => (below(joint.reach) ? { ...joint, ...DOUBT } : joint)),
  // What was noted of the other device is known beforehand.
  readings: full.readings.filter((reading) => reading.record !== undefined),
  log: [],
};
/** Guesses that nobody has tried in the full record either. */
const leftOpen = new Set(openQuestions(full).map((one) => one.relation));

function chancesOf(record: TeardownRecord, done: number): Chance[] {
  // All are followed, so that their order among themselves does not matter here.
  const questions = openQuestions(record)
    .filter((one) => !leftOpen.has(one.relation))
    .map((one) => ({ ...one, seconds: [1, 2], class: [null, null], matters: true }) as const);
  const { plan } = figuresOf(record, sibling);
  return chancesAlong(wantsOf(record, { questions, plan, sibling }), operations, done);
}

/** A look at the full record: what the relation is there, what was read there. */
function answered(record: TeardownRecord, id: string): TeardownRecord {
  const [kind, ...words] = id.split(" ");
  if (kind === "question") {
    const tried = <T extends { readonly id: string }>(one: T): T =>
      one.id === words[0] ? { ...one, basis: "tried" as const } : one;
    return { ...record, parts: record.parts.map(tried), joints: record.joints.map(tried) };
  }
  if (kind !== "reading") return record;
  const [quantity, ...of] = words;
  const had = new Set(record.readings.map((one) => one.id));
  const those = full.readings.filter(
    (one) =>
      !had.has(one.id) &&
      one.record === undefined &&
      one.quantity === quantity &&
      of.every((part) => one.of.includes(part)),
  );
  expect([id, those.length > 0]).toEqual([id, true]);
  // By itself where it was, else with the fewest others.
  const fewest = Math.min(...those.map((one) => one.of.length));
  const taken = those.filter((one) => one.of.length === fewest);
  // The scale's and the caliper's zero are read with what is read.
  const zeros = full.readings.filter(
    (one) => !had.has(one.id) && one.of.includes("zero") && taken.some((other) => other.instrument === one.instrument),
  );
  return { ...record, readings: [...record.readings, ...zeros, ...taken] };
}

const worthIt = (chance: Chance): boolean => chance.kind === "question" || chance.id.startsWith("reading ");

/** Items that the same reading of the full record answers. */
function missedWith(id: string): string[] {
  const [, quantity, ...of] = id.split(" ");
  const first = answered({ ...thin, readings: [] }, id).readings.filter((one) => !one.of.includes("zero"));
  const parts = new Set(first.flatMap((one) => one.of));
  return operations
    .flatMap((one) => (one.kind === "lift" ? [one.part!] : []))
    .filter((part) => parts.has(part) && !of.includes(part))
    .filter((part) => chancesOf(thin, 0).some((one) => one.id === `reading ${quantity} ${part}`))
    .map((part) => `reading ${quantity} ${part}`)
    .concat(id)
    .sort();
}

/** @param skip items that are passed over each time that they come up */
function play(skip: readonly string[] = []) {
  let record = thin;
  let chances = chancesOf(record, 0);
  const taken: string[] = [];
  const late: string[] = [];
  for (let done = 0; done <= operations.length; done += 1) {
    const open = ({ windows }: Chance) => windows.some(([from, to]) => from <= done && done <= to);
    for (;;) {
      const next = chances.filter((one) => worthIt(one) && !skip.includes(one.id) && open(one)).sort(byWorth)[0];
      if (next === undefined) break;
      taken.push(next.id);
      // An answer that leaves its own question open would be asked for without end.
      if (taken.filter((id) => id === next.id).length > 1)
        throw new Error(`${next.id} was answered and is asked again`);
      record = answered(record, next.id);
      chances = chancesOf(record, done);
    }
    late.push(
      ...closedNext(chances, done)
        .filter(worthIt)
        .map((one) => one.id),
    );
  }
  return { record, taken, late, chances: chancesOf(record, operations.length).filter(worthIt) };
}

const law = (record: TeardownRecord) =>
  assessRecord(record, { basis: "least", findWayIn, control: { now: countingClock() }, ties: false, limit: 200 })
    .answer;
const asked = (record: TeardownRecord) =>
  openQuestions(record)
    .map((one) => one.relation)
    .filter((one) => !leftOpen.has(one));
const verdicts = (record: TeardownRecord) =>
  new Map(figuresOf(record, sibling).claims.map((claim) => [claim.text, claim.verdict]));
const undecided = (record: TeardownRecord) =>
  [...verdicts(record)].filter(([, verdict]) => verdict === "cannot-tell").map(([text]) => text);

describe("the slim phone, its list followed in order", () => {
  const played = play();
  const known = undecided(played.record);

  it("begins with a class that is open and with claims that cannot be told", () => {
    const { range } = law(thin);
    expect([range?.low.class, range?.high.class]).toEqual(["D", "C"]);
    expect(undecided(thin).length).toBeGreaterThan(10);
  });
  it("settles the class", () => {
    expect(asked(played.record)).toEqual([]);
    const { range, ...answer } = law(played.record);
    expect(answer.class).toBe(law(whole).class);
    expect([range?.low.class ?? answer.class, range?.high.class ?? answer.class]).toEqual([answer.class, answer.class]);
  });
  it("settles each claim that can be with the instruments at hand, as the full record does", () => {
    expect(verdicts(played.record)).toEqual(verdicts(whole));
    const { claims, open, plan } = figuresOf(played.record, sibling);
    expect(plan).toEqual([]);
    // What is left: too small a difference for the scale, and what one unit cannot say of a model.
    const barred = claims.filter((one) => one.verdict === "cannot-tell" && one.probability === null);
    expect(known.length).toBe(open.length + barred.length);
    expect(known.length).toBe(2);
  });
  it("leaves nothing that can no longer be known, and closed nothing unsaid", () => {
    expect(played.chances).toEqual([]);
    expect(played.late).toEqual([]);
  });

  it("names exactly what can no longer be known when one item is passed over, whichever it is", () => {
    for (const skipped of played.taken) {
      const record = played.taken.filter((id) => id !== skipped).reduce(answered, thin);
      const gone = chancesOf(record, operations.length).filter(worthIt);
      expect([skipped, gone.every((one) => one.gone || one.closedBy === null)]).toEqual([skipped, true]);
      if (skipped.startsWith("question")) {
        expect([skipped, gone.map((one) => one.id)]).toEqual([skipped, [skipped]]);
        expect(asked(record)).toEqual([skipped.split(" ")[1]]);
      } else {
        // What was weighed together there is missed together.
        expect([skipped, gone.map((one) => one.id).sort()]).toEqual([skipped, missedWith(skipped)]);
        const lost = undecided(record).filter((text) => !known.includes(text));
        const named = new Set(
          gone.flatMap((one) => one.worth.claim!.split("” and “")).filter((text) => !known.includes(text)),
        );
        expect([skipped, [...named].sort()]).toEqual([skipped, [...lost].sort()]);
      }
    }
  });
  it("says it beforehand, and comes to the same when it is really passed over", () => {
    const skipped = ["reading mass cell", "question cell-bracket-screws"];
    const without = play(skipped);
    expect(without.taken).toEqual(played.taken.filter((id) => !skipped.includes(id)));
    expect(without.chances.map((one) => one.id).sort()).toEqual([...skipped].sort());
    expect(without.late.sort()).toEqual(without.chances.flatMap((one) => (one.gone ? one.id : [])).sort());
    expect(without.late).not.toEqual([]);
  });
});
