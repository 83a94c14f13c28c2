import { useMemo, useState } from "react";
import { closingOf, type Difference } from "../../../core/service/closing/index.ts";
import { sessionClock } from "../../../core/units/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";
import { useKeep } from "../../keep/index.ts";
import { Tries } from "./tries.tsx";

const STATE = {
  closed: "closed: everything that was taken out is back, and what was disturbed was proved",
  open: "left open, every difference with its reason",
  unexplained: "not to be called closed",
} as const;

export function Done({ session }: { readonly session: string | null }) {
  const { record } = useBench();
  const closing = useMemo(() => closingOf(record, session ?? undefined), [record, session]);
  const things = closing.differences.filter((one) => one.kind !== "proof" && one.kind !== "failed");
  return (
    <>
      <Figures>
        <Figure
          large
          value={
            closing.differences.length === 0
              ? "nothing left over"
              : `${closing.differences.filter((one) => one.reason === undefined).length} unexplained`
          }
          note={STATE[closing.state]}
        />
        <Figure
          value={`${closing.proved.length} of ${closing.prove.length}`}
          note="functions through what was disturbed work"
        />
        <Figure
          value={closing.cups.length === 0 ? "all empty" : `${closing.cups.length} not empty`}
          note="cups and fields of the mat"
        />
      </Figures>
      <Section title="Differences">
        <Table
          caption="What came out against what went back"
          rows={things}
          rowKey={(one) => `${one.kind} ${one.of}`}
          empty="Everything that came out is back."
          columns={[
            { head: "difference", cell: (one) => one.text },
            { head: "at", number: true, cell: (one) => moment(one.at) },
            { head: "reason", cell: (one) => <Reason difference={one} session={session} /> },
          ]}
        />
      </Section>
      {closing.covered.length === 0 ? null : (
        <Section title="Closed over something open">
          <ul className="afternoon-list">
            {closing.covered.map((one) => (
              <li key={`${one.joint} ${one.by}`}>
                {moment(one.at)} {one.text}.
              </li>
            ))}
          </ul>
        </Section>
      )}
      {closing.cups.length === 0 ? null : (
        <Section title="Where it lies">
          <Table
            caption="Cups and fields that are not empty"
            rows={closing.cups}
            rowKey={(one) => one.cup}
            columns={[
              { head: "place", cell: (one) => one.cup },
              { head: "holds", cell: (one) => one.holds.map((held) => held.text).join("; ") },
            ]}
          />
        </Section>
      )}
      <Tries
        title="Proofs: through what was disturbed, and no other"
        note={
          closing.noBaseline.length === 0
            ? "All of it was tried before the first screw."
            : `Not tried before the first screw, so the end proves less: ${closing.noBaseline.join(", ")}.`
        }
        functions={closing.prove}
        when="after"
        session={session}
      />
      {closing.warnings.map((text) => (
        <p key={text} className="soft">
          {text}
        </p>
      ))}
    </>
  );
}

/** A reason is an entry of the log that names the thing: nothing is explained away otherwise. */
function Reason({ difference, session }: { readonly difference: Difference; readonly session: string | null }) {
  const { record } = useBench();
  const { edit } = useKeep();
  const [text, setText] = useState("");
  if (difference.reason !== undefined) return <>{difference.reason}</>;
  const joint = record.joints.some((one) => one.id === difference.of);
  return (
    <form
      className="reason"
      onSubmit={(event) => {
        event.preventDefault();
        if (text.trim() === "") return;
        const item = {
          id: `why-${crypto.randomUUID().slice(0, 8)}`,
          ...(session === null ? {} : { session }),
          action: "note",
          text: text.trim(),
          ...(joint ? { joints: [difference.of] } : { parts: [difference.of] }),
        };
        void edit([{ kind: "put", list: "log", item }], `reason for ${difference.of}`);
      }}
    >
      <input
        aria-label={`why: ${difference.text}`}
        placeholder="why it stays open"
        value={text}
        onChange={(event) => setText(event.target.value)}
        maxLength={1000}
      />
      <button type="submit" className="button" disabled={text.trim() === ""}>
        keep
      </button>
    </form>
  );
}

const moment = (at: number | undefined): string => (at === undefined ? "" : sessionClock(at));
