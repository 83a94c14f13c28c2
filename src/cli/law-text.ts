/** The law for people, 80 columns wide: the class in a sentence, what decides each part, what is not known, the notice. */
import {
  type Change,
  costOf,
  type DeclaredAnswer,
  type Evidence,
  type Finding,
  type LawAnswer,
  type LawReport,
  type LeastChange,
  NOTICE,
  type ReadingEffect,
  type Verdict,
} from "../core/law/index.ts";

const BASIS_TEXT = {
  sheet: "as declared on the sheet",
  described: "counted over the maker's described procedure, replayed on this unit",
  done: "with our order of work: what the log says was done",
  least: "with our order of work: the fewest steps, planned",
} as const;

/** The answer of a sheet. */
export function sheetText(answer: LawAnswer): string {
  return page([...headline(answer), "", ...table(answer), ...remarks(answer), "", NOTICE]);
}

/** The whole assessment of a record. */
export function reportText(report: LawReport): string {
  return page([
    ...headline(report),
    "",
    ...table(report),
    "",
    ...sentences(report.evidence),
    ...countsText(report),
    ...remarks(report),
    "",
    ...ecodesignText(report),
    "",
    ...articleText(report),
    "",
    `Rules: ${report.rules.act}, text of ${report.rules.consolidated} (${report.rules.id}).`,
    ...(report.rules.inForceAtRelease === null
      ? []
      : [`When the first unit was placed on the market: ${report.rules.inForceAtRelease}.`]),
    ...report.rules.readings.filter((one) => one.switched).map((one) => `Reading ${one.id} switched: ${one.text}`),
    "Not verified in the source:",
    ...report.rules.notVerified.map((text) => `  - ${text}`),
    "",
    report.notice,
  ]);
}

export function effectsText(effects: readonly ReadingEffect[]): string {
  const matters = effects.filter((one) => one.changes.length > 0);
  return page([
    `Readings where the act is silent: ${matters.length} of ${effects.length} would change a score.`,
    ...matters.map(
      (one) =>
        `  ${one.id} the other way: index ${one.index ?? "none"}, class ${one.class ?? "none"}${one.changesClass ? ", another class" : ""} (${one.changes.join(", ")}). ${one.other ?? ""}`,
    ),
  ]);
}

export function declaredText(answer: DeclaredAnswer): string {
  const { index, further, documents } = answer;
  return page([
    `Declared against found: ${verdictText(answer.verdict)}.`,
    `  This unit: ${verdictText(index.verdict)}. ${index.text}.`,
    ...(further === undefined ? [] : [`  Further unit: ${verdictText(further.verdict)}. ${further.text}.`]),
    ...(further === undefined && index.verdict === "fail"
      ? ["  One further unit of the model is tested then (2023/1669 Annex IX): --further FILE."]
      : []),
    "",
    "score  declared    found  difference",
    ...answer.scores.map(
      (row) =>
        `${row.score.padEnd(5)}  ${(row.declared ?? "-").padStart(8)} ${(row.found ?? "-").padStart(8)}  ${(row.difference ?? "-").padStart(10)}`,
    ),
    ...(answer.parts.length === 0 ? [] : ["", "Parts that differ:"]),
    ...answer.parts.map(
      (row) => `  ${row.part}, ${row.what}: declared ${row.declared ?? "-"}, found ${row.found ?? "-"}`,
    ),
    ...(documents === undefined
      ? []
      : [
          "",
          `The sheet against the maker's description, without tolerance: ${verdictText(documents.verdict)}.`,
          ...documents.differences.map(
            (row) => `  ${row.part}, ${row.what}: ${row.declared ?? "-"} / ${row.found ?? "-"}`,
          ),
        ]),
  ]);
}

/** Sets of changes, one paragraph each. */
export function reachText(answer: LeastChange): string {
  const goal = answer.to === "article-11" ? "for Article 11 of 2023/1542 to pass" : `for class ${answer.to}`;
  const now = answer.from === null ? "there is no index now" : `class ${answer.from} now`;
  const [first] = answer.changes;
  if (first === undefined)
    return page([
      `No set of such changes is enough ${goal} (${now})${answer.proved ? "" : "; not proved, time ran out"}.`,
    ]);
  if (first.length === 0) return page([`Nothing need be changed ${goal} (${now}).`]);
  const cost = costOf(first);
  return page([
    `${cost === null ? `${first.length} changes` : `Changes for ${cost.amount} ${cost.currency}`} ${goal} (${now}, ${BASIS_TEXT[answer.basis]}); ${answer.proved ? "proved least" : "not proved least, time ran out"}. ${answer.changes.length}${answer.more ? " of more" : ""} such sets:`,
    ...answer.changes.flatMap((set, index) => [
      "",
      `${index + 1}.`,
      ...set.map((change) => `  - ${changeText(change)}`),
    ]),
    "",
    NOTICE,
  ]);
}

function changeText(change: Change): string {
  const cost = change.cost === undefined ? "" : ` (${change.cost.amount} ${change.cost.currency})`;
  return `${changeWords(change)}${cost}`;
}

function changeWords(change: Change): string {
  switch (change.change) {
    case "whole":
      return `${change.joint} can be used again`;
    case "brings":
      return `a new ${change.joint} comes with the spare part`;
    case "basic":
      return `${change.tool} is replaced by a basic tool`;
    case "with-spare-part":
      return `${change.tool} comes with the spare part of the ${change.role}`;
    case "leaves-reach":
      return `${change.part} is no longer in the way of ${change.joint}`;
    case "leaves-under":
      return `${change.part} no longer lies over ${change.of}`;
    case "no-heat":
      return `${change.joint} is undone without heat (its way ${change.release})`;
    case "no-notification":
      return `no remote notification of ${change.part}`;
    case "no-authorisation":
      return `no remote authorisation of ${change.part}`;
    case "offer":
      return `${change.part} is sold to ${change.to === "end-users" ? "end users" : "professionals"}`;
    case "updates":
      return "one year more of updates";
    case "information":
      return "repair information one level up";
  }
}

function headline(answer: LawAnswer): string[] {
  const basis = BASIS_TEXT[answer.basis];
  if (answer.index === null || answer.class === null)
    return [`There is no index (${basis}): ${answer.why ?? "the law has no points for what was found"}.`];
  const lines = [
    `Class ${answer.class}: the repairability index is ${answer.index} (2023/1669 Annex II Table 4 and Annex IV point 5), ${basis}.`,
  ];
  const { range } = answer;
  if (range !== undefined && range.low.index !== range.high.index)
    lines.push(`Not everything is known: between ${end(range.low)} and ${end(range.high)}; the worse is taken.`);
  return lines;
}

function end(one: { readonly index: string | null; readonly class: string | null }): string {
  return one.index === null ? "no index" : `${one.index} (class ${one.class})`;
}

function table(answer: LawAnswer): string[] {
  const { scores } = answer;
  const say = (value: string | number | null): string => (value === null ? "-" : String(value));
  return [
    `Scores: depth ${say(scores.SDD)}, fasteners ${say(scores.SF)}, tools ${say(scores.ST)}, spare parts ${say(scores.SSP)}, updates ${say(scores.SSU)}, information ${say(scores.SRI)}; unrounded ${say(answer.unrounded)}.`,
    "",
    "part             steps  depth  fastener  tool",
    ...Object.entries(answer.parts).map(([role, part]) =>
      part === null
        ? `${role.padEnd(16)} absent`
        : `${role.padEnd(16)} ${say(part.steps).padStart(5)}  ${say(part.depth).padStart(5)}  ${say(part.fastener).padStart(8)}  ${say(part.tool).padStart(4)}`,
    ),
  ];
}

function sentences(evidence: Evidence): string[] {
  return Object.values(evidence).flatMap((parts) => parts.map((part) => part.sentence));
}

function countsText(report: LawReport): string[] {
  const say = (value: number | null): string => (value === null ? "-" : String(value)).padStart(9);
  const rows = Object.entries(report.counts).flatMap(([role, counts]) =>
    counts === null ? [] : [`${role.padEnd(16)} ${say(counts.described)} ${say(counts.done)} ${say(counts.least)}`],
  );
  return [
    "",
    "Steps by each count  (only the described one is the act's own basis)",
    "part             described      done     least",
    ...rows,
  ];
}

function remarks(answer: LawAnswer): string[] {
  return [
    ...(answer.unknown.length === 0 ? [] : ["", "Not known:"]),
    ...answer.unknown.map((one) => `  - ${one.text} (${one.scores.join(", ")}; ${one.path})`),
    ...(answer.warnings.length === 0 ? [] : ["", "Warnings:"]),
    ...answer.warnings.map((text) => `  - ${text}`),
  ];
}

function ecodesignText({ checks }: LawReport): string[] {
  const { ecodesign } = checks;
  return [
    `Disassembly under ${ecodesign.act} ${ecodesign.where}, since ${ecodesign.appliesFrom}:`,
    ...ecodesign.rows.flatMap((row) => [
      `  ${row.row.padEnd(5)} ${row.part}: ${verdictText(row.verdict)}${reasons(row.findings, row.verdict)}`,
    ]),
    `  Battery: by route c(i) ${verdictText(ecodesign.battery["c(i)"])}, by route c(ii) ${verdictText(ecodesign.battery["c(ii)"])}.`,
    ...ecodesign.notes.map((text) => `  ${text}`),
  ];
}

function articleText({ checks }: LawReport): string[] {
  const { article11 } = checks;
  return [
    `${article11.act} ${article11.where}, from ${article11.appliesFrom}, apart from the above: ${verdictText(article11.verdict)}${reasons(article11.findings, article11.verdict)}`,
    `  ${article11.relation}`,
  ];
}

function reasons(findings: readonly Finding[], verdict: Verdict): string {
  const why = findings.filter((one) => one.verdict === verdict && verdict !== "pass").map((one) => one.because);
  return why.length === 0 ? "" : ` (${[...new Set(why)].join("; ")})`;
}

function verdictText(verdict: Verdict): string {
  return verdict === "cannot-tell" ? "cannot tell" : verdict;
}

function page(lines: readonly string[]): string {
  return `${lines.map(wrap).join("\n")}\n`;
}

/** At most 80 columns; what goes over is continued two columns further in. */
function wrap(line: string): string {
  if (line.length <= 80) return line;
  const lead = /^ */.exec(line)?.[0] ?? "";
  const rows: string[] = [];
  let row = lead;
  for (const word of line.trimStart().split(" ")) {
    const empty = row.trim() === "";
    if (!empty && row.length + 1 + word.length > 80) {
      rows.push(row);
      row = `${lead}  ${word}`;
    } else row = empty ? row + word : `${row} ${word}`;
  }
  return [...rows, row].join("\n");
}
