import { type RefObject, useEffect, useState } from "react";
import type { Media, TeardownRecord } from "../../../core/record/index.ts";
import { sessionClock } from "../../../core/units/index.ts";
import { mediaAddress, useKeep } from "../../keep/index.ts";
import { Still } from "../photographs/still.tsx";

/** Files chosen from disk, by the name that the record knows them by: they stay where they are, whatever their length. */
const local = new Map<string, string>();

export const isRecording = (one: Media): boolean => one.kind !== "photo";

/** h:mm:ss, m:ss or seconds; null where it is no clock. */
export function secondsOf(text: string): number | null {
  const match = /^\s*(?:(?:(\d{1,3}):)?(\d{1,3}):)?(\d{1,6}(?:[.,]\d{1,3})?)\s*$/.exec(text);
  if (match === null) return null;
  return Number(match[1] ?? 0) * 3600 + Number(match[2] ?? 0) * 60 + Number(match[3]!.replace(",", "."));
}

/** The recordings of a session on one clock: each is placed once, by a clap that was marked or a clock that it shows. */
export function Player(props: {
  readonly record: TeardownRecord;
  readonly session: string | null;
  readonly video: RefObject<HTMLVideoElement | null>;
  readonly chosen: string | null;
  readonly choose: (id: string) => void;
  /** Accepted work of the talk that belongs to this recording moves along when it is placed anew. */
  readonly moveBy: (media: string, seconds: number) => readonly import("../../../core/record/edits.ts").Edit[];
}) {
  const { record, session, video, chosen, choose, moveBy } = props;
  const keep = useKeep();
  const recordings = record.media.filter(isRecording);
  const one = recordings.find((each) => each.id === chosen) ?? recordings[0];
  const [shownClock, setShownClock] = useState("");
  const [, setChosenFiles] = useState(0);
  const [problem, setProblem] = useState<string | null>(null);
  const source = one === undefined ? undefined : (local.get(one.file) ?? mediaAddress(one.file));
  // biome-ignore lint/correctness/useExhaustiveDependencies: another source has other problems
  useEffect(() => setProblem(null), [source]);

  const add = (file: File) => {
    const known = recordings.find((each) => each.file === file.name);
    const before = local.get(file.name);
    if (before !== undefined) URL.revokeObjectURL(before);
    local.set(file.name, URL.createObjectURL(file));
    setChosenFiles((n) => n + 1);
    if (known !== undefined) return choose(known.id);
    const item: Media = {
      id: `recording-${crypto.randomUUID()}`,
      ...(session === null ? {} : { session }),
      kind: file.type.startsWith("audio") ? "audio" : "video",
      file: file.name,
      starts: 0,
    };
    choose(item.id);
    void keep.edit([{ kind: "put", list: "media", item: { ...item } }], `recording ${file.name}`);
  };
  const place = (second: number, how: string) => {
    if (one === undefined) return;
    const starts = Math.round((second - (video.current?.currentTime ?? 0)) * 1000) / 1000;
    void keep.edit(
      [
        { kind: "set", list: "media", id: one.id, path: ["starts"], value: starts },
        ...moveBy(one.id, starts - (one.starts ?? 0)),
      ],
      `${one.file} placed by ${how}`,
    );
  };
  const started = Date.parse(record.sessions?.find((each) => each.id === (one?.session ?? session))?.started ?? "");
  const typed = secondsOf(shownClock);
  const marks = record.log
    .filter(
      (each) => each.at !== undefined && each.id.startsWith("line-") && each.session === (one?.session ?? session),
    )
    .slice(-40);
  return (
    <section className="player" aria-label="Recording">
      <div className="row">
        {recordings.length > 1 ? (
          <label>
            <span className="unseen">Recording</span>
            <select value={one?.id} onChange={(event) => choose(event.target.value)}>
              {recordings.map((each) => (
                <option key={each.id} value={each.id}>
                  {each.file}, from {sessionClock(each.starts ?? 0)}
                </option>
              ))}
            </select>
          </label>
        ) : null}
        <label className="button file-button">
          {one === undefined ? "choose a recording from disk" : "choose the file, or another"}
          <input
            type="file"
            className="unseen"
            accept="video/*,audio/*"
            onChange={(event) => {
              const file = event.target.files?.[0];
              if (file !== undefined) add(file);
              event.target.value = "";
            }}
          />
        </label>
      </div>
      {one === undefined ? null : (
        <>
          {/* biome-ignore lint/a11y/useMediaCaption: the words of the recording stand beside it on this page */}
          <video
            ref={video}
            key={source}
            src={source}
            controls
            preload="metadata"
            onError={() => setProblem(`${one.file} is not kept here: choose the file from disk`)}
          />
          {problem === null ? null : <p className="soft">{problem}</p>}
          {one.kind === "video" && problem === null ? <Still record={record} recording={one} video={video} /> : null}
          <details className="remarks">
            <summary>place it on the session's clock (it begins at {sessionClock(one.starts ?? 0)})</summary>
            <div className="placing">
              <label>
                the clock that this picture shows
                <input
                  value={shownClock}
                  placeholder="0:12:40 or 14:07:21"
                  onChange={(event) => setShownClock(event.target.value)}
                />
              </label>
              <button
                type="button"
                className="button"
                disabled={typed === null}
                onClick={() => typed !== null && place(typed, "the session's clock")}
              >
                as the session's clock
              </button>
              <button
                type="button"
                className="button"
                disabled={typed === null || Number.isNaN(started)}
                onClick={() => {
                  if (typed === null) return;
                  const day = new Date(started);
                  const at =
                    (new Date(day.getFullYear(), day.getMonth(), day.getDate()).getTime() + typed * 1000 - started) /
                    1000;
                  // A picture from past midnight belongs to the same session.
                  place(at < -43_200 ? at + 86_400 : at, "the time of day");
                }}
              >
                as the time of day
              </button>
              <label>
                or a clap: this picture is the press
                <select
                  value=""
                  onChange={(event) => event.target.value !== "" && place(Number(event.target.value), "a clap")}
                >
                  <option value="">of the key at …</option>
                  {marks.map((each) => (
                    <option key={each.id} value={each.at}>
                      {sessionClock(each.at!)} {each.text ?? each.action}
                    </option>
                  ))}
                </select>
              </label>
            </div>
          </details>
        </>
      )}
    </section>
  );
}
