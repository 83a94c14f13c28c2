/** Measuring: photographs that are drawing boards, and readings with instruments. */
import { useId, useRef, useState } from "react";
import type { PhotoMarks, Point } from "../../../core/photo/index.ts";
import type { Media, TeardownRecord } from "../../../core/record/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Fault } from "../../face/fault.tsx";
import { PageHead } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { mediaAddress, useKeep } from "../../keep/index.ts";
import { Link } from "../../link.tsx";
import { useAddPhoto } from "../../photo/use-add-photo.ts";
import { addressOf, setSearch, usePlace } from "../../router.ts";
import { BelongsTo, WhatCame } from "./added.tsx";
import { Outline } from "./outline.tsx";
import { Readings } from "./readings.tsx";
import { Screws } from "./screws.tsx";
import { Setting } from "./setting.tsx";
import { marksOf, useView } from "./use-view.ts";
import "./photographs.css";

export function MeasuringPage() {
  const { record } = useBench();
  const { search } = usePlace();
  const how = search.get("with") === "instruments" ? "instruments" : "photographs";
  return (
    <>
      <PageHead title={`Measuring ${record.device.name}`} />
      <div className="row">
        <Segmented
          label="Measure from"
          value={how}
          options={[
            { value: "photographs", label: "from photographs" },
            { value: "instruments", label: "with instruments" },
          ]}
          onChange={(next) => setSearch({ with: next === "instruments" ? "instruments" : null })}
        />
      </div>
      {how === "instruments" ? <Readings /> : <Photographs />}
    </>
  );
}

function Photographs() {
  const { kept } = useKeep();
  const { record } = kept.shown;
  const { search } = usePlace();
  // The newest first: it is the one that is wanted.
  const photos = record.media.filter((one) => one.kind === "photo").reverse();
  const chosen = photos.find((one) => one.id === search.get("photo")) ?? null;
  return (
    <>
      <AddPhoto />
      {photos.length === 0 ? (
        <p className="soft">
          No photographs yet. One taken from above, the whole body in it, is enough to place screws and outlines.
        </p>
      ) : (
        <ul className="photo-strip">
          {photos.map((one) => (
            <li key={one.id}>
              <button
                type="button"
                aria-pressed={one.id === chosen?.id}
                onClick={() => setSearch({ photo: one.id === chosen?.id ? null : one.id })}
              >
                <img src={mediaAddress(one.file, 240)} alt="" loading="lazy" />
                <span>{titleOf(record, one)}</span>
              </button>
            </li>
          ))}
        </ul>
      )}
      {chosen === null ? (
        photos.length === 0 ? null : (
          <p className="soft">Choose a photograph to measure in it.</p>
        )
      ) : (
        <Sized key={chosen.id} media={chosen} />
      )}
    </>
  );
}

/** What a photograph shows: the entry and the parts that it is tied to. */
export function titleOf(record: TeardownRecord, media: Media): string {
  const entries = record.log.filter((one) => one.media === media.id);
  const parts = [...new Set(entries.flatMap((one) => one.parts ?? []))].map(
    (id) => record.parts.find((one) => one.id === id)?.name ?? id,
  );
  const action = entries.find((one) => one.action !== "note")?.action;
  const words = [action, parts.slice(0, 3).join(", ")].filter((word) => word !== undefined && word !== "");
  return words.length === 0 ? media.id : words.join(" ");
}

/** The picture's size has to be known before anything is marked in it. */
function Sized({ media }: { readonly media: Media }) {
  const [size, setSize] = useState<Point | null>(media.view?.size ?? null);
  // By its address: what this browser cannot show it can once the server has written it anew.
  const [failed, setFailed] = useState<string | null>(null);
  const address = mediaAddress(media.file);
  if (failed === address) {
    return address.startsWith("blob:") ? (
      <p className="soft">
        This browser cannot show the picture before the server has it. It is kept and will be sent.
      </p>
    ) : (
      <Fault
        title="The picture is not here"
        faults={[
          { path: media.file, found: "no such file", expected: "one that was added on this machine: add it again" },
        ]}
      />
    );
  }
  if (size === null) {
    return (
      <img
        className="unseen"
        alt=""
        src={address}
        onLoad={({ currentTarget: { naturalWidth, naturalHeight } }) => setSize([naturalWidth, naturalHeight])}
        onError={() => setFailed(address)}
      />
    );
  }
  return <OnePhoto media={media} size={size} />;
}

type Task = "board" | "screws" | "outline";

function OnePhoto({ media: given, size }: { readonly media: Media; readonly size: Point }) {
  const { kept } = useKeep();
  const { record } = kept.shown;
  const media = record.media.find((one) => one.id === given.id) ?? given;
  const marks = useStable(marksOf(record, media, size));
  const marked = (marks.edges ?? []).length + (marks.points ?? []).length + (marks.card?.points ?? []).length > 0;
  const seen = useView(marked ? marks : null);
  const [task, setTask] = useState<Task>(seen.view === null ? "board" : "screws");
  const shown = seen.view === null ? "board" : task;
  return (
    <section className="section" aria-label={`Photograph ${media.id}`}>
      <div className="row">
        <Segmented<Task>
          label="In this photograph"
          value={shown}
          options={[
            { value: "board", label: "set the board" },
            { value: "screws", label: "place screws", disabled: seen.view === null },
            { value: "outline", label: "trace outlines", disabled: seen.view === null },
          ]}
          onChange={setTask}
        />
      </div>
      {shown === "board" ? <Setting media={media} marks={marks} seen={seen} /> : null}
      {shown === "screws" && seen.view !== null ? <Screws media={media} view={seen.view} /> : null}
      {shown === "outline" && seen.view !== null ? <Outline media={media} view={seen.view} /> : null}
    </section>
  );
}

/** The same object as long as it says the same, so that a view is not computed anew for every other change. */
function useStable(marks: PhotoMarks): PhotoMarks {
  const last = useRef(marks);
  if (JSON.stringify(last.current) !== JSON.stringify(marks)) last.current = marks;
  return last.current;
}

function AddPhoto() {
  const { kept } = useKeep();
  const { record } = kept.shown;
  const [entry, setEntry] = useState("");
  const { adding, add } = useAddPhoto();
  const ids = { file: useId(), camera: useId() };
  const session = record.sessions?.at(-1)?.id;
  const chosen = async (files: FileList | null) => {
    const file = files?.[0];
    if (file === undefined) return;
    const tie = { ...(session === undefined ? {} : { session }), ...(entry === "" ? {} : { entry }) };
    const id = await add(file, file.name, tie);
    if (id !== null) setSearch({ photo: id });
  };
  return (
    <>
      <div className="board-fields">
        <label className="button file" htmlFor={ids.file}>
          add a photograph
          <input
            id={ids.file}
            type="file"
            accept="image/jpeg,image/png,image/webp,image/avif,image/tiff"
            disabled={adding.busy}
            onChange={({ target }) => {
              void chosen(target.files);
              target.value = "";
            }}
          />
        </label>
        <label className="button file" htmlFor={ids.camera}>
          take one
          <input
            id={ids.camera}
            type="file"
            accept="image/*"
            capture="environment"
            disabled={adding.busy}
            onChange={({ target }) => {
              void chosen(target.files);
              target.value = "";
            }}
          />
        </label>
        <BelongsTo record={record} value={entry} onChange={setEntry} />
      </div>
      <p className="soft">
        A picture of a film is kept beside the film, on the page{" "}
        <Link href={addressOf(["records", record.id, "log"])}>Log</Link>.
      </p>
      <WhatCame adding={adding} />
    </>
  );
}
