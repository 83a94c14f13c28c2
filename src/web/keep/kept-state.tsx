import { useState } from "react";
import { type Edit, touches } from "../../core/record/edits.ts";
import { Fault } from "../face/fault.tsx";
import { useKeep } from "./use-keep.tsx";

/** For the line at the bottom: what is kept, and the way back and forth. */
export function KeptState() {
  const { words, undo, redo, undoLabel, redoLabel, kept } = useKeep();
  const at = new Date(kept.shown.savedAt);
  const time = kept.state === "kept" && !Number.isNaN(at.getTime()) ? `${at.toLocaleTimeString("en-GB")} · ` : "";
  return (
    <span className="line-kept soft">
      {undoLabel === null ? null : (
        <button type="button" className="plain" title={undoLabel} onClick={undo}>
          take back<span className="unseen">: {undoLabel}</span>
        </button>
      )}
      {redoLabel === null ? null : (
        <button type="button" className="plain" title={redoLabel} onClick={redo}>
          once more<span className="unseen">: {redoLabel}</span>
        </button>
      )}
      <span role="status">
        {time}
        {words}
      </span>
    </span>
  );
}

/** Above the page: what a person has to settle. Nothing where all is well. */
export function ToSettle() {
  const { kept, keeper } = useKeep();
  return (
    <>
      {kept.faults.length === 0 ? null : (
        <Fault
          title="Not taken: nothing was changed"
          faults={kept.faults}
          action="Do it again with what is expected."
        />
      )}
      {kept.refused.map((step) => (
        <section key={step.seq} className="settle">
          <Fault
            title={`Set aside: ${step.label}`}
            faults={step.refused ?? []}
            action="It is kept in this browser and is no part of the record. What you did after it went on."
          />
          <details>
            <summary>what it would change</summary>
            <ul>
              {step.edits.map((edit) => (
                <li key={JSON.stringify(edit)}>{editWords(edit)}</li>
              ))}
            </ul>
          </details>
          <button type="button" className="button" onClick={() => void keeper.discard(step.seq)}>
            drop it for good
          </button>
        </section>
      ))}
      {kept.differences.length === 0 ? null : <Differences />}
    </>
  );
}

/** Two people changed the same thing: both side by side, one choice each, none made beforehand. */
function Differences() {
  const { kept, keeper } = useKeep();
  const [mine, setMine] = useState<Readonly<Record<number, boolean>>>({});
  const all = kept.differences.every((_, index) => mine[index] !== undefined);
  return (
    <form
      className="settle"
      aria-label="Changed here and elsewhere"
      onSubmit={(event) => {
        event.preventDefault();
        void keeper.choose(kept.differences.map((_, index) => mine[index] === true));
      }}
    >
      <h2>Changed here and elsewhere</h2>
      <p>
        Somebody else saved a change to the same thing. Nothing was overwritten. Choose which is to stand; the rest of
        what you did goes on.
      </p>
      {kept.differences.map((one, index) => (
        <fieldset key={`${one.step} ${one.edit}`}>
          <legend>{touches(one.mine)[0]}</legend>
          <label>
            <input
              type="radio"
              name={`differs-${index}`}
              checked={mine[index] === true}
              onChange={() => setMine({ ...mine, [index]: true })}
            />
            here: {editWords(one.mine)}
          </label>
          <label>
            <input
              type="radio"
              name={`differs-${index}`}
              checked={mine[index] === false}
              onChange={() => setMine({ ...mine, [index]: false })}
            />
            elsewhere: {one.theirs.map(editWords).join("; ")}
          </label>
        </fieldset>
      ))}
      <button type="submit" className="button" disabled={!all}>
        let these stand
      </button>
    </form>
  );
}

/** An edit as a person reads it. */
function editWords(edit: Edit): string {
  const what = touches(edit)[0]!;
  switch (edit.kind) {
    case "put":
      return `${what} as ${brief(edit.item)}`;
    case "remove":
      return `${what} taken away`;
    case "move":
      return `${what} moved to place ${edit.at + 1}`;
    case "set":
      return `${what}, ${edit.path.join(" ")}: ${edit.value === undefined ? "taken away" : brief(edit.value)}`;
    case "head":
      return `${edit.path.join(" ")}: ${edit.value === undefined ? "taken away" : brief(edit.value)}`;
  }
}

const LONGEST = 160;

function brief(value: unknown): string {
  const text = typeof value === "string" ? value : JSON.stringify(value);
  return text.length <= LONGEST ? text : `${text.slice(0, LONGEST)}…`;
}
