/** The version of the law that was used, the one in force at release, and what could not be verified. */
import type { LawReport } from "../../../core/law/index.ts";
import { Section } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";

const KNOWN = {
  read: "read in the act",
  recalled: "recalled, not verified",
  "own-reading": "our own reading",
} as const;

export function RulesUsed({ report }: { readonly report: LawReport }) {
  const { rules } = report;
  return (
    <>
      <Section title="Versions of the law">
        <p>
          Used: {rules.act}, text of {rules.consolidated} (rule set {rules.id}), applying from {rules.appliesFrom}. When
          the first unit was placed on the market:{" "}
          {rules.inForceAtRelease ?? "not known, because the record has no day of release"}.
        </p>
        <h3>Not verified in the source</h3>
        <ul>
          {rules.notVerified.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </Section>
      <Section title="Clauses">
        <Table
          caption="What the index is computed by, in our own words"
          rows={report.clauses}
          rowKey={(clause) => clause.id}
          columns={[
            { head: "clause", cell: (clause) => clause.where },
            { head: "says", cell: (clause) => clause.says },
            { head: "known", cell: (clause) => <span className="soft">{KNOWN[clause.known]}</span> },
          ]}
        />
      </Section>
    </>
  );
}
