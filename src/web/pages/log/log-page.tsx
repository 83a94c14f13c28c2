import { useRef, useState } from "react";
import { countQuestions } from "../../../core/law/questions.ts";
import { useBench } from "../../bench/bench.tsx";
import { Fault } from "../../face/fault.tsx";
import { PageHead, Section, Waiting } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import "./log.css";
import { useLineSettings } from "../../line/settings.ts";
import { Kept } from "./kept.tsx";
import { LineSetup } from "./line-setup.tsx";
import { Load } from "./load.tsx";
import { takenMoves } from "./moves.ts";
import { isRecording, Player } from "./player.tsx";
import { Questions } from "./questions.tsx";
import { ReviewOfTalk } from "./talk.tsx";
import { useTalk } from "./use-talk.ts";

type View = "kept" | "talk" | "open";

/** What was done, moment by moment; and a recording's words on their way into it. */
export function LogPage() {
  const { record } = useBench();
  const talk = useTalk(record);
  const [settings] = useLineSettings(record.id);
  const session = talk.kept?.session ?? settings.session ?? record.sessions?.at(-1)?.id ?? null;
  const [view, setView] = useState<View>(talk.kept === null ? "kept" : "talk");
  const [chosen, setChosen] = useState<string | null>(talk.kept?.media ?? null);
  const video = useRef<HTMLVideoElement | null>(null);
  const recordings = record.media.filter(isRecording);

  /** Plays the recording that runs at a second of the session: the one that is placed last before it. */
  const seek = (at: number, play: boolean) => {
    const runs = recordings.filter((one) => (one.session ?? session) === session && (one.starts ?? 0) <= at);
    const one = runs.sort((a, b) => (b.starts ?? 0) - (a.starts ?? 0))[0];
    if (one === undefined) return;
    const go = () => {
      const player = video.current;
      if (player === null) return;
      player.currentTime = Math.max(0, at - (one.starts ?? 0));
      if (play) void player.play().catch(() => undefined);
    };
    if (one.id === (chosen ?? recordings[0]?.id)) return go();
    setChosen(one.id);
    // The other file is there once it has been drawn and has told its length.
    setTimeout(() => {
      const player = video.current;
      if (player === null) return;
      if (player.readyState > 0) go();
      else player.addEventListener("loadedmetadata", go, { once: true });
    }, 0);
  };
  const open = countQuestions(record);
  return (
    <>
      <PageHead title={`Log of ${record.device.name}`}>
        <p className="soft">
          {record.log.length} entries, {record.log.filter((one) => one.draft === true).length} to be looked at; {open}{" "}
          open {open === 1 ? "question" : "questions"}.
        </p>
      </PageHead>
      <div className="row">
        <Segmented<View>
          label="Show"
          value={view}
          options={[
            { value: "kept", label: "what was done" },
            { value: "talk", label: "words of a recording" },
            { value: "open", label: "open questions" },
          ]}
          onChange={setView}
        />
      </div>
      {view === "open" ? <Questions /> : null}
      {view === "open" ? null : (
        <details className="remarks" open={recordings.length > 0 && view === "talk"}>
          <summary>recording{recordings.length === 0 ? "" : ` (${recordings.length})`}</summary>
          <Player
            record={record}
            session={session}
            video={video}
            chosen={chosen}
            choose={setChosen}
            moveBy={(media, seconds) => (media === talk.kept?.media ? takenMoves(record, talk.reading, seconds) : [])}
          />
        </details>
      )}
      {view === "kept" ? <Kept seek={seek} video={video} /> : null}
      {view === "talk" ? (
        <>
          <Load record={record} session={session} talk={talk} />
          {talk.reading.kind === "reading" ? (
            <Waiting stop={talk.stop}>
              Reading {Math.ceil((talk.kept?.text.length ?? 0) / 1000)} thousand signs.
            </Waiting>
          ) : null}
          {talk.reading.kind === "refused" ? (
            <Fault title="This could not be read" faults={talk.reading.faults} />
          ) : null}
          {talk.reading.kind === "here" ? (
            <ReviewOfTalk
              talk={talk.reading.talk}
              items={talk.reading.items}
              put={talk.put}
              session={session}
              seek={seek}
              video={video}
              starts={record.media.find((one) => one.id === talk.kept?.media)?.starts ?? 0}
            />
          ) : null}
        </>
      ) : null}
      <Section title="The line at the bottom">
        <LineSetup />
      </Section>
    </>
  );
}
