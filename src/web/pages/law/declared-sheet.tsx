/** A declared sheet against what is found: the tolerance of Annex IX on the index alone, documents without any. */
import { type ChangeEvent, useId, useState } from "react";
import type { DeclaredAnswer, DeclaredPart } from "../../../core/law/index.ts";
import type { RecordHead } from "../../../server/api.ts";
import { useBench } from "../../bench/bench.tsx";
import type { Counting } from "../../compute/law-tasks.ts";
import { useComputed, useSlow } from "../../compute/use-computed.ts";
import { useAnswer } from "../../data/use-answer.ts";
import { Fault } from "../../face/fault.tsx";
import { Section, Waiting } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";
import { ROLE_WORDS } from "../../ways/words.ts";
import { SCORE_WORDS, VERDICTS } from "./law-words.ts";

/** So that a paste of the wrong thing does not stop the page. */
const MOST_BYTES = 200_000;

export function DeclaredSheet({ counting }: { readonly counting: Counting }) {
  const { kept, record } = useBench();
  const [text, setText] = useState("");
  const [asked, setAsked] = useState<string | null>(null);
  const [further, setFurther] = useState("");
  const [large, setLarge] = useState(false);
  const box = useId();
  const heads = useAnswer<readonly RecordHead[]>("/api/records");
  const others = heads.kind === "here" ? heads.value.filter(({ id }) => id !== record.id) : [];
  const unit = others.find(({ id }) => id === further);
  const { answer, stop } = useComputed(
    kept,
    "lawDeclared",
    asked === null
      ? null
      : { ...counting, sheet: asked, further: unit === undefined ? null : { id: unit.id, revision: unit.revision } },
  );
  const slow = useSlow(answer.kind === "working");
  const take = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0];
    if (file === undefined) return;
    setLarge(file.size > MOST_BYTES);
    if (file.size > MOST_BYTES) return;
    const read = await file.text();
    setText(read);
    setAsked(read);
  };
  return (
    <Section title="Declared against found">
      <p className="soft">
        The sheet that a maker declares, in the format unseam-sheet/1. It is compared here and not kept.
      </p>
      <div className="declare">
        <label htmlFor={box}>Sheet</label>
        <textarea
          id={box}
          rows={4}
          spellCheck={false}
          maxLength={MOST_BYTES}
          value={text}
          placeholder='{ "format": "unseam-sheet/1", … }'
          onChange={(event) => setText(event.target.value)}
        />
        <div className="row">
          <label className="button">
            open a file
            <input type="file" accept=".json,application/json" className="unseen" onChange={take} />
          </label>
          <label>
            <span className="soft">one further unit </span>
            <select value={further} onChange={(event) => setFurther(event.target.value)}>
              <option value="">none</option>
              {others.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.name}
                </option>
              ))}
            </select>
          </label>
          <button type="button" className="button" disabled={text.trim() === ""} onClick={() => setAsked(text)}>
            compare
          </button>
        </div>
      </div>
      {large ? (
        <Fault
          title="The file was not read"
          faults={[{ path: "", found: "more than 200 kB", expected: "a sheet, which is a few kB" }]}
        />
      ) : null}
      {answer.kind === "working" && slow ? <Waiting stop={stop}>Comparing.</Waiting> : null}
      {answer.kind === "refused" ? <Fault title="The sheet could not be compared" faults={answer.faults} /> : null}
      {answer.kind === "here" ? <Compared answer={answer.value} /> : null}
    </Section>
  );
}

function Compared({ answer }: { readonly answer: DeclaredAnswer }) {
  const { documents, further } = answer;
  return (
    <>
      <p className="sentence">
        The declared index {VERDICTS[answer.verdict]}: {answer.index.text}.
      </p>
      {further === undefined ? null : (
        <p>
          The further unit {VERDICTS[further.verdict]}: {further.text}.
        </p>
      )}
      <Table
        caption="Scores, declared and found"
        rows={answer.scores}
        rowKey={(row) => row.score}
        chosen={(row) => row.difference !== "0.00"}
        columns={[
          { head: "score", cell: (row) => `${SCORE_WORDS[row.score]}, ${row.score}` },
          { head: "declared", number: true, cell: (row) => row.declared ?? "none" },
          { head: "found", number: true, cell: (row) => row.found ?? "none" },
          { head: "difference", number: true, cell: (row) => (row.difference ?? "").replace("-", "−") },
        ]}
      />
      <Differences caption="Parts that differ from the sheet" rows={answer.parts} />
      {documents === undefined ? (
        <p className="soft">The record has no described procedure to hold the sheet against.</p>
      ) : (
        <>
          <p>The sheet against the maker's own description, without tolerance: {VERDICTS[documents.verdict]}.</p>
          <Differences caption="Where the sheet differs from the description" rows={documents.differences} />
        </>
      )}
    </>
  );
}

function Differences({ caption, rows }: { readonly caption: string; readonly rows: readonly DeclaredPart[] }) {
  return (
    <Table
      caption={caption}
      rows={rows}
      rowKey={(row) => `${row.part} ${row.what}`}
      empty="No part differs."
      columns={[
        { head: "part", cell: (row) => ROLE_WORDS[row.part] },
        { head: "in", cell: (row) => row.what },
        { head: "declared", cell: (row) => row.declared ?? "none" },
        { head: "found", cell: (row) => row.found ?? "none" },
      ]}
    />
  );
}
