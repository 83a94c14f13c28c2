/**
 * Narration: how long an hour of captions takes, and how near a draft made from talk alone comes to the full record.
 *
 * `node --import tsx bench/narration.ts [speed | record]`. The hour is made of the labelled talk of checks/data/narration, laid end
 * to end. For the examples that have a narration the legal steps (2023/1669, least basis) of each priority part are counted
 * from the full record, from the draft with every guess in place (worst), with none (best), and with every open question
 * answered from the full record. Times are of the processor.
 */
import { readdirSync, readFileSync } from "node:fs";
import { assessRecord } from "../src/core/law/index.ts";
import { mergeDraft, partFor, readNarration, readTranscript } from "../src/core/narration/index.ts";
import type { Joint, Part, TeardownRecord } from "../src/core/record/index.ts";
import { findWayIn } from "../src/core/route/ways/index.ts";
import { openQuestions, recordHolding } from "../src/core/structure/index.ts";

const what = process.argv[2];
if (what === undefined || what === "speed") speed();
if (what === undefined || what === "record") records();

function speed(): void {
  const folder = new URL("../checks/data/narration/", import.meta.url);
  const cues = readdirSync(folder)
    .filter((name) => !name.endsWith(".json"))
    .sort()
    .flatMap((name) => {
      const list = readTranscript(new Uint8Array(readFileSync(new URL(name, folder)))).cues;
      const start = list[0]?.at ?? 0;
      return list.map((cue) => ({ length: (cue.at ?? 0) - start, text: cue.text, first: cue === list[0] }));
    });
  const lines: string[] = [];
  let offset = 0;
  let last = 0;
  for (const cue of cues) {
    if (cue.first) offset = last + 5;
    last = Math.round(offset + cue.length);
    if (last > 3600) break;
    const clock = [Math.floor(last / 3600), Math.floor(last / 60) % 60, last % 60].map((n) =>
      String(n).padStart(2, "0"),
    );
    lines.push(`${clock.join(":")} ${cue.text.replaceAll("\n", " ")}`);
  }
  const bytes = new TextEncoder().encode(lines.join("\n"));
  let best = Number.POSITIVE_INFINITY;
  let entries = 0;
  for (let run = 0; run < 5; run += 1) {
    const before = process.cpuUsage();
    entries = readNarration(readTranscript(bytes)).draft.entries.length;
    const { user, system } = process.cpuUsage(before);
    best = Math.min(best, (user + system) / 1000);
  }
  print(`One hour of captions: ${lines.length} cues, ${entries} entries, ${best.toFixed(0)} ms (best of five).`);
}

function records(): void {
  for (const [name, talk] of [
    ["thrandle-5", "thrandle-5.vtt"],
    ["thrandle-4", "thrandle-4.srt"],
    ["halverim-11", "halverim-11.vtt"],
  ] as const) {
    const file = (path: string) => readFileSync(new URL(`../examples/${path}`, import.meta.url));
    const full = JSON.parse(file(`${name}.json`).toString("utf8")) as TeardownRecord;
    const { draft } = readNarration(readTranscript(new Uint8Array(file(talk))));
    const { record } = mergeDraft(emptyRecord(full), draft);
    const truth = steps(full);
    const worst = steps(record);
    const best = steps(recordHolding(record, []));
    const answered = steps(answeredFrom(record, full));
    print(`\n${full.device.name}: ${openQuestions(record).length} open questions\n`);
    print("| part | full record | best | worst | answered |\n|---|---|---|---|---|");
    let within = 0;
    let same = 0;
    for (const [role, count] of truth) {
      const [low, high] = [best.get(role) ?? null, worst.get(role) ?? null];
      if (count === null ? high === null : low !== null && high !== null && count >= low && count <= high) within += 1;
      if (count === (answered.get(role) ?? null)) same += 1;
      print(`| ${role} | ${count} | ${low} | ${high} | ${answered.get(role) ?? null} |`);
    }
    print(`\nWithin best and worst: ${within} of ${truth.size}; the same once answered: ${same}.`);
  }
}

function emptyRecord(full: TeardownRecord): TeardownRecord {
  return {
    ...full,
    parts: [{ id: "frame", name: "Frame", role: "frame", base: true }],
    joints: [],
    tools: [],
    instruments: [],
    log: [],
    readings: [],
    claims: [],
    media: [],
    checks: [],
  };
}

function steps(record: TeardownRecord): Map<string, number | null> {
  let tick = 0;
  const control = { now: () => (tick += 0.001) };
  const { parts } = assessRecord(record, { basis: "least", findWayIn, control }).answer;
  return new Map(Object.entries(parts).map(([role, one]) => [role, one?.steps ?? null]));
}

/** Every open question answered by a look at the full record: does what is asked for lie over it, at once or in turn? */
function answeredFrom(draft: TeardownRecord, full: TeardownRecord): TeardownRecord {
  const base = full.parts.find((part) => part.base === true);
  const match = (id: string) => {
    const part = draft.parts.find((one) => one.id === id);
    return part?.base === true ? base : part === undefined ? undefined : (partFor(full.parts, part.name) ?? undefined);
  };
  const answer = <T extends Part | Joint>(one: T, over: readonly (readonly string[])[], id: string | undefined): T => {
    const lie = id === undefined ? new Set<string>() : above(full, id);
    const yes = over.flat().every((part) => {
      const there = match(part);
      return there !== undefined && lie.has(there.id);
    });
    if (yes) return { ...one, basis: "tried" };
    const { under: _under, reach: _reach, basis: _basis, ...rest } = one as Part & Joint;
    return rest as unknown as T;
  };
  return {
    ...draft,
    parts: draft.parts.map((part) =>
      part.basis === "inferred" && part.under ? answer(part, part.under, match(part.id)?.id) : part,
    ),
    joints: draft.joints.map((joint) =>
      joint.basis === "inferred" && joint.reach ? answer(joint, joint.reach, match(joint.holds[0])?.id) : joint,
    ),
  };
}

/** Parts that lie over a part, at once or in turn, on any side from which it can be taken. */
function above(record: TeardownRecord, id: string, seen: ReadonlySet<string> = new Set()): Set<string> {
  const out = new Set<string>();
  if (seen.has(id)) return out;
  const deeper = new Set([...seen, id]);
  const groups = [
    record.parts.find((part) => part.id === id)?.under,
    ...record.joints.filter((joint) => joint.holds.includes(id)).map((joint) => joint.reach),
  ];
  for (const list of groups) {
    const sets = (list ?? []).map((group) => new Set(group.flatMap((part) => [part, ...above(record, part, deeper)])));
    for (const set of sets) for (const part of set) out.add(part);
  }
  return out;
}

function print(text: string): void {
  process.stdout.write(`${text}\n`);
}
