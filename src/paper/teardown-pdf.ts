/**
 * The teardown report on paper. It begins with the closures: what came out, what it weighs, what is unaccounted for and what was
 * proved to work; the class stands on a sheet of its own; it ends with how it was made, and passes no verdict.
 */

import { materialName } from "../core/heat/index.ts";
import type { LawReport } from "../core/law/index.ts";
import type { TeardownRecord } from "../core/record/index.ts";
import type { WayIn } from "../core/route/ways/types.ts";
import {
  closedView,
  drawDevice,
  drawRibbon,
  jointDetail,
  placeDevice,
  spokenRange,
  spokenTime,
} from "../figures/index.ts";
import { cautionsFor, RULES_FIRST } from "./cautions.ts";
import { Flow } from "./flow.ts";
import { type Imprint, withFeet } from "./frame.ts";
import type { Measure, PageSize, PaperDocument } from "./page.ts";
import { classSentence } from "./report.ts";
import type { ReportAnswers } from "./report-answers.ts";
import { changePictures, MATCHED, wholePictures } from "./report-figures.ts";
import { LANGUAGES, sayer } from "./words/index.ts";

/** mm: two drawings to a page. */
const TALL = 112;

/** The sheets of the report stand in English: what the core says, it says in English. */
const say = sayer(LANGUAGES.en!);

export function teardownPdf(answers: ReportAnswers, imprint: Imprint, measure: Measure, size: PageSize): PaperDocument {
  const { record } = answers;
  const flow = new Flow(measure, size);
  flow.title(`${record.device.name}: teardown report`);
  flow.say(subtitle(record), true);
  closures(flow, answers);
  drawings(flow, record);
  waysIn(flow, answers);
  figures(flow, answers);
  structure(flow, record);
  flow.turn();
  law(flow, answers);
  flow.turn();
  howMade(flow, record, imprint);
  return {
    title: `${record.device.name}: teardown report`,
    subject: "Teardown report",
    language: "en",
    date: imprint.date,
    pages: withFeet(flow.finish(), imprint, "Teardown report", say),
  };
}

const nameOf = (record: TeardownRecord, id: string): string => record.parts.find((part) => part.id === id)?.name ?? id;

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

function closures(flow: Flow, { record, figures: told }: ReportAnswers): void {
  flow.head("What came out");
  const lifted = new Set(
    record.log.filter(({ action, draft }) => action === "lift" && !draft).flatMap(({ parts = [] }) => parts),
  );
  const count = (kinds: readonly string[]): number =>
    record.joints.filter(({ kind }) => kinds.includes(kind)).reduce((sum, joint) => sum + (joint.count ?? 1), 0);
  flow.list(
    [
      `${record.parts.length} parts recorded${lifted.size > 0 ? `; the log has ${lifted.size} of them lifted out` : ""}.`,
      `${count(["screw"])} screws, ${count(["connector"])} connectors, ${count(["adhesive", "tape", "debondable-adhesive", "seal"])} bonds.`,
    ],
    "",
  );
  flow.head("What it weighs, and what is unaccounted for");
  if (told.kind === "not-told") flow.say(`It cannot be told: ${told.why}.`);
  else {
    const { mass, thickness, flags } = told.value;
    const budget = (
      what: string,
      one: { residual: number | null; u: number | null; closes: boolean | null; missing: readonly string[] },
      unit: string,
    ): string => {
      const missing =
        one.missing.length === 0 ? "" : ` In no reading: ${one.missing.map((id) => nameOf(record, id)).join(", ")}.`;
      if (one.residual === null) return `${what}: it cannot be closed.${missing}`;
      const says =
        one.closes === null
          ? "cannot tell whether it closes"
          : one.closes
            ? "closes"
            : "more than the instruments explain";
      const sure = one.u === null ? "" : `, standard uncertainty ${one.u.toPrecision(2)} ${unit}`;
      return `${what}: ${one.residual.toFixed(2).replace("-", "−")} ${unit} unaccounted for${sure}; ${says}.${missing}`;
    };
    flow.list(
      [
        ...(mass.device === null ? [] : [`The device weighs ${mass.device.toFixed(1)} g.`]),
        budget("Mass", mass, "g"),
        ...thickness.map((one) => budget(`Thickness, ${one.name}`, one, "mm")),
        ...flags.map((flag) => `Hardly right: ${flag.text} (${flag.about}).`),
      ],
      "Nothing was weighed.",
    );
  }
  flow.head("What was proved to work");
  const after = (record.checks ?? []).filter(({ when }) => when === "after");
  const told_ = (result: string): string[] => after.filter((check) => check.result === result).map(({ what }) => what);
  const damaged = record.log.filter(({ outcome }) => outcome === "damaged");
  flow.list(
    [
      ...(told_("works").length > 0 ? [`Works afterwards: ${told_("works").join(", ")}.`] : []),
      ...(told_("fails").length > 0 ? [`Fails afterwards: ${told_("fails").join(", ")}.`] : []),
      ...(told_("not-tried").length > 0 ? [`Not tried afterwards: ${told_("not-tried").join(", ")}.`] : []),
      ...damaged.map(
        (entry) =>
          `Damaged on the way: ${entry.text ?? (entry.parts ?? entry.joints ?? [entry.action]).map((id) => nameOf(record, id)).join(", ")}.`,
      ),
    ],
    "No check was made afterwards: nothing is proved.",
  );
  const doubts = [...record.parts, ...record.joints].filter(({ basis }) => basis === "inferred" || basis === "sibling");
  if (doubts.length > 0) {
    flow.small("Guesses that nobody has tried");
    flow.list(
      doubts.map((one) =>
        "name" in one
          ? `Where ${one.name} stands in the order.`
          : `Where ${jointDetail(one)} of ${one.holds.map((id) => nameOf(record, id)).join(" and ")} stands in the order.`,
      ),
      "",
    );
  }
}

function drawings(flow: Flow, record: TeardownRecord): void {
  const device = placeDevice(record);
  flow.head("The device", device === null ? 24 : TALL + 24);
  if (device === null) {
    flow.say("No part has both an outline and a level, so there is no drawing.");
    return;
  }
  const closed = { ...closedView(device, 520, 620), still: true as const };
  flow.figure(
    drawDevice(device, closed, record.device.name).scene,
    "Closed, from the back. Hatching by class of material; crosses are screws.",
    TALL,
  );
  const back = record.parts.find(({ role }) => role === "back-cover");
  if (back)
    flow.figure(
      drawDevice(device, { ...closed, away: new Set([back.id]) }, record.device.name).scene,
      `${back.name} off.`,
      TALL,
    );
}

const isWay = (answer: unknown): answer is WayIn =>
  typeof answer === "object" && answer !== null && "operations" in answer;

function waysIn(flow: Flow, { record, ways }: ReportAnswers): void {
  flow.head("Ways in");
  const told = ways.flatMap(({ role, part, answer }) =>
    answer.kind === "told" && isWay(answer.value) ? [{ role, part, way: answer.value }] : [],
  );
  const cautions = new Map(told.flatMap(({ way }) => cautionsFor(record, way)).map(({ title, text }) => [title, text]));
  for (const [title, text] of cautions) flow.caution(`${title}. ${text}`);
  flow.say(RULES_FIRST);
  flow.table(
    [
      { head: "part", share: 26 },
      { head: "role", share: 18 },
      { head: "hands on", share: 18 },
      { head: "legal steps", share: 12 },
      { head: "expected damage", share: 16 },
      { head: "least time", share: 18 },
    ],
    told.map(({ role, part, way }) => [
      part.name,
      role,
      way.range === null ? spokenTime(way.seconds) : spokenRange(way.range.low, way.range.high),
      way.steps,
      way.risk === null ? "no prices" : `${Number(way.risk.amount).toFixed(2)} ${way.risk.currency}`,
      way.proved ? "proved" : `none below ${spokenTime(way.lowerBound)}`,
    ]),
  );
  for (const { part, answer } of ways)
    if (answer.kind === "told" && !isWay(answer.value))
      flow.say(`No way in to ${part.name}: ${answer.value.unreachable.map(({ because }) => because).join("; ")}.`);
  const seen = new Set<string>();
  for (const { part, way } of told)
    if ((part.role === "battery" || part.role === "display") && !seen.has(part.id)) {
      seen.add(part.id);
      flow.figure(drawRibbon(record, way, { width: 760 }), `Way in to ${part.name}.`);
    }
}

function figures(flow: Flow, answers: ReportAnswers): void {
  const { record, sibling, figures: told } = answers;
  if (told.kind === "not-told") return;
  const { claims, readings } = told.value;
  const whole = wholePictures(answers);
  if (whole.length > 0) flow.head("What the whole is made of", 60);
  for (const { scene, caption } of whole) flow.figure(scene, caption);
  const changed = changePictures(answers);
  if (changed.length > 0 && sibling !== undefined) {
    flow.head(`From ${sibling.device.name} to ${record.device.name}`, 60);
    for (const { scene, caption } of changed) flow.figure(scene, caption);
    flow.say(MATCHED, true);
  }
  if (claims.length > 0) {
    flow.head("Claims");
    flow.table(
      [
        { head: "claim", share: 45 },
        { head: "verdict", share: 18 },
        { head: "to say instead", share: 45 },
      ],
      claims.map((one) => [
        record.claims.find(({ id }) => id === one.id)?.text ?? one.id,
        one.verdict.replaceAll("-", " "),
        one.wording,
      ]),
    );
  }
  if (readings.length === 0) return;
  flow.head("Readings");
  flow.table(
    [
      { head: "of", share: 40 },
      { head: "quantity", share: 16 },
      { head: "value", share: 30 },
      { head: "said about it", share: 30 },
    ],
    readings.map((one) => [
      one.of.map((id) => nameOf(record, id)).join(", "),
      one.quantity,
      unitsInPrint(one.text),
      one.warnings.join("; "),
    ]),
    8.5,
  );
}

/** Units as people write them, where the record has them in plain letters. */
const unitsInPrint = (text: string): string =>
  text
    .replace(/\bdegC\b/g, "°C")
    .replace(/\bdegF\b/g, "°F")
    .replace(/\b([cm]m)2\b/g, "$1²")
    .replace(/\bohm\b/g, "Ω")
    .replace(/\bmohm\b/g, "mΩ")
    .replace(/\bum\b/g, "µm");

function structure(flow: Flow, record: TeardownRecord): void {
  flow.head("Parts");
  flow.table(
    [
      { head: "part", share: 32 },
      { head: "role", share: 18 },
      { head: "material", share: 22 },
      { head: "level, mm", share: 16 },
      { head: "spare", share: 20 },
    ],
    record.parts.map((part) => [
      part.name,
      (part.role ?? "").replaceAll("-", " "),
      part.material === undefined ? "" : materialName(part.material),
      part.level === undefined ? "" : `${part.level[0]} to ${part.level[1]}`,
      part.spare?.price === undefined ? "" : `${part.spare.price.amount} ${part.spare.price.currency}`,
    ]),
    8.5,
  );
  flow.head("Joints");
  flow.table(
    [
      { head: "joint", share: 40 },
      { head: "holds", share: 40 },
      { head: "undone by", share: 30 },
      { head: "leaves", share: 16 },
    ],
    record.joints.map((joint) => [
      jointDetail(joint),
      joint.holds.map((id) => nameOf(record, id)).join(", "),
      joint.releases.length === 0
        ? "lets go by itself"
        : [...new Set(joint.releases.map(({ action }) => action))].join(", "),
      [...new Set(joint.releases.map(({ leaves }) => leaves))].join(", "),
    ]),
    8.5,
  );
}

function law(flow: Flow, { law: told }: ReportAnswers): void {
  flow.head("The class");
  if (told.kind === "not-told") {
    flow.say(`It cannot be told: ${told.why}.`);
    return;
  }
  const report: LawReport = told.value;
  const basis = {
    described: "the maker's described procedure, replayed on this unit: the Regulation's own basis",
    least: "our order of work with the fewest steps",
    done: "our order of work as the log has it",
    sheet: "a declared sheet",
  }[report.basis];
  flow.say(`${classSentence(report)} Steps are counted over ${basis}.`);
  flow.table(
    [
      { head: "part", share: 26 },
      { head: "steps", share: 18 },
      { head: "depth", share: 14 },
      { head: "fastener", share: 14 },
      { head: "tool", share: 14 },
    ],
    Object.entries(report.parts).map(([role, one]) =>
      one === null || one === undefined
        ? [role.replaceAll("-", " "), "absent", "", "", ""]
        : [
            role.replaceAll("-", " "),
            one.steps ?? "cannot be told",
            one.depth ?? "none",
            one.fastener ?? "none",
            one.tool ?? "none",
          ],
    ),
  );
  flow.table(
    [
      { head: "score", share: 30 },
      { head: "value", share: 20 },
    ],
    Object.entries(report.scores).map(([name, value]) => [name, String(value ?? "none")]),
  );
  if (report.warnings.length > 0) flow.small("Said about this count");
  if (report.warnings.length > 0) flow.list(report.warnings, "");
  flow.say(report.notice, true);
}

function howMade(flow: Flow, record: TeardownRecord, imprint: Imprint): void {
  flow.head("How this was made");
  flow.list(
    [
      `Record ${record.id}, revision ${imprint.revision}.`,
      ...(record.sessions ?? []).map(
        (session) => `Session ${session.id}: ${session.kind.replaceAll("-", " ")}, ${session.started.slice(0, 10)}.`,
      ),
      ...record.instruments.map(
        (one) =>
          `${one.name ?? one.kind}: resolution ${one.resolution.value} ${unitsInPrint(one.resolution.unit)}${one.calibrated === undefined ? "" : `, calibrated ${one.calibrated}`}.`,
      ),
      "Times are of trained hands by the standards stated; they compare orders of work and promise nothing.",
    ],
    "",
  );
}
