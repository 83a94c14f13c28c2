import { useMemo, useState } from "react";
import type { Part } from "../../../core/record/index.ts";
import { numberScrews } from "../../../paper/screw-numbers.ts";
import { type Answered, type Proposal, readShopAnswer } from "../../../paper/shop-answer.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import { OpenQuestion } from "../../face/caution.tsx";
import { Section, Waiting } from "../../face/page-head.tsx";
import { useKeep } from "../../keep/index.ts";

/** What shops write back about a sheet: read into proposals, each taken over or not. */
export function ShopAnswers({ parts }: { readonly parts: readonly Part[] }) {
  const { kept, record } = useBench();
  const { edit } = useKeep();
  const [replace, setReplace] = useState(parts[0]?.id ?? "");
  const [text, setText] = useState("");
  const [settled, setSettled] = useState<ReadonlySet<string>>(new Set());
  const asked = text.trim() !== "" && replace !== "";
  const { answer } = useComputed(
    kept,
    "ways",
    asked ? { questions: [{ to: [replace], least: "seconds" }], seconds: 2 } : null,
  );
  const way = answer.kind === "here" ? answer.value[0] : undefined;
  const read = useMemo(() => {
    if (way === undefined || "unreachable" in way) return null;
    const stamp = new Date().toISOString();
    let ids = 0;
    const sheet: Answered = {
      replace: [replace],
      operations: way.operations,
      screws: numberScrews(record, way),
      session: {
        id: `shop-${stamp.slice(0, 10)}-${replace}`,
        started: stamp.slice(0, 10),
        kind: "repair",
        by: "a shop",
      },
      newId: () => `shop-${Date.parse(stamp).toString(36)}-${++ids}`,
    };
    return readShopAnswer(text, record, sheet);
  }, [way, text, record, replace]);
  if (parts.length === 0) return null;
  const take = async (proposal: Proposal) => {
    const faults = await edit(proposal.edits, proposal.text);
    if (faults.length === 0) setSettled(new Set([...settled, proposal.text]));
  };
  return (
    <Section title="What a shop answers">
      <p className="soft">
        A line or two about a sheet, such as “screw 4 is 2.8, not 2.4; 14 min; cable torn”. Each becomes a proposal:
        nothing is changed until it is taken over. The next edition names those to recall.
      </p>
      <div className="entries">
        <label>
          the sheet for{" "}
          <select value={replace} onChange={(event) => setReplace(event.target.value)}>
            {parts.map((part) => (
              <option key={part.id} value={part.id}>
                {part.name}
              </option>
            ))}
          </select>
        </label>
        <textarea
          aria-label="the shop's answer"
          className="shop-answer"
          rows={2}
          maxLength={4000}
          value={text}
          onChange={(event) => {
            setText(event.target.value);
            setSettled(new Set());
          }}
        />
      </div>
      {asked && answer.kind === "working" ? <Waiting>Numbering the screws of this sheet.</Waiting> : null}
      {way !== undefined && "unreachable" in way ? (
        <p>There is no way in to this part, so there is no such sheet.</p>
      ) : null}
      {read?.proposals.map((one) => (
        <OpenQuestion key={one.text}>
          {one.text}.{one.doubt === undefined ? "" : ` But ${one.doubt}`}{" "}
          {settled.has(one.text) ? (
            "Taken over."
          ) : (
            <button type="button" className="button" onClick={() => void take(one)}>
              take over
            </button>
          )}
        </OpenQuestion>
      ))}
      {read === null || read.notUnderstood.length === 0 ? null : (
        <p>Not understood, and nothing made of it: {read.notUnderstood.join("; ")}</p>
      )}
    </Section>
  );
}
