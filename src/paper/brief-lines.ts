/** The brief in sections of lines, for a terminal and for paper. */
import type { TeardownRecord } from "../core/record/index.ts";
import { type Brief, type Chance, lastChanceText, withinMinutes, worthText } from "../core/service/afternoon/index.ts";
import { operationWords, spokenRange, spokenTime } from "../figures/index.ts";

export interface BriefLine {
  readonly kind: "line" | "more" | "caution";
  readonly text: string;
}

export interface BriefSection {
  readonly title: string;
  readonly lines: readonly BriefLine[];
}

export interface BriefTerms {
  /** For learning. */
  readonly minutes: number;
  /** Name of the sibling that the structure was copied from. */
  readonly begunFrom: string | null;
}

const FROM = {
  layers: "From the layers.",
  record: "From a recorded time.",
  assumption: "From an assumption.",
  none: "There is no warm window as it is recorded: see the page Warmth for what would make one.",
} as const;

export function briefSections(
  record: TeardownRecord,
  brief: Brief,
  { minutes, begunFrom }: BriefTerms,
): BriefSection[] {
  const sections: { title: string; lines: BriefLine[] }[] = [];
  const title = (text: string) => sections.push({ title: text, lines: [] });
  const say = (text: string, kind: BriefLine["kind"] = "line") => sections.at(-1)!.lines.push({ kind, text });
  const name = (id: string) => record.parts.find((part) => part.id === id)?.name ?? id;
  const tool = (id: string) => record.tools.find((one) => one.id === id)?.name ?? id;

  title("The evening before");
  say(`${brief.device}: to ${brief.targets.map(name).join(", ")}.`);
  if (begunFrom !== null) say(`All of it is copied from ${begunFrom}: a guess until it is tried.`);
  else if (brief.guesses.guessed > 0)
    say(`${brief.guesses.guessed} of ${brief.guesses.relations} relations are guesses until they are tried.`);

  title("Ways in");
  for (const one of brief.ways) {
    const face = one.face === "back" ? "From the back" : "From the display";
    if (one.way === null) {
      say(`${face}: none. ${one.why ?? ""}`);
      continue;
    }
    const { way } = one;
    const range = way.range === null ? "" : `, on the bench ${spokenRange(way.range.low, way.range.high)}`;
    say(
      `${face}: ${spokenTime(way.seconds)} by standard times${range}; ${way.steps} legal steps${way.proved ? "" : " (not proved shortest)"}.`,
    );
    if (one.hazards.length > 0)
      say(`Hazards: ${one.hazards.join(", ")}. Trained people only; local rules first.`, "more");
    if (one.damages.length > 0) say(`Damages ${one.damages.join(", ")}.`, "more");
    if (one.guesses.length > 0) say(`Rests on guesses about ${one.guesses.map(name).join(", ")}.`, "more");
  }

  if (brief.heat.length > 0) {
    title("Heat");
    for (const one of brief.heat) {
      const time =
        one.seconds === null
          ? `bond to ${one.bond} °C`
          : `${Math.round(one.seconds)} s${one.plate === undefined ? "" : ` at a plate of ${one.plate} °C`}, bond to ${one.bond} °C`;
      const rounds =
        one.rounds === null ? "" : `, ${one.rounds} ${one.rounds === 1 ? "heating" : "heatings"} for the whole cut`;
      const counted =
        one.counted === null ? "" : `; the cell is counted ${Math.round(one.counted / 6) / 10} min above 45 °C`;
      say(`${one.zone} (${one.joint}): ${time}${rounds}${counted}. ${FROM[one.from]}`);
      if (one.note !== "") say(one.note, "more");
    }
    for (const text of new Set(brief.heat.flatMap((one) => one.cautions.map((caution) => caution.text))))
      say(text, "caution");
  }

  title("Lay out");
  say(brief.tools.length === 0 ? "No tool." : brief.tools.map(tool).join(", "));
  for (const { id, amount, unit } of brief.consumables)
    say(
      `${record.consumables?.find((one) => one.id === id)?.name ?? id}: ${Math.round(100 * amount) / 100} ${unit === "1" ? (amount === 1 ? "piece" : "pieces") : unit}`,
    );

  title("Before the first screw");
  say(
    `Charge to at most ${brief.charge.atMost} % and read it before power-off${brief.charge.last === null ? "" : ` (last read: ${brief.charge.last} %)`}. Try every function once: otherwise the reassembly proves nothing.`,
  );
  for (const one of brief.cables)
    say(
      `${name(one.part)} runs ${one.distance} mm from the ${one.edge} edge, ${one.from} to ${one.until} mm along it: no deep pick there.`,
    );
  for (const one of brief.photographs) say(`${when(record, brief, one)}: ${one.does}.`);

  if (brief.questions.length > 0) {
    title("Questions, as they can be answered");
    for (const one of brief.questions)
      say(`${when(record, brief, one)}: ${one.does.replace(/^look: /, "")} (${worthText(one)})`);
  }

  const { take, leave } = withinMinutes(brief.chances, minutes);
  if (take.length > 0) {
    title(`Worth the time, within ${minutes} min`);
    for (const one of take) {
      const last = one.closedBy === null ? null : operation(record, brief, one.closedBy);
      if (last !== null && one.worth.record !== true) say(lastChanceText(last, [one])!);
      else
        say(
          `${when(record, brief, one)}: ${one.does}, ${Math.round(one.seconds)} s${last === null ? "" : `; last chance before you ${last}`}.`,
        );
    }
    if (leave.length > 0) say(`${leave.length} more do not fit into ${minutes} min.`);
  }
  for (const warning of brief.warnings) say(warning, "caution");
  return sections;
}

/** The operation at a place of the order that the chances are told along, in and back. */
function operation(record: TeardownRecord, brief: Brief, at: number): string | null {
  const way = brief.ways.find((one) => one.face === brief.along)?.way;
  const doing = way?.operations[at];
  return doing === undefined ? null : operationWords(record, doing).full;
}

function when(record: TeardownRecord, brief: Brief, chance: Chance): string {
  if (chance.opens === null) return "not along this way";
  if (chance.opens === 0) return "at once";
  const done = operation(record, brief, chance.opens - 1);
  return done === null ? "on the way back" : `after you ${done}`;
}
