/**
 * Narration: how long an hour of captions takes, and how near a draft made from talk alone comes to the full record.
 *
 * `node --import tsx bench/narration.ts [speed | record]`. The hour is made of the labelled talk of checks/data/narration, laid end
 * to end. For the examples that have a narration the legal steps (2023/1669, least basis) of each priority part are counted
 * from the full record, from the draft with every guess in place (worst), with none (best), and with every open question
 * answered from the full record. Times are of the processor.
 */
import { readdirSync, readFileSync } from "node:fs";
import { answeredFrom, legalSteps, onlyDevice } from "../checks/narration-structure.ts";
import { mergeDraft, readNarration, readTranscript } from "../src/core/narration/index.ts";
import type { TeardownRecord } from "../src/core/record/index.ts";
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
    const { record } = mergeDraft(onlyDevice(full), draft);
    const truth = legalSteps(full);
    const worst = legalSteps(record);
    const best = legalSteps(recordHolding(record, []));
    const answered = legalSteps(answeredFrom(record, full));
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

function print(text: string): void {
  process.stdout.write(`${text}\n`);
}
