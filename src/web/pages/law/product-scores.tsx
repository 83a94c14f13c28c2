/** The scores of the product: each with the fact, since when, and when it was seen. */
import type { LawReport, ProductFact } from "../../../core/law/index.ts";
import { Section } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";
import { SCORE_WORDS } from "./law-words.ts";

export function ProductScores({ report }: { readonly report: LawReport }) {
  const points = ({ points: { low, high } }: ProductFact) =>
    low === high ? (low ?? "none") : `${low ?? "none"} to ${high ?? "none"}`;
  return (
    <Section title="Spare parts, updates, information">
      <Table
        caption="Scores of the product with the facts they rest on"
        rows={report.product}
        rowKey={(fact) => fact.score}
        columns={[
          { head: "score", cell: (fact) => `${SCORE_WORDS[fact.score]}, ${fact.score}` },
          { head: "points", number: true, cell: points },
          { head: "fact", cell: (fact) => fact.fact },
          { head: "counted from", cell: (fact) => fact.since ?? "–" },
          { head: "last seen", cell: (fact) => fact.seen ?? "–" },
          {
            head: "clause",
            cell: (fact) => (
              <span className="soft">
                {report.clauses.find((clause) => clause.id === fact.clause)?.where}; {fact.path}
              </span>
            ),
          },
        ]}
      />
      <p className="soft">
        The record keeps these facts without the name of who stated them: compare them with a declared sheet under
        checks.
      </p>
    </Section>
  );
}
