/** The picture that a film shows at this moment, kept as a photograph with one key. */
import { type RefObject, useEffect, useRef, useState } from "react";
import type { Media, TeardownRecord } from "../../../core/record/index.ts";
import { Link } from "../../link.tsx";
import { stillOf } from "../../photo/add-photo.ts";
import { useAddPhoto } from "../../photo/use-add-photo.ts";
import { addressOf } from "../../router.ts";
import { BelongsTo, WhatCame } from "./added.tsx";

export function Still(props: {
  readonly record: TeardownRecord;
  readonly recording: Media;
  readonly video: RefObject<HTMLVideoElement | null>;
}) {
  const { record, recording, video } = props;
  const [entry, setEntry] = useState("");
  const [photo, setPhoto] = useState<string | null>(null);
  const { adding, add } = useAddPhoto();
  const take = async () => {
    if (video.current === null || adding.busy) return;
    // The session's clock at the picture that is shown now, not at the one that is shown when it has been written.
    const at = (recording.starts ?? 0) + video.current.currentTime;
    const { session } = recording;
    setPhoto(
      await add(stillOf(video.current), `still of ${recording.id}.jpg`, {
        at,
        ...(session === undefined ? {} : { session }),
        ...(entry === "" ? {} : { entry }),
      }),
    );
  };
  // One key, whatever has the focus: hands are wet and the film runs.
  const onKey = useRef(take);
  onKey.current = take;
  useEffect(() => {
    const key = (event: KeyboardEvent) => {
      if (!event.altKey || event.code !== "KeyS") return;
      event.preventDefault();
      if (!event.repeat) void onKey.current();
    };
    addEventListener("keydown", key);
    return () => removeEventListener("keydown", key);
  }, []);
  return (
    <>
      <div className="row">
        <button type="button" className="button" disabled={adding.busy} onClick={() => void take()}>
          keep this picture <span className="soft">Alt S</span>
        </button>
        <BelongsTo record={record} value={entry} onChange={setEntry} />
        {photo === null ? null : (
          <Link href={addressOf(["records", record.id, "measuring"], new URLSearchParams({ photo }))}>
            measure in it
          </Link>
        )}
      </div>
      <WhatCame adding={adding} />
    </>
  );
}
