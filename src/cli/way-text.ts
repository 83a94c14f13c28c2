/** A way in for people, 80 columns wide. */
import type { TeardownRecord } from "../core/record/index.ts";
import type { BackOperation, WayBack } from "../core/route/ways/back.ts";
import type { Doubt } from "../core/route/ways/doubt.ts";
import { expectationOf } from "../core/route/ways/expect.ts";
import type { Front } from "../core/route/ways/front.ts";
import type { Question, WayIn, WayOperation } from "../core/route/ways/index.ts";
import type { WaysTable } from "../core/route/ways/table.ts";
import { openQuestions } from "../core/structure/index.ts";
import { clock } from "../core/units/index.ts";

/** One line a part: its best way in, or what blocks it. */
export function tableText(record: TeardownRecord, table: WaysTable): string {
  const name = namer(record);
  const lines = ["   takes  steps  part"];
  for (const row of table.parts) {
    if ("because" in row) lines.push(`       -      -  ${name(row.part)}: ${row.because}`);
    else
      lines.push(
        `${clock(row.seconds).padStart(8)} ${String(row.steps).padStart(6)}  ${name(row.part)}${row.proved ? "" : " (not proved)"}`,
      );
  }
  return `${lines.map(wrap).join("\n")}\n`;
}

/** Best and worst case, and the questions whose answers decide. */
export function doubtText(record: TeardownRecord, question: Question, doubt: Doubt): string {
  const say = (value: number | null): string => {
    if (value === null) return "cannot be reached";
    return question.least === "seconds" ? clock(value) : question.least === "steps" ? `${value} steps` : String(value);
  };
  const asks = new Map(openQuestions(record).map(({ relation, asks }) => [relation, asks]));
  const lines = [
    `Best case ${say(doubt.best)}, worst case ${say(doubt.worst)}.`,
    `Whichever way they fall: ${say(doubt.robust)}.`,
    `${doubt.decides.length} of ${doubt.open} open questions matter.`,
    ...doubt.decides.map(
      (one) => `${asks.get(one.relation) ?? one.relation} Yes: ${say(one.then)}; no: ${say(one.else)}.`,
    ),
  ];
  return `${lines.map(wrap).join("\n")}\n`;
}

/** Time against risk, one line a way in. */
export function frontText({ front, complete }: Front): string {
  const lines = ["   takes  steps  expected damage"];
  for (const way of front) {
    const risk = way.risk === null ? "none known" : `${way.risk.amount} ${way.risk.currency}`;
    lines.push(`${clock(way.seconds).padStart(8)} ${String(way.steps).padStart(6)}  ${risk}`);
  }
  if (!complete) lines.push("There may be more: time ran out.");
  return `${lines.join("\n")}\n`;
}

function backText(back: WayBack | null, name: (id: string) => string): string[] {
  if (back === null) return ["", "No way back was found in the time given."];
  return [
    "",
    `Way back: ${clock(back.seconds)}, of it hands on ${clock(back.handsOn)}${back.proved ? ", proved least" : ""}.`,
    "",
    "    at   takes        what",
    ...back.operations.map((operation) => backRow(operation, name)),
    ...back.warnings.map((text) => `Warning: ${text}`),
    ...back.assumptions.map((text) => `Assumed: ${text}`),
  ];
}

function backRow(operation: BackOperation, name: (id: string) => string): string {
  const what =
    operation.kind === "close"
      ? `close ${operation.joint}`
      : `${operation.kind === "refit" ? "refit" : "move back"} ${name(operation.part ?? "")}`;
  const notes = [
    ...(operation.turn ? ["turn"] : []),
    ...operation.fetch.map((tool) => `fetch ${name(tool)}`),
    ...(operation.renew ? ["new"] : []),
    ...(operation.cure === undefined ? [] : [`cures ${clock(operation.cure)} by itself`]),
  ];
  return `${clock(operation.at).padStart(6)} ${clock(operation.seconds).padStart(7)}        ${what}${notes.length > 0 ? ` (${notes.join(", ")})` : ""}`;
}

export function wayText(record: TeardownRecord, way: WayIn & { readonly back?: WayBack | null }): string {
  const name = namer(record);
  const lines = [
    `Way in to ${way.targets.map(name).join(" and ")}`,
    "",
    ...figures(way),
    "",
    "    at   takes  step  what",
    ...way.operations.map((operation) => row(operation, name)),
    "",
    ...way.branches.map(
      ({ joint, chance, then, seconds }) =>
        `May fail: ${joint} in ${Math.round(chance * 100)} of 100; then its way ${then + 1}, ${clock(seconds)} more.`,
    ),
    ...expected(record, way),
    ...way.warnings.map((text) => `Warning: ${text}`),
    ...way.assumptions.map((text) => `Assumed: ${text}`),
    ...("back" in way ? backText(way.back ?? null, name) : []),
    "",
    ...cautions(record, way),
  ];
  return `${lines.map((line) => wrap(line)).join("\n")}\n`;
}

function expected(record: TeardownRecord, way: WayIn): string[] {
  const found = expectationOf(record, way);
  if (found === null) return [];
  const smooth = Math.round(found.chanceSmooth * 100);
  return [
    `With its branches: ${clock(found.mean)} on average, give or take ${clock(found.spread)}; at worst ${clock(found.worst)}. Nothing fails in ${smooth} of 100.`,
  ];
}

function figures(way: WayIn): string[] {
  const range = way.range === null ? "" : `${clock(way.range.low)} to ${clock(way.range.high)} by what benches need, `;
  const remote = way.remoteSteps === 0 ? "" : ` (${way.remoteSteps} of them remote)`;
  const damage = way.risk === null ? "" : `, ${way.risk.amount} ${way.risk.currency} expected damage`;
  return [
    `${range}${clock(way.seconds)} by standard times`,
    `${way.steps} legal steps${remote}${damage}`,
    way.proved
      ? `Proved: no order of work has ${way.least === "seconds" ? "less time" : way.least === "steps" ? "fewer steps" : "less expected damage"}.`
      : `Not proved in the time given: the best found; none can be below ${way.lowerBound}.`,
  ];
}

function row(operation: WayOperation, name: (id: string) => string): string {
  const before = [
    ...(operation.turn ? [`turn, ${operation.side} up`] : []),
    ...operation.fetch.map((tool) => `fetch ${name(tool)}`),
  ];
  const what =
    operation.kind === "heat"
      ? `heat ${operation.zone}`
      : operation.kind === "release"
        ? `${operation.action} ${operation.joint}${operation.passes ? ` in ${operation.passes} rounds of heating` : ""}`
        : `${operation.kind} ${name(operation.part ?? "")}`;
  const steps = operation.steps === 0 ? "" : `+${operation.steps}`;
  const set = before.length > 0 ? ` (${before.join(", ")})` : "";
  return `${clock(operation.at).padStart(6)} ${clock(operation.seconds).padStart(7)} ${steps.padStart(5)}  ${what}${set}`;
}

function namer(record: TeardownRecord): (id: string) => string {
  const names = new Map([...record.parts, ...record.tools].map(({ id, name }) => [id, name]));
  return (id) => names.get(id) ?? id;
}

/** The usual cautions for what this way in asks for. */
function cautions(record: TeardownRecord, way: WayIn): string[] {
  const used = way.operations.flatMap(
    ({ joint, release }) => record.joints.find(({ id }) => id === joint)?.releases[release ?? 0] ?? [],
  );
  const said: string[] = [];
  if (way.operations.some(({ kind, passes }) => kind === "heat" || passes)) {
    said.push(
      "Caution, heat beside a cell: charge below 30 %, stop at 60 degC at the cell, no solvent while it is hot.",
    );
  }
  if (used.some(({ solvent }) => solvent))
    said.push("Caution, solvent: heater off, moving air, no flame; its vapour burns.");
  if (used.some(({ hazard }) => (hazard ?? []).length > 0))
    said.push("Caution: this way in has hazards to people or the cell; trained people only.");
  said.push("A swollen or venting cell: leave it, ventilate, follow your site's rules.");
  return said;
}

function wrap(line: string): string {
  if (line.length <= 80) return line;
  const indent = line.startsWith(" ") ? " ".repeat(22) : "  ";
  const out: string[] = [];
  let rest = line;
  while (rest.length > 80) {
    const cut = rest.lastIndexOf(" ", 80);
    if (cut <= indent.length) break;
    out.push(rest.slice(0, cut));
    rest = indent + rest.slice(cut + 1);
  }
  return [...out, rest].join("\n");
}
