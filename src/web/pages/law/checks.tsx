/** Beside the index: the disassembly rows of 2023/1670, the battery by both routes, and Article 11 with its date, apart. */
import type { Finding, LawReport, RowResult } from "../../../core/law/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Remarks } from "../../face/caution.tsx";
import { Section } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { Table } from "../../face/table.tsx";
import { VERDICTS } from "./law-words.ts";

function What({ findings }: { readonly findings: readonly Finding[] }) {
  const open = findings.filter((one) => one.verdict !== "pass");
  if (open.length === 0) return <span className="soft">nothing in the record speaks against it</span>;
  return (
    <ul className="findings">
      {open.map((one) => (
        <li key={`${one.asks} ${one.because}`}>
          {one.asks}: {VERDICTS[one.verdict]}, {one.because}
          {one.joint === undefined ? "" : ` (${[one.joint, one.tool].filter(Boolean).join(", ")})`}
        </li>
      ))}
    </ul>
  );
}

export function Checks({ report }: { readonly report: LawReport }) {
  const { ecodesign, article11 } = report.checks;
  const { choose, part, record } = useBench();
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  const { battery } = ecodesign;
  return (
    <>
      <Section title="Ecodesign: disassembly">
        <p>
          {ecodesign.act}, {ecodesign.where}, since {ecodesign.appliesFrom}. Battery by route c(i):{" "}
          {VERDICTS[battery["c(i)"]]}; by route c(ii): {VERDICTS[battery["c(ii)"]]}; by either:{" "}
          {VERDICTS[battery.verdict]}.
        </p>
        <Table<RowResult>
          caption={`${ecodesign.act}: fasteners, tools, environment and skill, row by row`}
          rows={[...ecodesign.rows].sort((a, b) => Number(a.verdict === "pass") - Number(b.verdict === "pass"))}
          rowKey={(row) => `${row.row} ${row.part}`}
          chosen={(row) => row.part === part?.id}
          columns={[
            { head: "part", cell: (row) => <PartButton id={row.part} name={nameOf(row.part)} choose={choose} /> },
            {
              head: "row",
              cell: (row) => (
                <>
                  ({row.row}) <span className="soft">{row.what}</span>
                </>
              ),
            },
            { head: "verdict", cell: (row) => VERDICTS[row.verdict] },
            { head: "what decides", cell: (row) => <What findings={row.findings} /> },
          ]}
        />
        <Remarks title="Where the text leaves room" lines={ecodesign.notes} />
      </Section>
      <Section title="Battery: Article 11">
        <p>
          {article11.act}, {article11.where}. Applies from {article11.appliesFrom}; looked at apart from the above:{" "}
          {VERDICTS[article11.verdict]}.
        </p>
        <Table
          caption={`${article11.act}, ${article11.where}`}
          rows={article11.findings}
          rowKey={(one) => `${one.asks} ${one.part ?? ""} ${one.because}`}
          columns={[
            { head: "asked for", cell: (one) => one.asks },
            { head: "verdict", cell: (one) => VERDICTS[one.verdict] },
            { head: "because", cell: (one) => one.because },
            { head: "at", cell: (one) => [one.joint, one.tool].filter(Boolean).join(", ") },
          ]}
        />
        <p className="soft">{article11.relation}</p>
      </Section>
    </>
  );
}
