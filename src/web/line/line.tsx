import { type FormEvent, useRef, useState } from "react";
import {
  againNext,
  type LineAnswer,
  type LineContext,
  markAt,
  readLine,
  sessionNow,
} from "../../core/narration/line/index.ts";
import { useBench } from "../bench/bench.tsx";
import { KeptState, useKeep } from "../keep/index.ts";
import { PAGES } from "../pages/registry.ts";
import { stillOf } from "../photo/add-photo.ts";
import { useAddPhoto } from "../photo/use-add-photo.ts";
import { addressOf, go, usePlace } from "../router.ts";
import "./line.css";
import type { PressAct } from "./press.ts";
import { useLineSettings } from "./settings.ts";
import { leadsSomewhere, type Understood, understand } from "./understand.ts";
import { useSwitch } from "./use-switch.ts";

interface Shown {
  readonly words: string;
  readonly notes: readonly string[];
  readonly lines: readonly string[];
}

const said = (words: string, notes: readonly string[] = [], lines: readonly string[] = []): Shown => ({
  words,
  notes,
  lines,
});

/**
 * The line at the bottom of every page: takes what is typed, dictated or measured, says in large type what it understood and
 * keeps it. Lines are taken one after the other, each on the record that the one before left behind.
 */
export function TheLine() {
  const { record, part, choose, look, setDepth, device, seen } = useBench();
  const keep = useKeep();
  const latest = useRef(keep);
  latest.current = keep;
  const { search } = usePlace();
  const [settings] = useLineSettings(record.id);
  const [words, setWords] = useState("");
  const [shown, setShown] = useState<Shown | null>(null);
  const queue = useRef(Promise.resolve());
  const photos = useAddPhoto();

  const contextAt = (now: number): { context: LineContext; session: ReturnType<typeof sessionNow> } => {
    const newest = keep.keeper.kept().shown.record;
    const session = sessionNow(newest, now, settings.session);
    return {
      session,
      context: {
        record: newest,
        part: part?.id ?? null,
        session: session.session,
        at: session.at,
        instrument: settings.instrument,
        newId: () => `line-${crypto.randomUUID()}`,
      },
    };
  };

  const answer = async (given: LineAnswer | null, session: ReturnType<typeof sessionNow>) => {
    if (given === null) return setShown(said("nothing to do again yet"));
    switch (given.kind) {
      case "nothing":
        return;
      case "undo":
        setShown(
          said(latest.current.undoLabel === null ? "nothing to take back" : `taken back: ${latest.current.undoLabel}`),
        );
        return latest.current.undo();
      case "redo":
        setShown(said("once more"));
        return latest.current.redo();
      case "told":
        return setShown(said(given.words, [], given.lines));
      case "kept": {
        setShown(said(given.words, [...given.notes, ...session.notes]));
        const faults = await keep.edit([...session.edits, ...given.edits], given.words);
        if (faults.length > 0)
          setShown(
            said(
              "not kept",
              faults.map((fault) => `${fault.path}: found ${fault.found}, expected ${fault.expected}`),
            ),
          );
      }
    }
  };
  const next = (work: () => Promise<void>) => {
    queue.current = queue.current.then(work, work);
  };

  const take = (event: FormEvent) => {
    event.preventDefault();
    const line = words;
    const now = Date.now();
    if (line.trim() === "") return;
    setWords("");
    const understood = understand(line, { pages: PAGES, parts: record.parts });
    if (leadsSomewhere(line, understood)) {
      follow(understood);
      return setShown(
        said(
          understood.words,
          understood.unknown.length === 0 ? [] : [`not understood: ${understood.unknown.join(", ")}`],
        ),
      );
    }
    next(async () => {
      const { context, session } = contextAt(now);
      await answer(readLine(line, context), session);
    });
  };

  const follow = (understood: Understood) => {
    for (const act of understood.acts)
      switch (act.kind) {
        case "part":
          choose(act.part, true);
          break;
        case "page": {
          const to = new URLSearchParams(search);
          const named = understood.acts.find((one) => one.kind === "part");
          if (named?.kind === "part") to.set("part", named.part);
          go(addressOf(["records", record.id, act.page], to));
          break;
        }
        case "depth":
          setDepth(act.mm);
          break;
        case "side":
          look(act.seen);
          break;
        case "close":
          if (device) setDepth(seen === "back" ? device.depth[0] : device.depth[1]);
      }
  };

  const press = ({ kind, at }: PressAct) =>
    next(async () => {
      const { context, session } = contextAt(at);
      if (kind === "mark") return mark(context, session);
      await answer(kind === "again" ? againNext(context) : { kind: "undo" }, session);
    });

  /** A moment without words; where a film runs on the page, with the picture that it shows now. The mark waits for no picture. */
  const mark = async (context: LineContext, session: ReturnType<typeof sessionNow>) => {
    const film = [...document.querySelectorAll("video")].find((one) => !one.paused && one.videoWidth > 0);
    const still = film === undefined ? null : stillOf(film);
    const entry = context.newId();
    await answer(markAt({ ...context, newId: () => entry }), session);
    if (still === null) return;
    // A mark has no part until it is named.
    const tie = {
      entry,
      parts: [],
      ...(context.session === null ? {} : { session: context.session }),
      ...(context.at === null ? {} : { at: context.at }),
    };
    void photos.add(still, "still of a mark.jpg", tie).then((photo) => {
      setShown(
        said("mark", [
          photo === null ? "no picture of the film could be taken" : "with the picture of the film",
          "name it later",
        ]),
      );
    });
  };
  const foot = useSwitch(settings.key, press);

  return (
    <form className="line" aria-label="The line" onSubmit={take}>
      <label>
        <span className="unseen">Say, type or measure; ask; or name a part or a page</span>
        <input
          value={words}
          onChange={(event) => setWords(event.target.value)}
          placeholder="six screws top shield, cup four"
          autoComplete="off"
          enterKeyHint="done"
          spellCheck={false}
          maxLength={4000}
        />
      </label>
      <button
        type="button"
        className="button line-switch"
        title="once: mark this moment; twice: the last again, next cup; long: take back"
        onPointerDown={foot.down}
        onPointerUp={foot.up}
        onPointerCancel={foot.up}
        onContextMenu={(event) => event.preventDefault()}
        onKeyDown={(event) => (event.key === "Enter" || event.key === " ") && !event.repeat && foot.down()}
        onKeyUp={(event) => (event.key === "Enter" || event.key === " ") && foot.up()}
      >
        mark
      </button>
      <output className="line-answer">
        {shown === null ? null : (
          <>
            {shown.words === "" ? null : <b>{shown.words}</b>}
            {shown.notes.length === 0 ? null : <span className="soft">{shown.notes.join("; ")}</span>}
            {shown.lines.length === 0 ? null : (
              <ul>
                {[...new Set(shown.lines)].map((one) => (
                  <li key={one}>{one}</li>
                ))}
              </ul>
            )}
          </>
        )}
      </output>
      <KeptState />
    </form>
  );
}
