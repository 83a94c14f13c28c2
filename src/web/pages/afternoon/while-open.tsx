import { useState } from "react";
import { closedNext, lastChanceText, withinMinutes, worthText } from "../../../core/service/afternoon/index.ts";
import { useBench } from "../../bench/bench.tsx";
import type { Lead } from "../../compute/afternoon-tasks.ts";
import { OpenQuestion } from "../../face/caution.tsx";
import { Section } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";
import { doingWords, windowWords } from "./chance-words.ts";

const MINUTES = 30;

export function WhileOpen({ lead }: { readonly lead: Lead; readonly session: string | null }) {
  const { record } = useBench();
  const [minutes, setMinutes] = useState(MINUTES);
  const { operations, done, chances } = lead;
  const next = operations[done];
  const closing = closedNext(chances, done);
  const { take, leave } = withinMinutes(chances, minutes);
  const gone = chances.filter((one) => one.gone);
  return (
    <>
      <p className="afternoon-next">
        {done} of {operations.length} operations are in the log.{" "}
        {next === undefined ? "Nothing is left of the plan." : `Next: ${doingWords(record, next)}.`}
      </p>
      {next === undefined || closing.length === 0 ? null : (
        <OpenQuestion>
          <strong>{lastChanceText(doingWords(record, next), closing)}</strong>
        </OpenQuestion>
      )}
      <Section title="Worth the time">
        <label className="afternoon-minutes">
          minutes left for it{" "}
          <input
            type="number"
            inputMode="numeric"
            min={0}
            max={600}
            value={minutes}
            onChange={(event) => setMinutes(Math.max(0, Math.min(600, Number(event.target.value) || 0)))}
          />
        </label>
        <Table
          caption="What is worth most, in the order in which it can be had"
          rows={take}
          rowKey={(one) => one.id}
          empty="Nothing that is still to be had fits into these minutes."
          columns={[
            { head: "do", cell: (one) => (one.now ? <strong>{one.does}</strong> : one.does) },
            { head: "takes", unit: "s", number: true, cell: (one) => Math.round(one.seconds) },
            { head: "from", cell: (one) => (one.now ? "now" : windowWords(record, operations, one, done).from) },
            { head: "until", cell: (one) => windowWords(record, operations, one).until },
            { head: "worth", cell: (one) => worthText(one) },
          ]}
        />
        {leave.length === 0 ? null : <p className="soft">{leave.length} more do not fit.</p>}
      </Section>
      {gone.length === 0 ? null : (
        <Section title="What can no longer be known from this unit as it lies">
          <ul className="afternoon-list">
            {gone.map((one) => (
              <li key={one.id}>
                {one.does}: closed when you {doingWords(record, operations[one.closedBy!]!)} ({worthText(one)})
              </li>
            ))}
          </ul>
        </Section>
      )}
    </>
  );
}
