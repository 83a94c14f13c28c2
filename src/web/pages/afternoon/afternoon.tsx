/** The afternoon: the evening before, while it is open, and when it is said to be done. */
import { useState } from "react";
import type { KeptRecord } from "../../../server/api.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import { useAnswer } from "../../data/use-answer.ts";
import { Fault } from "../../face/fault.tsx";
import { PageHead, Waiting } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { Before } from "./before.tsx";
import { Done } from "./done.tsx";
import { WhileOpen } from "./while-open.tsx";
import "./afternoon.css";

const VIEWS = ["before", "while-open", "done"] as const;
type View = (typeof VIEWS)[number];
const SECONDS = 2;

export function AfternoonPage() {
  const { record, part } = useBench();
  const { search } = usePlace();
  const view = VIEWS.find((one) => one === search.get("when")) ?? "before";
  const sessions = record.sessions ?? [];
  const [session, setSession] = useState(sessions.at(-1)?.id ?? null);
  return (
    <>
      <PageHead title={TITLES[view]}>
        <Segmented<View>
          label="When"
          value={view}
          options={[
            { value: "before", label: "the evening before" },
            { value: "while-open", label: "while it is open" },
            { value: "done", label: "when it is done" },
          ]}
          onChange={(next) => setSearch({ when: next === "before" ? null : next })}
        />
        {view === "before" || sessions.length === 0 ? null : (
          <label className="afternoon-session">
            session{" "}
            <select value={session ?? ""} onChange={(event) => setSession(event.target.value)}>
              {sessions.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.id}, {one.kind.replaceAll("-", " ")}, {one.started.slice(0, 10)}
                </option>
              ))}
            </select>
          </label>
        )}
      </PageHead>
      {view === "done" ? (
        <Done session={session} />
      ) : (
        <Led
          view={view}
          session={view === "before" ? null : session}
          to={part === null || part.base ? null : part.id}
        />
      )}
    </>
  );
}

const TITLES: Readonly<Record<View, string>> = {
  before: "The evening before: what to lay out, and what to look for",
  "while-open": "While it is open: what can be learned now, and until when",
  done: "When it is done: nothing left over",
};

function Led(props: { readonly view: View; readonly session: string | null; readonly to: string | null }) {
  const { kept, record } = useBench();
  const sibling = useAnswer<KeptRecord>(
    record.sibling === undefined ? null : `/api/records/${encodeURIComponent(record.sibling)}`,
  );
  const waiting = record.sibling !== undefined && sibling.kind === "waiting";
  const beside = sibling.kind === "here" ? sibling.value.record : null;
  const { answer, stop, again } = useComputed(
    kept,
    "lead",
    waiting
      ? null
      : { to: props.to === null ? null : [props.to], session: props.session, sibling: beside, seconds: SECONDS },
  );
  switch (answer.kind) {
    case "idle":
    case "working":
      return <Waiting stop={stop}>Planning both faces, weighing the open questions and the claims.</Waiting>;
    case "stopped":
      return (
        <button type="button" className="button" onClick={again}>
          plan it after all
        </button>
      );
    case "refused":
      return <Fault title="No brief can be made" faults={answer.faults} />;
    case "here":
      return props.view === "before" ? (
        <Before lead={answer.value} />
      ) : (
        <WhileOpen lead={answer.value} session={props.session} />
      );
  }
}
