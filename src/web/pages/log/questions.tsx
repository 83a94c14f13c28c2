import { difference } from "../../../core/record/edits.ts";
import { openQuestions, settle } from "../../../core/structure/index.ts";
import { spokenTime } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import { useKeep } from "../../keep/index.ts";

const time = (seconds: number | null) => (seconds === null ? "not to be reached" : spokenTime(seconds));

/** Relations that nobody has tried, each answered by a look; what they decide comes as soon as it is computed. */
export function Questions() {
  const { kept, record, choose } = useBench();
  const keep = useKeep();
  const { answer, stop } = useComputed(kept, "lawQuestions", {});
  const open = openQuestions(record);
  const ranked = answer.kind === "here" ? answer.value : [];
  const weight = new Map(ranked.map((one, nth) => [one.relation, { one, nth }]));
  const shown = [...open].sort((a, b) => (weight.get(a.relation)?.nth ?? 1e9) - (weight.get(b.relation)?.nth ?? 1e9));
  if (open.length === 0) return <p>No open questions: every relation has been tried, seen or stated.</p>;
  const reply = (relation: string, there: boolean, asks: string) =>
    void keep.edit(difference(record, settle(record, [{ relation, there }])), `${there ? "yes" : "no"}: ${asks}`);
  return (
    <>
      <p role="status">
        {answer.kind === "here"
          ? `${ranked.filter((one) => one.matters).length} of ${open.length} open questions matter; the most decisive come first.`
          : answer.kind === "working"
            ? `${open.length} open questions. Weighing what each decides. `
            : `${open.length} open questions.`}
        {answer.kind === "working" ? (
          <button type="button" className="button" onClick={stop}>
            stop
          </button>
        ) : null}
      </p>
      {shown.slice(0, 60).map(({ relation, asks, parts }) => {
        const one = weight.get(relation)?.one;
        return (
          <div className="ask-row" key={relation}>
            <span>
              {asks}
              {one === undefined || !one.matters ? null : (
                <span className="soft">
                  {" "}
                  {time(one.seconds[0])} or {time(one.seconds[1])} to the priority parts
                  {one.class[0] === one.class[1]
                    ? ""
                    : `; class ${one.class[0] ?? "none"} or ${one.class[1] ?? "none"}`}
                </span>
              )}
            </span>
            <button type="button" className="button" onClick={() => choose(parts[0] ?? null, true)}>
              show
            </button>
            <button type="button" className="button" onClick={() => reply(relation, true, asks)}>
              yes
            </button>
            <button type="button" className="button" onClick={() => reply(relation, false, asks)}>
              no
            </button>
          </div>
        );
      })}
      {shown.length > 60 ? <p className="soft">and {shown.length - 60} more, once these are answered</p> : null}
    </>
  );
}
