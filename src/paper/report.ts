/**
 * The report: one HTML page that opens without a network and prints well. It begins with what was found and what is
 * unaccounted for, and ends with how it was made: no verdict. Pure: the same answers give the same text.
 */

import { materialName } from "../core/heat/index.ts";
import type { LawReport } from "../core/law/index.ts";
import type { Joint, Part, TeardownRecord } from "../core/record/index.ts";
import type { WayIn } from "../core/route/ways/types.ts";
import { drawingCss, svgText, tokensCss } from "../draw/index.ts";
import {
  closedView,
  drawDevice,
  drawRibbon,
  jointDetail,
  placeDevice,
  type Scene,
  spokenRange,
  spokenTime,
} from "../figures/index.ts";
import { CELL_CAUTION, cautionsFor, RULES_FIRST } from "./cautions.ts";
import { html, type Markup, made } from "./html.ts";
import type { ReportAnswers, Told } from "./report-answers.ts";
import { figuresPart } from "./report-figures.ts";
import { REPORT_CSS } from "./report-style.ts";
import { type Draw, list, notTold, table } from "./report-table.ts";

export interface ReportOptions {
  /** Date and time of the making, and version of the program, as they are to be printed. */
  readonly madeAt: string;
  readonly version: string;
  /** Font faces as CSS; left out: what the reader's machine has. */
  readonly typeface?: string;
}

export function reportHtml(answers: ReportAnswers, { madeAt, version, typeface = "" }: ReportOptions): string {
  const { record } = answers;
  let pictures = 0;
  const picture = (scene: Scene, caption: string): Markup =>
    html`<figure>${made(svgText(scene, { id: `p${++pictures}` }))}${caption === "" ? html`` : html`<figcaption>${caption}</figcaption>`}</figure>`;
  const title = `${record.device.name}: teardown report`;
  const page = html`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title><style>${made(typeface)}${made(tokensCss())}${made(drawingCss())}${made(REPORT_CSS)}</style></head>
<body><header><h1>${record.device.name}</h1><p class="soft">${subtitle(record)}</p></header>
<main>
${section("What was found", found(answers))}
${section("What is unaccounted for", unaccounted(answers))}
${section("The device", drawings(record, picture))}
${section("Ways in", waysIn(answers, picture))}
${section("Figures", figuresPart(answers, picture))}
${section("The law's index", lawPart(answers))}
${section("Parts and joints", structurePart(record))}
${section("How this was made", howMade(answers, madeAt, version))}
</main></body></html>
`;
  return page.text;
}

const section = (title: string, body: Markup | readonly Markup[]): Markup =>
  html`<section><h2>${title}</h2>${Array.isArray(body) ? body : [body as Markup]}</section>`;

const nameOf = (record: TeardownRecord, id: string): string => record.parts.find((part) => part.id === id)?.name ?? id;
const number = (value: number | null, places: number, unit: string): string =>
  value === null ? "not known" : `${value.toFixed(places)} ${unit}`;
const doubted = (one: Part | Joint): boolean => one.basis === "inferred" || one.basis === "sibling";

function subtitle({ device, unit, sessions = [] }: TeardownRecord): string {
  return [
    device.maker,
    device.model,
    device.kind.replaceAll("-", " "),
    device.released === undefined ? undefined : `released ${device.released}`,
    unit === undefined ? undefined : `one ${unit.condition} unit`,
    sessions[0] === undefined ? undefined : `opened ${sessions[0].started.slice(0, 10)}`,
  ]
    .filter((one) => one !== undefined)
    .join(" · ");
}

const isWay = (answer: unknown): answer is WayIn =>
  typeof answer === "object" && answer !== null && "operations" in answer;

function waysOf(answers: ReportAnswers): readonly { part: Part; roles: string; way: WayIn }[] {
  const roles = new Map<string, string[]>();
  for (const one of answers.ways) roles.set(one.part.id, [...(roles.get(one.part.id) ?? []), one.role]);
  const seen = new Set<string>();
  return answers.ways.flatMap(({ part, answer }) => {
    if (seen.has(part.id) || answer.kind !== "told" || !isWay(answer.value)) return [];
    seen.add(part.id);
    return [{ part, roles: roles.get(part.id)!.join(", "), way: answer.value }];
  });
}

/** Ends of a range of classes in a sentence with its clause. */
export function classSentence(law: LawReport): string {
  if (law.index === null || law.class === null)
    return `No class can be stated: ${law.why ?? "the law has no points here"}.`;
  const { range } = law;
  return range === undefined
    ? `With an index of ${law.index} the device is in class ${law.class} (2023/1669 Annex II C, Table 4).`
    : `By what is known the index lies between ${range.low.index} and ${range.high.index}, class ${
        range.low.class === range.high.class ? range.low.class : `${range.low.class} to ${range.high.class}`
      } (2023/1669 Annex II C, Table 4).`;
}

function found(answers: ReportAnswers): Markup {
  const { record, figures, law } = answers;
  const items: string[] = [];
  const screws = record.joints.filter((one) => one.kind === "screw").reduce((sum, one) => sum + (one.count ?? 1), 0);
  items.push(`${record.parts.length} parts, ${record.joints.length} joints, ${screws} screws.`);
  if (figures.kind === "told") {
    const { mass, battery, claims } = figures.value;
    if (mass.device !== null) items.push(`It weighs ${number(mass.device, 1, "g")}.`);
    if (battery.energyWh !== null)
      items.push(
        `The cell holds ${number(battery.energyWh, 2, "Wh")}: ${number(battery.whPerKg, 0, "Wh/kg")}, ${number(battery.whPerL, 0, "Wh/L")}.`,
      );
    const count = (verdict: string) => claims.filter((one) => one.verdict === verdict).length;
    if (claims.length > 0)
      items.push(
        `Claims: ${count("supported")} of ${claims.length} supported by the readings, ${count("not-supported")} not supported, ${count("cannot-tell")} cannot be told.`,
      );
  }
  const battery = waysOf(answers).find(({ part }) => part.role === "battery");
  if (battery)
    items.push(
      `The battery is out after ${battery.way.range === null ? spokenTime(battery.way.seconds) : spokenRange(battery.way.range.low, battery.way.range.high)} of hands-on work, ${battery.way.steps} legal steps.`,
    );
  if (law.kind === "told") items.push(classSentence(law.value));
  return list(items, "Nothing yet.");
}

function unaccounted(answers: ReportAnswers): Markup {
  const { record, figures, law } = answers;
  const items: (string | Markup)[] = [];
  if (figures.kind === "told") {
    const { mass, thickness, flags } = figures.value;
    items.push(closure("Mass", mass, "g", record));
    for (const one of thickness) items.push(closure(`Thickness, ${one.name}`, one, "mm", record));
    for (const flag of flags) items.push(`Hardly right: ${flag.text} (${flag.about}).`);
  } else items.push(`The figures cannot be told: ${figures.why}.`);
  for (const one of [...record.parts, ...record.joints].filter(doubted))
    items.push(
      `A guess that nobody has tried: where ${"name" in one ? one.name : `${jointDetail(one)} of ${one.holds.map((id) => nameOf(record, id)).join(" and ")}`} stands in the order${one.basis === "sibling" ? " (copied from the sibling)" : ""}.`,
    );
  for (const check of record.checks ?? [])
    if (check.result !== "works")
      items.push(`${check.what}, ${check.when}: ${check.result === "fails" ? "fails" : "not tried"}.`);
  const damaged = record.log.filter((entry) => entry.outcome === "damaged");
  if (damaged.length > 0)
    items.push(
      `Damaged on the way: ${damaged.map((entry) => entry.text ?? (entry.parts ?? entry.joints ?? [entry.action]).map((id) => nameOf(record, id)).join(", ")).join("; ")}.`,
    );
  if (law.kind === "told") for (const one of law.value.unknown) items.push(`Not known to the law: ${one.text}.`);
  for (const { part, answer } of answers.ways)
    if (answer.kind === "told" && !isWay(answer.value))
      items.push(`No way in to ${part.name}: ${answer.value.unreachable.map((one) => one.because).join("; ")}.`);
  return list(items, "Nothing that was looked for.");
}

function closure(
  what: string,
  budget: { residual: number | null; u: number | null; closes: boolean | null; missing: readonly string[] },
  unit: string,
  record: TeardownRecord,
): string {
  const missing =
    budget.missing.length === 0 ? "" : ` In no reading: ${budget.missing.map((id) => nameOf(record, id)).join(", ")}.`;
  if (budget.residual === null) return `${what}: it cannot be closed.${missing}`;
  const sure = budget.u === null ? "" : `, standard uncertainty ${budget.u.toPrecision(2)} ${unit}`;
  const says =
    budget.closes === null
      ? "cannot tell whether it closes"
      : budget.closes
        ? "closes"
        : "more than the instruments explain";
  return `${what}: ${budget.residual.toFixed(2).replace("-", "−")} ${unit} unaccounted for${sure}; ${says}.${missing}`;
}

function drawings(record: TeardownRecord, picture: Draw): Markup {
  const device = placeDevice(record);
  if (device === null) return html`<p>No part has both an outline and a level, so there is no drawing.</p>`;
  const back = record.parts.find((part) => part.role === "back-cover");
  const closed = { ...closedView(device, 440, 620), still: true as const };
  const off =
    back === undefined
      ? closed
      : { ...closed, away: new Set([back.id]), cutAt: (device.bounds.x0 + device.bounds.x1) / 2 };
  const from = { ...closed, seen: "front" as const, depth: device.depth[1] };
  const display = record.parts.find((part) => part.role === "display");
  const views: [typeof closed | typeof from, string][] = [
    [closed, "Closed, from the back."],
    ...(back === undefined ? [] : [[off, `${back.name} off.`] as [typeof closed, string]]),
    ...(display === undefined
      ? []
      : [
          [{ ...from, away: new Set([display.id]) }, `${display.name} off, from the display.`] as [typeof from, string],
        ]),
  ];
  return html`<div class="pictures">${views.map(([view, caption]) => picture(drawDevice(device, view, record.device.name).scene, caption))}</div>
<p class="soft">To scale along the long axis; thickness is drawn larger by the factor stated. Hatching by class of material; crosses are screws.</p>`;
}

function waysIn(answers: ReportAnswers, picture: Draw): readonly Markup[] {
  const { record } = answers;
  const ways = waysOf(answers);
  const rows = ways.map(({ part, roles, way }) => [
    part.name,
    roles,
    way.range === null ? spokenTime(way.seconds) : spokenRange(way.range.low, way.range.high),
    spokenTime(way.seconds),
    `${way.steps}${way.remoteSteps > 0 ? `, ${way.remoteSteps} remote` : ""}`,
    way.risk === null ? "no prices" : `${Number(way.risk.amount).toFixed(2)} ${way.risk.currency}`,
    way.proved ? "proved" : `none below ${spokenTime(way.lowerBound)}`,
  ]);
  const cautions = new Map(ways.flatMap(({ way }) => cautionsFor(record, way)).map((one) => [one.title, one.text]));
  if (record.parts.some((part) => part.role === "battery")) cautions.set(CELL_CAUTION.title, CELL_CAUTION.text);
  return [
    html`<div class="cautions">${[...cautions].map(([title, text]) => html`<p class="caution"><b>${title}.</b> ${text}</p>`)}<p>${RULES_FIRST}</p></div>`,
    table(["part", "role", "hands on", "by standard times", "legal steps", "expected damage", "least time"], rows),
    html`<p class="soft">Hands on: what a working bench would recognise (common practice, no source). Standard times compare orders of work; they promise nothing. Nothing is damaged on these ways.</p>`,
    ...ways.map(
      ({ part, way }) =>
        html`<div class="way">${picture(drawRibbon(record, way, { width: 760 }), `Way in to ${part.name}.`)}${way.warnings.map((text) => html`<p class="caution"><b>Before you begin.</b> ${text}</p>`)}</div>`,
    ),
  ];
}

function lawPart({ law }: ReportAnswers): readonly Markup[] {
  if (law.kind === "not-told") return [notTold(law.why)];
  const report = law.value;
  const basis = {
    described: "the maker's described procedure, replayed on this unit: the Regulation's own basis",
    least: "our order of work with the fewest steps",
    done: "our order of work as the log has it",
    sheet: "a declared sheet",
  }[report.basis];
  const points = (value: number | null) => value ?? "none";
  return [
    html`<p>${classSentence(report)} Steps are counted over ${basis}.</p>`,
    table(
      ["part", "steps", "depth", "fastener", "tool"],
      Object.entries(report.parts).map(([role, one]) =>
        one === null || one === undefined
          ? [role.replaceAll("-", " "), "absent", "", "", ""]
          : [
              role.replaceAll("-", " "),
              one.steps ?? "cannot be told",
              points(one.depth),
              points(one.fastener),
              points(one.tool),
            ],
      ),
    ),
    table(
      ["score", "value"],
      Object.entries(report.scores).map(([name, value]) => [name, value ?? "none"]),
    ),
    report.warnings.length === 0 ? html`` : html`<h3>Said about this count</h3>${list(report.warnings, "")}`,
    html`<p class="soft">${report.notice}</p>`,
  ];
}

function structurePart(record: TeardownRecord): readonly Markup[] {
  return [
    html`<h3>Parts</h3>${table(
      ["part", "role", "material", "level, mm"],
      record.parts.map((part) => [
        part.name,
        (part.role ?? "").replaceAll("-", " "),
        part.material === undefined ? "" : materialName(part.material),
        part.level === undefined ? "" : `${part.level[0]} to ${part.level[1]}`,
      ]),
    )}`,
    html`<h3>Joints</h3>${table(
      ["joint", "what", "between", "undone by"],
      record.joints.map((joint) => [
        joint.id,
        jointDetail(joint),
        joint.holds.map((id) => nameOf(record, id)).join(", "),
        joint.releases.length === 0
          ? "lets go by itself"
          : joint.releases
              .map(({ action, tools }) =>
                [action, ...tools.map((id) => record.tools.find((tool) => tool.id === id)?.name ?? id)].join(", "),
              )
              .join("; or "),
      ]),
    )}`,
  ];
}

function howMade({ record, law }: ReportAnswers, madeAt: string, version: string): Markup {
  const instruments = record.instruments.map((one) => {
    const limit =
      one.maxError === undefined
        ? "no limit of error stated"
        : `limit of error ${one.maxError.value} ${one.maxError.unit}`;
    return `${one.name ?? one.kind}: resolution ${one.resolution.value} ${one.resolution.unit}, ${limit}${one.due === undefined ? "" : `, calibration due ${one.due}`}`;
  });
  const told: Told<LawReport> = law;
  return html`<p>Made ${madeAt} by unseam ${version} from the record ${record.id}. Everything here is computed from that record; nothing was added by hand.</p>
<h3>Instruments</h3>${list(instruments, "No instrument is recorded.")}
${told.kind === "told" ? html`<p>Law: ${told.value.rules.act}, text of ${told.value.rules.consolidated} (${told.value.rules.id}). Not verified in the source:</p>${list(told.value.rules.notVerified, "nothing")}` : html``}
<p>Uncertainty by the GUM (JCGM 100:2008); intervals at 95 %. Times: a published worksheet, and common practice where marked.</p>`;
}
