/** Both sides of a doubt: what is not known, what it can move, and which answer would narrow it most. */
import type { LawReport } from "../../../core/law/index.ts";
import { spokenTime } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed, useSlow } from "../../compute/use-computed.ts";
import { Fault } from "../../face/fault.tsx";
import { Section, Waiting } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";
import { SCORE_WORDS } from "./law-words.ts";

export function Doubt({ report }: { readonly report: LawReport }) {
  const { kept } = useBench();
  const { answer, stop, again } = useComputed(kept, "lawQuestions", {});
  const slow = useSlow(answer.kind === "working");
  const either = (ends: readonly [string | null, string | null]) =>
    ends[0] === ends[1] ? (ends[0] ?? "none") : `${ends[0] ?? "none"} or ${ends[1] ?? "none"}`;
  const time = (seconds: number | null) => (seconds === null ? "no way" : spokenTime(seconds));
  return (
    <Section title="What is not known">
      <Table
        caption="Facts that are not known, and the scores that they can move"
        rows={report.unknown}
        rowKey={(one) => `${one.path} ${one.text}`}
        empty="Every fact that the index asks for is known."
        columns={[
          { head: "not known", cell: (one) => one.text },
          { head: "scores", cell: (one) => one.scores.map((score) => SCORE_WORDS[score]).join(", ") },
          { head: "in the record", cell: (one) => <span className="soft">{one.path}</span> },
        ]}
      />
      <h3>Which answer narrows it most</h3>
      {answer.kind === "working" && slow ? <Waiting stop={stop}>Counting with each answer both ways.</Waiting> : null}
      {answer.kind === "stopped" ? (
        <button type="button" className="button" onClick={again}>
          count again
        </button>
      ) : null}
      {answer.kind === "refused" ? <Fault title="The questions could not be weighed" faults={answer.faults} /> : null}
      {answer.kind === "here" ? (
        <Table
          caption="Open questions of the structure, the most decisive first; class by the fewest steps"
          rows={answer.value}
          rowKey={(one) => `${one.relation} ${one.asks}`}
          empty="Nothing in the structure is a guess."
          columns={[
            { head: "question", cell: (one) => one.asks },
            { head: "class", cell: (one) => either(one.class) },
            {
              head: "time to the parts",
              cell: (one) =>
                one.seconds[0] === one.seconds[1]
                  ? time(one.seconds[0])
                  : `${time(one.seconds[0])} or ${time(one.seconds[1])}`,
            },
            {
              head: "effect",
              cell: (one) => (one.matters ? "decides" : <span className="soft">changes nothing</span>),
            },
          ]}
        />
      ) : null}
    </Section>
  );
}
