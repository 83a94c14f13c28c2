/** The evidence on paper: a printable pack of a frozen revision with its hash, and the grid as a table of values. */
import type { RecordBasis } from "../../../core/law/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Section } from "../../face/page-head.tsx";

export function EvidencePack({ basis }: { readonly basis: RecordBasis | "sheet" }) {
  const { kept } = useBench();
  const address = (format: "pdf" | "html" | "csv") =>
    `/api/records/${encodeURIComponent(kept.record.id)}/law-pack?${new URLSearchParams({
      format,
      revision: String(kept.revision),
      ...(basis === "sheet" ? {} : { basis }),
    })}`;
  return (
    <Section title="Evidence pack">
      <p className="soft">
        Everything above for revision {kept.revision} of the record, frozen with its hash: the sentence of each part,
        each step with its clause, the checks, the rules and what was not verified. Readings as they stand by default.
      </p>
      <div className="row">
        <a className="button" href={address("pdf")}>
          PDF
        </a>
        <a className="button" href={address("html")} target="_blank" rel="noreferrer">
          page to print
        </a>
        <a className="button" href={address("csv")}>
          grid as CSV
        </a>
      </div>
    </Section>
  );
}
