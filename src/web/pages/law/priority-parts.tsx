/** Every priority part: the three counts side by side, and its sentence, which opens into its steps and what decides. */
import { useCallback } from "react";
import type { LawReport, PartAnswer, PartEvidence, TimedSequence } from "../../../core/law/index.ts";
import type { PriorityRole } from "../../../core/record/index.ts";
import { drawRibbon } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Remarks } from "../../face/caution.tsx";
import { Section } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { Picture } from "../../face/picture.tsx";
import { Table } from "../../face/table.tsx";
import { Link } from "../../link.tsx";
import { ROLE_WORDS } from "../../ways/words.ts";
import { pageAddress } from "./address.ts";
import { rolesIn } from "./law-words.ts";

interface Row {
  readonly role: PriorityRole;
  readonly answer: PartAnswer | null;
}

export function PriorityParts({ report }: { readonly report: LawReport }) {
  const { part } = useBench();
  const rows: Row[] = rolesIn(report).map((role) => ({ role, answer: report.parts[role] ?? null }));
  const count = (role: PriorityRole, basis: "described" | "done" | "least") => {
    const counts = report.counts[role];
    return counts == null ? "" : (counts[basis] ?? "–");
  };
  const points = (row: Row, score: "depth" | "fastener" | "tool") =>
    row.answer === null ? "5" : (row.answer[score] ?? "none");
  return (
    <Section title="Priority parts">
      <p className="soft">
        Only the count over a described procedure is the act's own basis (Annex VI point 1(c)); the other two are with
        our order of work.
      </p>
      <Table
        caption="Priority parts: legal steps by each count, and points by the chosen one"
        rows={rows}
        rowKey={(row) => row.role}
        chosen={(row) => (report.evidence[row.role] ?? []).some((one) => one.part === part?.id)}
        columns={[
          { head: "part", cell: (row) => `${ROLE_WORDS[row.role]}${row.answer === null ? ", absent" : ""}` },
          { head: "described", unit: "steps", number: true, cell: (row) => count(row.role, "described") },
          { head: "done", unit: "steps", number: true, cell: (row) => count(row.role, "done") },
          { head: "least", unit: "steps", number: true, cell: (row) => count(row.role, "least") },
          {
            head: "remote",
            unit: "steps",
            number: true,
            cell: (row) => (row.answer === null ? "" : row.answer.remoteSteps || ""),
          },
          { head: "depth", unit: "points", number: true, cell: (row) => points(row, "depth") },
          { head: "fastener", unit: "points", number: true, cell: (row) => points(row, "fastener") },
          { head: "tool", unit: "points", number: true, cell: (row) => points(row, "tool") },
        ]}
      />
      {rows.map(({ role }) =>
        (report.evidence[role] ?? []).map((one) => <Opening key={`${role} ${one.part}`} report={report} one={one} />),
      )}
    </Section>
  );
}

/** Drawn only where it is opened: a picture of no width is none. */
function Ribbon({ timed }: { readonly timed: TimedSequence }) {
  const { record } = useBench();
  const draw = useCallback((width: number) => drawRibbon(record, timed, { width }), [record, timed]);
  return (
    <Picture
      draw={draw}
      most={900}
      caption="Time by tool, from the standard times; the numbered lines are the legal steps."
    />
  );
}

function Opening({ report, one }: { readonly report: LawReport; readonly one: PartEvidence }) {
  const { choose, part, record } = useBench();
  const where = (id: string) => report.clauses.find((clause) => clause.id === id)?.where ?? id;
  const nameOf = (id: string) => record.parts.find((other) => other.id === id)?.name ?? id;
  const tool = (id: string | null) =>
    id === null ? "a source of heat" : (record.tools.find((other) => other.id === id)?.name ?? id);
  const { segment } = one;
  const worst = (list: readonly { readonly points: number | null }[]) =>
    list.reduce<number | null>(
      (low, { points }) => (low === null || points === null ? null : Math.min(low, points)),
      5,
    );
  return (
    <details className="remarks evidence" open={part?.id === one.part}>
      <summary>{one.sentence}</summary>
      <div className="opened">
        <p>
          <PartButton id={one.part} name={one.name} choose={choose} />{" "}
          <Link href={pageAddress(record.id, "ways-in", { part: one.part, least: "steps" })}>its way in</Link>
        </p>
        {one.timed === undefined || one.timed.operations.length === 0 ? null : <Ribbon timed={one.timed} />}
        {one.steps.length === 0 ? (
          <p className="soft">No step can be counted.</p>
        ) : (
          <ol className="order">
            {one.steps.map((step) => (
              <li key={step.step}>
                {step.text} <span className="soft">{where(step.clause)}</span>
              </li>
            ))}
          </ol>
        )}
        {segment === undefined ? null : (
          <>
            <p>
              {segment.after === undefined
                ? "Fastener and tool are judged over all the work: no other priority part comes off on the way."
                : `Fastener and tool are judged from where ${nameOf(segment.after)} is off.`}{" "}
              <span className="soft">{where("fastener")}</span>
            </p>
            <Table
              caption={`What is met on the way to ${one.name} after that`}
              rows={[
                ...segment.fasteners.map((met) => ({ what: met.joint, ...met, of: worst(segment.fasteners) })),
                ...segment.tools.map((met) => ({ what: tool(met.tool), ...met, of: worst(segment.tools) })),
              ]}
              rowKey={(met) => `${met.what} ${met.because}`}
              chosen={(met) => met.points === met.of && met.points !== 5}
              empty="Nothing is undone and no tool is taken: 5 points each, our reading."
              columns={[
                { head: "joint or tool", cell: (met) => met.what },
                { head: "points", number: true, cell: (met) => met.points ?? "none" },
                { head: "because", cell: (met) => met.because },
              ]}
            />
          </>
        )}
        {one.from === undefined ? null : <Remarks title="Where in the record it was read" lines={one.from} />}
      </div>
    </details>
  );
}
