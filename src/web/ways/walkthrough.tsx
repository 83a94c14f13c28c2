/** The ribbon, and the order gone through operation by operation while the drawing follows. */
import { type MouseEvent, useCallback } from "react";
import type { Question, WayIn } from "../../core/route/ways/types.ts";
import type { Decorate } from "../../draw/scene-view.tsx";
import { drawRibbon, operationWords, spokenTime } from "../../figures/index.ts";
import { useBench } from "../bench/bench.tsx";
import { Picture } from "../face/picture.tsx";
import { useWhy, WhyWords } from "./why.tsx";

export function Walkthrough({ way, question }: { readonly way: WayIn; readonly question: Question }) {
  const { record, walk, setWalk } = useBench();
  const step = walk?.step ?? null;
  const last = way.operations.length;
  const go = (next: number | null) => setWalk({ way, step: next });
  const tool = (id: string) => record.tools.find((one) => one.id === id)?.name ?? id;
  const why = useWhy(question, way, step);
  const chain = why?.chain[0] === step ? why.chain : [];
  const next = step === null ? undefined : way.operations[step];
  const decorate = useCallback<Decorate>(() => ({ className: "pick" }), []);
  const click = (event: MouseEvent<HTMLElement>) => {
    const hit = (event.target as Element).closest<SVGGElement>("[data-operation]");
    if (hit?.dataset.operation !== undefined) go(Number(hit.dataset.operation));
  };
  return (
    <>
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the list below holds the same choice for the keyboard */}
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the list below holds the same choice for the keyboard */}
      <div onClick={click}>
        <Picture
          most={900}
          decorate={decorate}
          draw={(width) => drawRibbon(record, way, { width, chain, ...(step === null ? {} : { chosen: step }) })}
        />
      </div>
      <div className="walk">
        <button type="button" className="button" onClick={() => go(step === null ? 0 : null)}>
          {step === null ? "go through it" : "leave it"}
        </button>
        <button type="button" className="button" disabled={step === null || step === 0} onClick={() => go(step! - 1)}>
          back
        </button>
        <button type="button" className="button" disabled={step === null || step >= last} onClick={() => go(step! + 1)}>
          on
        </button>
        <output>
          {step === null ? (
            <span className="soft">{last} operations.</span>
          ) : next === undefined ? (
            <b>
              {way.targets.map((id) => record.parts.find((one) => one.id === id)?.name ?? id).join(" and ")} is out.
            </b>
          ) : (
            <>
              <span className="soft">
                {step + 1} of {last}
                {next.turn ? ` · turn, ${next.side ?? "other"} up` : ""}
                {next.fetch.length > 0 ? ` · fetch ${next.fetch.map(tool).join(" and ")}` : ""}
              </span>{" "}
              <b>{operationWords(record, next).full}</b> <span className="soft">{spokenTime(next.seconds)}</span>
            </>
          )}
        </output>
      </div>
      {why === null || chain.length === 0 ? null : <WhyWords question={question} way={way} why={why} go={go} />}
      <details className="remarks">
        <summary>The order in words</summary>
        <ol className="order">
          {way.operations.map((operation, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: an order of work is its places
            <li key={i}>
              <button
                type="button"
                className="part-button"
                aria-current={step === i ? "step" : undefined}
                onClick={() => go(i)}
              >
                {operationWords(record, operation).full}
              </button>{" "}
              <span className="soft">
                {operation.tools.length === 0 ? "bare hand" : operation.tools.map(tool).join(" + ")} ·{" "}
                {spokenTime(operation.seconds)}
                {operation.steps === 0 ? "" : ` · ${operation.steps} legal ${operation.steps === 1 ? "step" : "steps"}`}
              </span>
            </li>
          ))}
        </ol>
      </details>
    </>
  );
}
