/** The fewest design changes that lift the device to a class, or make Article 11 pass; the cheapest where prices are given. */
import { type ChangeEvent, useState } from "react";
import { type ClassLetter, costOf, type LeastChange } from "../../../core/law/index.ts";
import { useBench } from "../../bench/bench.tsx";
import type { Counting } from "../../compute/law-tasks.ts";
import { useComputed } from "../../compute/use-computed.ts";
import { Fault } from "../../face/fault.tsx";
import { Section, Waiting } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { changeWords } from "./law-words.ts";

type To = ClassLetter | "article-11";
const TARGETS: readonly To[] = ["E", "D", "C", "B", "A", "article-11"];
const SECONDS = 20;
const SHOWN = 12;

export function LeastChanges({ counting, from }: { readonly counting: Counting; readonly from: ClassLetter | null }) {
  const { kept, record } = useBench();
  const [to, setTo] = useState<To | null>(null);
  const [prices, setPrices] = useState<string | null>(null);
  const { answer, stop, again } = useComputed(
    kept,
    "lawReach",
    to === null ? null : { ...counting, to, seconds: SECONDS, prices },
  );
  const take = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0];
    if (file !== undefined && file.size <= 200_000) setPrices(await file.text());
  };
  const progress =
    answer.kind === "working" && answer.progress !== null && "done" in answer.progress ? answer.progress : null;
  return (
    <Section title="Least change">
      <p className="soft">
        The smallest set of changes to the design that is enough. One change is one joint, tool, relation, heating,
        remote step, offer, year or level.
      </p>
      <div className="row reach">
        <Segmented<To | "">
          label="Reach"
          value={to ?? ""}
          options={TARGETS.map((one) => ({
            value: one,
            label: one === "article-11" ? "Article 11" : `class ${one}`,
            disabled: one === from,
          }))}
          onChange={(next) => setTo(next === "" ? null : next)}
        />
        <label className="button">
          {prices === null ? "prices from a file" : "other prices"}
          <input type="file" accept=".json,application/json" className="unseen" onChange={take} />
        </label>
        {prices === null ? null : (
          <button type="button" className="button" onClick={() => setPrices(null)}>
            count changes, not money
          </button>
        )}
      </div>
      {answer.kind === "working" ? (
        <Waiting stop={stop}>
          Looking for the smallest set{progress === null ? "" : `, ${progress.done} % of the time used`}.
        </Waiting>
      ) : null}
      {answer.kind === "stopped" ? (
        <button type="button" className="button" onClick={again}>
          look again
        </button>
      ) : null}
      {answer.kind === "refused" ? <Fault title="The changes could not be looked for" faults={answer.faults} /> : null}
      {answer.kind === "here" ? <Sets answer={answer.value} words={(change) => changeWords(record, change)} /> : null}
    </Section>
  );
}

function Sets(props: {
  readonly answer: LeastChange;
  readonly words: (change: LeastChange["changes"][number][number]) => string;
}) {
  const { answer, words } = props;
  const { changes, proved, more, to } = answer;
  const [all, setAll] = useState(false);
  const goal = to === "article-11" ? "Article 11 passes" : `class ${to}`;
  const [first] = changes;
  if (first === undefined)
    return (
      <p className="sentence">
        {proved
          ? `Proved: no set of such changes is enough for ${goal}.`
          : `No set for ${goal} was found in the time given.`}
      </p>
    );
  if (first.length === 0) return <p className="sentence">Nothing need be changed for {goal}.</p>;
  const cost = costOf(first);
  const size = `${first.length} ${first.length === 1 ? "change" : "changes"}`;
  const price = cost === null ? "" : `, ${cost.amount} ${cost.currency}`;
  return (
    <>
      <p className="sentence">
        {goal}: {size}
        {price}.{" "}
        {proved
          ? `Proved: no ${cost === null ? "smaller" : "cheaper"} set is enough.`
          : "Not proved in the time given: a smaller set may exist."}
      </p>
      <p className="soft">
        {more
          ? `More than these ${changes.length}`
          : changes.length === 1
            ? "This set is the only one"
            : `These ${changes.length}`}{" "}
        {more || changes.length > 1 ? "sets are equally good" : "of its size"}; each by itself is enough, and was
        assessed anew.
      </p>
      <ol className="sets">
        {(all ? changes : changes.slice(0, SHOWN)).map((set) => (
          <li key={set.map(words).join("\n")}>{set.map(words).join("; ")}</li>
        ))}
      </ol>
      {changes.length > SHOWN && !all ? (
        <button type="button" className="button" onClick={() => setAll(true)}>
          show all {changes.length}
        </button>
      ) : null}
    </>
  );
}
