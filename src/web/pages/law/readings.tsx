/** Readings I1 to I10 as switches, each with its text, and which of them would change a score or the class. */
import { useState } from "react";
import type { LawReport } from "../../../core/law/index.ts";
import { useBench } from "../../bench/bench.tsx";
import type { Counting } from "../../compute/law-tasks.ts";
import { useComputed, useSlow } from "../../compute/use-computed.ts";
import { Fault } from "../../face/fault.tsx";
import { Section, Waiting } from "../../face/page-head.tsx";
import { Switches } from "../../face/segmented.tsx";
import { Table } from "../../face/table.tsx";
import { setSearch } from "../../router.ts";
import { listWord } from "../../ways/question.ts";
import { SCORE_WORDS } from "./law-words.ts";

export function Readings(props: {
  readonly report: LawReport;
  readonly counting: Counting;
  readonly switched: readonly string[];
}) {
  const { report, counting, switched } = props;
  const { kept } = useBench();
  const [wanted, setWanted] = useState(false);
  const { answer, stop } = useComputed(kept, "lawReadings", wanted ? counting : null);
  const slow = useSlow(answer.kind === "working");
  return (
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
        onChange={(on) => setSearch({ reading: listWord(on) })}
      />
      {report.rules.readings
        .filter((one) => one.id === "I8")
        .map((one) => (
          <p key={one.id} className="soft">
            {one.id}: {one.text} It has no other position here: it is what a count of one part means.
          </p>
        ))}
      {wanted ? null : (
        <button type="button" className="button" onClick={() => setWanted(true)}>
          tell which would change something
        </button>
      )}
      {answer.kind === "working" && slow ? <Waiting stop={stop}>Counting once for each reading.</Waiting> : null}
      {answer.kind === "refused" ? <Fault title="The readings could not be tried" faults={answer.faults} /> : null}
      {answer.kind === "here" ? (
        <Table
          caption="Each reading switched over by itself"
          rows={answer.value}
          rowKey={(one) => one.id}
          chosen={(one) => one.changesClass}
          columns={[
            { head: "reading", cell: (one) => one.id },
            { head: "the other way", cell: (one) => (one.switched ? one.text : (one.other ?? "it has none")) },
            { head: "index then", number: true, cell: (one) => one.index ?? "none" },
            {
              head: "changes",
              cell: (one) =>
                one.changes.length === 0 ? (
                  <span className="soft">nothing</span>
                ) : (
                  `${one.changes.map((score) => SCORE_WORDS[score]).join(", ")}${one.changesClass ? `, and the class: ${one.class ?? "none"}` : ""}`
                ),
            },
          ]}
        />
      ) : null}
    </Section>
  );
}
