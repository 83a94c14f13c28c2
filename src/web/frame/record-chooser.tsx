/** The records that are kept here, each with the plan of what lies bare under its back. */
import { useMemo } from "react";
import { closedView, drawDevice, placeDevice } from "../../figures/index.ts";
import type { KeptRecord, RecordHead } from "../../server/api.ts";
import { useAnswer } from "../data/use-answer.ts";
import { Fault } from "../face/fault.tsx";
import { PageHead, Waiting } from "../face/page-head.tsx";
import { Picture } from "../face/picture.tsx";
import { Link } from "../link.tsx";
import { addressOf } from "../router.ts";
import { AppearanceChoice } from "./appearance-choice.tsx";
import { NewRecord } from "./new-record.tsx";

const KINDS: Readonly<Record<RecordHead["kind"], string>> = {
  smartphone: "smartphone",
  "slate-tablet": "slate tablet",
  other: "other device",
};

export function RecordChooser() {
  const heads = useAnswer<readonly RecordHead[]>("/api/records");
  return (
    <div className="chooser">
      <title>Records · Unseam</title>
      <header className="heading">
        <span className="mark">unseam</span>
        <AppearanceChoice />
      </header>
      <main className="pad">
        <PageHead title="Records on this bench" />
        {heads.kind === "waiting" ? <Waiting>Fetching the records.</Waiting> : null}
        {heads.kind === "failed" ? (
          <Fault title="The records could not be fetched" faults={heads.error.faults} again={heads.again} />
        ) : null}
        {heads.kind === "here" && heads.value.length === 0 ? (
          <p>
            Nothing is kept here yet. Begin a record below, or start <code>unseam serve</code> with the examples.
          </p>
        ) : null}
        {heads.kind === "here" ? (
          <ul className="cards">
            {heads.value.map((head) => (
              <li key={head.id}>
                <Card head={head} />
              </li>
            ))}
          </ul>
        ) : null}
        {heads.kind === "here" ? <NewRecord heads={heads.value} /> : null}
      </main>
    </div>
  );
}

function Card({ head }: { readonly head: RecordHead }) {
  const answer = useAnswer<KeptRecord>(`/api/records/${encodeURIComponent(head.id)}`);
  const record = answer.kind === "here" ? answer.value.record : null;
  const device = useMemo(() => (record === null ? null : placeDevice(record)), [record]);
  return (
    <Link className="card" href={addressOf(["records", head.id, "structure"])}>
      <strong>{head.name}</strong>
      <span className="soft">
        {[head.maker, KINDS[head.kind], `${head.parts} parts`, `${head.joints} joints`, `revision ${head.revision}`]
          .filter((one) => one !== null)
          .join(" · ")}
      </span>
      {device === null ? null : (
        <Picture
          most={330}
          draw={(width) => {
            const back = device.parts.find(
              (part) => record?.parts.find((one) => one.id === part.id)?.role === "back-cover",
            );
            return drawDevice(
              device,
              { ...closedView(device, width, 360), depth: Math.max(0, back?.level[1] ?? 0), still: true, quiet: true },
              head.name,
            ).scene;
          }}
        />
      )}
    </Link>
  );
}
