/**
 * The evidence pack: an assessment on paper that a maker, a shop or an inspector can argue with, as a list of blocks that the page
 * and the PDF are both made of. The class stands in a sentence; there is no letter, arrow or mark out of a maximum.
 */
import { CURRENT, type LawReport, type PartEvidence, type RecordBasis } from "../core/law/index.ts";
import type { PriorityRole, TeardownRecord } from "../core/record/index.ts";
import { drawWeights, type Scene, weighedScores } from "../figures/index.ts";
import { CELL_CAUTION, RULES_FIRST } from "./cautions.ts";
import { classSentence } from "./report.ts";

export type Block =
  | { readonly kind: "head" | "small" | "say" | "soft" | "caution"; readonly text: string }
  | { readonly kind: "list"; readonly lines: readonly string[]; readonly none: string }
  | {
      readonly kind: "table";
      readonly columns: readonly { readonly head: string; readonly share: number }[];
      readonly rows: readonly (readonly (string | number)[])[];
    }
  | { readonly kind: "figure"; readonly scene: Scene; readonly caption: string };

const BASIS: Readonly<Record<RecordBasis | "sheet", string>> = {
  described: "the maker's described procedure, replayed on this unit: the Regulation's own basis (Annex VI point 1(c))",
  least: "our order of work with the fewest steps",
  done: "our order of work as the log has it",
  sheet: "a declared sheet",
};
const VERDICT = { pass: "passes", fail: "fails", "cannot-tell": "cannot be told" } as const;
const KNOWN = {
  read: "read in the act",
  recalled: "recalled, not verified",
  "own-reading": "our own reading",
} as const;
const SCORES = {
  SDD: "depth",
  SF: "fasteners",
  ST: "tools",
  SSP: "spare parts",
  SSU: "updates",
  SRI: "information",
} as const;

const plain = (role: string): string => role.replaceAll("-", " ");
const say = (value: string | number | null | undefined): string | number => value ?? "–";

export function packBlocks(record: TeardownRecord, report: LawReport, revision: string): Block[] {
  const { rules } = report;
  return [
    ...headline(record, report, revision),
    ...cautions(),
    { kind: "head", text: "The index" },
    { kind: "figure", scene: weights(record, report), caption: WEIGHTS },
    scores(report),
    { kind: "head", text: "Legal steps by each count" },
    counts(report),
    {
      kind: "soft",
      text: "Only the count over a described procedure is the act's own basis; the other two are with our order of work.",
    },
    { kind: "head", text: "Evidence, part by part" },
    ...Object.values(report.evidence).flatMap((parts) => parts.flatMap((one) => part(record, report, one))),
    { kind: "head", text: "What is not known" },
    {
      kind: "list",
      lines: report.unknown.map(
        (one) => `${one.text} (${one.scores.map((score) => SCORES[score]).join(", ")}; ${one.path}).`,
      ),
      none: "Every fact that the index asks for is known.",
    },
    ...(report.warnings.length === 0
      ? []
      : ([
          { kind: "small", text: "Said about this count" },
          { kind: "list", lines: report.warnings, none: "" },
        ] satisfies Block[])),
    ...checks(record, report),
    { kind: "head", text: "The law that was used" },
    {
      kind: "say",
      text: `${rules.act}, text of ${rules.consolidated} (rule set ${rules.id}), applying from ${rules.appliesFrom}. When the first unit was placed on the market: ${rules.inForceAtRelease ?? "not known, because the record has no day of release"}.`,
    },
    { kind: "small", text: "Readings where the act is silent" },
    {
      kind: "list",
      lines: rules.readings.map((one) => `${one.id}${one.switched ? ", switched over" : ""}: ${one.text}`),
      none: "",
    },
    { kind: "small", text: "Not verified in the source" },
    { kind: "list", lines: rules.notVerified, none: "Nothing." },
    { kind: "small", text: "Clauses, in our own words" },
    {
      kind: "table",
      columns: [
        { head: "clause", share: 28 },
        { head: "says", share: 56 },
        { head: "known", share: 16 },
      ],
      rows: report.clauses.map((clause) => [clause.where, clause.says, KNOWN[clause.known]]),
    },
    { kind: "head", text: "Signed" },
    { kind: "say", text: report.notice },
    {
      kind: "table",
      columns: [
        { head: "assessor", share: 40 },
        { head: "date", share: 20 },
        { head: "signature", share: 40 },
      ],
      rows: [[" ", " ", " "]],
    },
  ];
}

const WEIGHTS =
  "As high as a score weighs, as long as its points: the index stands where the filled area would end if all rows were equally long. Ticks: the limits of the classes.";

function headline(record: TeardownRecord, report: LawReport, revision: string): Block[] {
  const { device } = record;
  const who = [device.maker, device.model, plain(device.kind), device.foldable ? "foldable" : undefined].filter(
    (one) => one !== undefined,
  );
  return [
    { kind: "soft", text: who.join(" · ") },
    { kind: "say", text: classSentence(report) },
    { kind: "say", text: `Steps are counted over ${BASIS[report.basis]}.` },
    ...(report.roundingDecides
      ? ([
          {
            kind: "say",
            text: `Rounding decides the class: ${report.unrounded} before rounding, and the act states no rounding mode.`,
          },
        ] satisfies Block[])
      : []),
    { kind: "soft", text: `Frozen: record ${record.id}, SHA-256 ${revision}.` },
    { kind: "say", text: report.notice },
  ];
}

function cautions(): Block[] {
  return [{ kind: "caution", text: `${CELL_CAUTION.title}. ${CELL_CAUTION.text} ${RULES_FIRST}` }];
}

function weights(record: TeardownRecord, report: LawReport): Scene {
  const parts = new Map(
    Object.entries(report.parts).flatMap(([role, one]) => (one == null ? [] : [[role as PriorityRole, one] as const])),
  );
  const rows = weighedScores({
    foldable: record.device.foldable,
    parts,
    product: { spareParts: report.scores.SSP, updates: report.scores.SSU, information: report.scores.SRI },
    nameOf: plain,
    partOf: () => undefined,
  });
  return drawWeights(rows, {
    width: 640,
    index: report.index === null ? null : { value: Number(report.index), words: `index ${report.index}` },
    limits: CURRENT.classLimits.map(({ from }) => from / 100),
  });
}

function scores(report: LawReport): Block {
  const fact = (name: string): string =>
    report.product.find((one) => one.score === name)?.fact ?? "see the parts below";
  const dated = (name: string): string => {
    const one = report.product.find(({ score }) => score === name);
    if (one === undefined) return "";
    return [one.since === null ? "" : `from ${one.since}`, one.seen === null ? "" : `seen ${one.seen}`]
      .filter((text) => text !== "")
      .join(", ");
  };
  return {
    kind: "table",
    columns: [
      { head: "score", share: 24 },
      { head: "value", share: 12 },
      { head: "fact", share: 44 },
      { head: "date", share: 20 },
    ],
    rows: Object.entries(report.scores).map(([name, value]) => [
      `${SCORES[name as keyof typeof SCORES]}, ${name}`,
      say(value),
      fact(name),
      dated(name),
    ]),
  };
}

function counts(report: LawReport): Block {
  return {
    kind: "table",
    columns: [
      { head: "part", share: 24 },
      { head: "described", share: 13 },
      { head: "done", share: 10 },
      { head: "least", share: 10 },
      { head: "of them remote", share: 15 },
      { head: "depth", share: 10 },
      { head: "fastener", share: 10 },
      { head: "tool", share: 8 },
    ],
    rows: Object.entries(report.parts).map(([role, one]) => {
      const by = report.counts[role as PriorityRole];
      return one == null
        ? [plain(role), "absent", "", "", "", 5, 5, 5]
        : [
            plain(role),
            say(by?.described),
            say(by?.done),
            say(by?.least),
            one.remoteSteps || "",
            say(one.depth),
            say(one.fastener),
            say(one.tool),
          ];
    }),
  };
}

function part(record: TeardownRecord, report: LawReport, one: PartEvidence): Block[] {
  const where = (id: string): string => report.clauses.find((clause) => clause.id === id)?.where ?? id;
  const nameOf = (id: string): string => record.parts.find((other) => other.id === id)?.name ?? id;
  const tool = (id: string | null): string =>
    id === null ? "source of heat" : (record.tools.find((other) => other.id === id)?.name ?? id);
  const { segment } = one;
  return [
    { kind: "small", text: one.name },
    { kind: "say", text: one.sentence },
    ...(one.steps.length === 0
      ? []
      : ([
          {
            kind: "table",
            columns: [
              { head: "step", share: 8 },
              { head: "what ended it", share: 64 },
              { head: "clause", share: 28 },
            ],
            rows: one.steps.map((step) => [step.step, step.text, where(step.clause)]),
          },
        ] satisfies Block[])),
    ...(segment === undefined
      ? []
      : ([
          {
            kind: "soft",
            text:
              segment.after === undefined
                ? `Fastener and tool over all the work (${where("fastener")}).`
                : `Fastener and tool from where ${nameOf(segment.after)} is off (${where("fastener")}).`,
          },
          {
            kind: "table",
            columns: [
              { head: "joint or tool", share: 28 },
              { head: "points", share: 10 },
              { head: "because", share: 62 },
            ],
            rows: [
              ...segment.fasteners.map((met) => [met.joint, say(met.points), met.because]),
              ...segment.tools.map((met) => [tool(met.tool), say(met.points), met.because]),
            ],
          },
        ] satisfies Block[])),
    ...(one.from === undefined
      ? []
      : ([{ kind: "soft", text: `Read from ${[...new Set(one.from)].join(", ")}.` }] satisfies Block[])),
  ];
}

function checks(record: TeardownRecord, report: LawReport): Block[] {
  const nameOf = (id: string): string => record.parts.find((one) => one.id === id)?.name ?? id;
  const { ecodesign, article11 } = report.checks;
  const decides = (findings: readonly { asks: string; verdict: string; because: string }[]): string =>
    findings
      .filter(({ verdict }) => verdict !== "pass")
      .map(({ asks, because }) => `${asks}: ${because}`)
      .join("; ") || "nothing in the record speaks against it";
  return [
    { kind: "head", text: "Ecodesign: disassembly" },
    {
      kind: "say",
      text: `${ecodesign.act}, ${ecodesign.where}, since ${ecodesign.appliesFrom}. Battery by route c(i) ${VERDICT[ecodesign.battery["c(i)"]]}, by route c(ii) ${VERDICT[ecodesign.battery["c(ii)"]]}, by either ${VERDICT[ecodesign.battery.verdict]}.`,
    },
    {
      kind: "table",
      columns: [
        { head: "part", share: 18 },
        { head: "row", share: 26 },
        { head: "verdict", share: 14 },
        { head: "what decides", share: 42 },
      ],
      rows: ecodesign.rows.map((row) => [
        nameOf(row.part),
        `(${row.row}) ${row.what}`,
        VERDICT[row.verdict],
        decides(row.findings),
      ]),
    },
    { kind: "list", lines: ecodesign.notes, none: "" },
    { kind: "head", text: "Battery: Article 11" },
    {
      kind: "say",
      text: `${article11.act}, ${article11.where}, applies from ${article11.appliesFrom}; looked at apart: ${VERDICT[article11.verdict]}.`,
    },
    {
      kind: "table",
      columns: [
        { head: "asked for", share: 40 },
        { head: "verdict", share: 16 },
        { head: "because", share: 44 },
      ],
      rows: article11.findings.map((one) => [one.asks, VERDICT[one.verdict], one.because]),
    },
    { kind: "soft", text: article11.relation },
  ];
}
