import type { ReactNode } from "react";
import {
  type Finding,
  type LawReport,
  NOT_FOLDABLE_ROLES,
  type PartAnswer,
  type RecordBasis,
  type Verdict,
} from "../../core/law/index.ts";
import type { PriorityRole } from "../../core/record/index.ts";
import { DEFAULT_READINGS, type StepReadings } from "../../core/route/problem.ts";
import { useBench } from "../bench/bench.tsx";
import { useComputed, useSlow } from "../compute/use-computed.ts";
import { Caution, OpenQuestion, Remarks } from "../face/caution.tsx";
import { Fault } from "../face/fault.tsx";
import { Figure, Figures } from "../face/figure.tsx";
import { PageHead, Section, Waiting } from "../face/page-head.tsx";
import { PartButton } from "../face/part-button.tsx";
import { Segmented, Switches } from "../face/segmented.tsx";
import { Table } from "../face/table.tsx";
import { setSearch, usePlace } from "../router.ts";
import { listWord } from "../ways/question.ts";
import { ROLE_WORDS } from "../ways/words.ts";

const BASES = ["described", "least", "done"] as const satisfies readonly RecordBasis[];
const BASIS_WORDS: Readonly<Record<RecordBasis, string>> = {
  described: "the maker's described procedure, replayed on this unit",
  least: "our order of work with the fewest steps",
  done: "our order of work as the log has it",
};
const VERDICTS: Readonly<Record<Verdict, string>> = { pass: "passes", fail: "fails", "cannot-tell": "cannot be told" };
const READING_IDS = Object.keys(DEFAULT_READINGS) as (keyof StepReadings)[];

export function LawPage() {
  const { kept, record } = useBench();
  const { search } = usePlace();
  const basis = BASES.find((one) => one === search.get("basis"));
  const switched = (search.get("reading") ?? "").split(",");
  const readings = Object.fromEntries(READING_IDS.map((id) => [id, switched.includes(id)])) as unknown as StepReadings;
  const { answer, stop, again } = useComputed(kept, "law", { ...(basis === undefined ? {} : { basis }), readings });
  const slow = useSlow(answer.kind === "working");
  const shown = answer.kind === "here" ? answer.value : null;
  return (
    <>
      <PageHead title={`What the law's index says of ${record.device.name}`} />
      <div className="row">
        <Segmented<RecordBasis | "">
          label="Steps counted over"
          value={basis ?? (shown?.basis === "sheet" ? "" : (shown?.basis ?? ""))}
          options={[
            { value: "described", label: "described", disabled: (record.described ?? []).length === 0 },
            { value: "least", label: "least" },
            { value: "done", label: "done", disabled: record.log.length === 0 },
          ]}
          onChange={(next) => setSearch({ basis: next === "" ? null : next })}
        />
        {shown === null ? null : <span className="soft">Counted over {BASIS_WORDS[shown.basis as RecordBasis]}.</span>}
      </div>
      {answer.kind === "working" && slow ? (
        <Waiting stop={stop}>Counting the steps to every priority part.</Waiting>
      ) : null}
      {answer.kind === "stopped" ? (
        <p>
          Stopped.{" "}
          <button type="button" className="button" onClick={again}>
            count again
          </button>
        </p>
      ) : null}
      {answer.kind === "refused" ? (
        <Fault title="The index could not be computed" faults={answer.faults} again={again} />
      ) : null}
      {shown === null ? null : <Assessment report={shown} switched={switched} />}
    </>
  );
}

/** The class in a sentence with its clause; where rounding decides or facts are missing, that too. */
function headline({ index, class: letter, range, why }: LawReport): ReactNode {
  if (index === null || letter === null)
    return `No class can be stated: ${why ?? "the index has no points to be made of"}.`;
  const ends = range && range.low.class !== range.high.class ? `${range.low.class} or ${range.high.class}` : letter;
  return range
    ? `By what is known the device is in class ${ends}: the index lies between ${range.low.index} and ${range.high.index} (2023/1669 Annex II C, Table 4).`
    : `With an index of ${index} the device is in class ${letter} (2023/1669 Annex II C, Table 4).`;
}

function Assessment({ report, switched }: { readonly report: LawReport; readonly switched: readonly string[] }) {
  const { index, unrounded, range, scores } = report;
  const value = index === null ? "no index" : range ? `${range.low.index} to ${range.high.index}` : index;
  return (
    <>
      <Figures>
        <Figure
          large
          value={value}
          note="repairability index, 1.00 to 5.00"
          source={
            <>
              <p>
                Weighted sum of six scores ({report.rules.act}, Annex IV point 5), in exact arithmetic:{" "}
                {unrounded === null ? "it could not be formed" : `${unrounded} before rounding`}. Rules{" "}
                {report.rules.id}, text of {report.rules.consolidated}.
              </p>
              <Remarks title="Not verified in the source" lines={report.rules.notVerified} />
            </>
          }
        />
        {(
          [
            ["SDD", "depth"],
            ["SF", "fasteners"],
            ["ST", "tools"],
            ["SSP", "spare parts"],
            ["SSU", "updates"],
            ["SRI", "information"],
          ] as const
        ).map(([name, words]) => (
          <Figure key={name} value={String(scores[name] ?? "none")} note={`${words}, ${name}`} />
        ))}
      </Figures>
      <p className="sentence">{headline(report)}</p>
      {report.roundingDecides ? (
        <Caution title="Rounding decides">The class would be another one without it.</Caution>
      ) : null}
      {report.warnings.length === 0 ? null : <Remarks title="Said about this count" lines={report.warnings} />}
      {report.unknown.map((one) => (
        <OpenQuestion key={`${one.path} ${one.text}`}>
          {one.text} <span className="soft">({one.scores.join(", ")})</span>
        </OpenQuestion>
      ))}
      <PriorityParts report={report} />
      <Evidence report={report} />
      <Checks report={report} />
      <Section title="Where the act is silent">
        <p className="soft">
          Its text leaves these to the reader. Switched, the count is made the other way, here and now; nothing is kept.
        </p>
        <Switches
          label="Readings the other way"
          on={switched}
          options={report.rules.readings
            .filter((one) => one.id !== "I8")
            .map((one) => ({ value: one.id as string, label: `${one.id}: ${one.text}` }))}
          onChange={(on) => setSearch({ reading: listWord(on.filter((one) => one !== "")) })}
        />
      </Section>
      <p className="notice">{report.notice}</p>
    </>
  );
}

type Row = { readonly role: PriorityRole; readonly answer: PartAnswer | null | undefined };

function rolesOf(report: LawReport): readonly PriorityRole[] {
  return [...NOT_FOLDABLE_ROLES, "hinge" as const].filter((role) => role in report.parts);
}

function PriorityParts({ report }: { readonly report: LawReport }) {
  const points = (value: number | null | undefined) => (value === undefined || value === null ? "none" : value);
  const rows: Row[] = rolesOf(report).map((role) => ({ role, answer: report.parts[role] }));
  const told = (row: Row, say: (answer: PartAnswer) => ReactNode, none: ReactNode = "") =>
    row.answer === null || row.answer === undefined ? none : say(row.answer);
  return (
    <Section title="Priority parts">
      <Table
        caption="Priority parts with what decides their points"
        rows={rows}
        rowKey={(row) => row.role}
        columns={[
          { head: "part", cell: (row) => ROLE_WORDS[row.role] },
          {
            head: "steps",
            number: true,
            cell: (row) =>
              told(
                row,
                (one) => `${one.steps ?? "cannot be told"}${one.remoteSteps > 0 ? `, ${one.remoteSteps} remote` : ""}`,
                "absent",
              ),
          },
          { head: "depth", unit: "points", number: true, cell: (row) => told(row, (one) => points(one.depth)) },
          { head: "fastener", unit: "points", number: true, cell: (row) => told(row, (one) => points(one.fastener)) },
          { head: "tool", unit: "points", number: true, cell: (row) => told(row, (one) => points(one.tool)) },
          {
            head: "decided by",
            cell: (row) => told(row, (one) => <DecidedBy answer={one} />),
          },
          {
            head: "described / done / least",
            number: true,
            cell: (row) => {
              const counts = report.counts[row.role];
              return counts == null
                ? ""
                : [counts.described, counts.done, counts.least].map((n) => n ?? "–").join(" / ");
            },
          },
        ]}
      />
      <p className="soft">
        Only a count over a described procedure is the Regulation's own basis (Annex VI point 1(c)); the others are with
        our order of work.
      </p>
    </Section>
  );
}

function DecidedBy({ answer }: { readonly answer: PartAnswer }) {
  const { fastener, tool } = answer.decidedBy;
  const { record } = useBench();
  const toolName = (id: string) => record.tools.find((one) => one.id === id)?.name ?? id;
  const words = [
    fastener === undefined ? null : `${fastener.kind}${fastener.joint === undefined ? "" : ` (${fastener.joint})`}`,
    tool === undefined
      ? null
      : `${tool.kind.replaceAll("-", " ")}${tool.tool === undefined ? "" : ` (${toolName(tool.tool)})`}`,
  ].filter((one) => one !== null);
  return <>{words.join("; ")}</>;
}

function Evidence({ report }: { readonly report: LawReport }) {
  const { choose, part } = useBench();
  return (
    <Section title="Evidence">
      {rolesOf(report).flatMap((role) =>
        (report.evidence[role] ?? []).map((one) => (
          <details key={`${role} ${one.part}`} className="remarks" open={part?.id === one.part}>
            <summary>{one.sentence}</summary>
            <div className="opened">
              <p>
                <PartButton id={one.part} name={one.name} choose={choose} />
                {one.segment?.after === undefined
                  ? " from the fully assembled device."
                  : `: counted for fastener and tool after ${one.segment.after} is off.`}
              </p>
              <ol className="order">
                {one.steps.map((step) => (
                  <li key={step.step}>
                    {step.text}{" "}
                    <span className="soft">
                      {report.clauses.find((clause) => clause.id === step.clause)?.where ?? step.clause}
                    </span>
                  </li>
                ))}
              </ol>
            </div>
          </details>
        )),
      )}
    </Section>
  );
}

function Checks({ report }: { readonly report: LawReport }) {
  const { ecodesign, article11 } = report.checks;
  const failing = (findings: readonly Finding[]) =>
    findings
      .filter((one) => one.verdict !== "pass")
      .map((one) => `${one.asks}: ${one.because}`)
      .join("; ");
  return (
    <Section title="Beside the index">
      <Table
        caption={`${ecodesign.act}: ${ecodesign.where}`}
        rows={ecodesign.rows}
        rowKey={(row) => `${row.row} ${row.part}`}
        columns={[
          { head: "row", cell: (row) => `${row.row}, ${row.what}` },
          { head: "verdict", cell: (row) => VERDICTS[row.verdict] },
          { head: "what decides", cell: (row) => failing(row.findings) },
        ]}
      />
      <p>
        Battery by either route: {VERDICTS[ecodesign.battery.verdict]}. {article11.act}, {article11.where} (from{" "}
        {article11.appliesFrom}): {VERDICTS[article11.verdict]}
        {failing(article11.findings) === "" ? "." : `: ${failing(article11.findings)}.`}
      </p>
      <Remarks title="Notes" lines={[...ecodesign.notes, article11.relation]} />
    </Section>
  );
}
