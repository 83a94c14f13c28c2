/** Why the operation that is looked at is there, and what would be saved without the thing it undoes or moves. */
import type { Question, WayIn } from "../../core/route/ways/types.ts";
import type { Why } from "../../core/route/ways/why.ts";
import { operationWords } from "../../figures/index.ts";
import { useBench } from "../bench/bench.tsx";
import { useComputed } from "../compute/use-computed.ts";
import { setSearch } from "../router.ts";
import { listWord } from "./question.ts";
import { differenceWords } from "./words.ts";

/** Null until it is known. */
export function useWhy(question: Question, way: WayIn, step: number | null): Why | null {
  const { kept } = useBench();
  const asks = step === null || step >= way.operations.length ? null : { question, way, place: step, seconds: 2 };
  const { answer } = useComputed(kept, "why", asks);
  return answer.kind === "here" ? answer.value : null;
}

export function WhyWords(props: {
  readonly question: Question;
  readonly way: WayIn;
  readonly why: Why;
  readonly go: (step: number) => void;
}) {
  const { question, way, why, go } = props;
  const { record } = useBench();
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  const full = (place: number) => operationWords(record, way.operations[place]!).full;
  const later = why.chain.slice(1);
  const goal = way.targets.map(nameOf).join(" and ");
  const { without } = why;
  return (
    <div className="why">
      {later.length === 0 ? (
        <p>
          <b>Why:</b>{" "}
          {why.needed
            ? `it is what brings ${goal} out.`
            : "nothing later waits for it; done here it spares a fetch, a turn, a step or a heating."}
        </p>
      ) : (
        <>
          <p>
            <b>Why:</b> each of these waits for the one before it{why.needed ? `, up to ${goal}` : ""}.
          </p>
          <ol>
            {later.map((place) => (
              <li key={place}>
                <button type="button" className="part-button" onClick={() => go(place)}>
                  {full(place)}
                </button>
              </li>
            ))}
          </ol>
        </>
      )}
      {without === null ? null : (
        <p className="run">
          <span>
            If {nameOf(without.gone)} were not there: {differenceWords(way, without)}
          </span>
          <button
            type="button"
            className="button"
            onClick={() => setSearch({ gone: listWord([...(question.gone ?? []), without.gone]) })}
          >
            take it as not there
          </button>
        </p>
      )}
    </div>
  );
}
