import { type RefObject, useMemo, useState } from "react";
import { isMark, isUnplaced } from "../../../core/narration/line/index.ts";
import type { Edit } from "../../../core/record/edits.ts";
import type { Entry } from "../../../core/record/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { useKeep } from "../../keep/index.ts";
import { ChangeForm } from "./change-form.tsx";
import { type Deed, ItemList, type Row } from "./item-list.tsx";
import { type Item, joinItems, splitItem, type Thing } from "./review.ts";
import { thingWords } from "./words.ts";

const putEntry = (item: Entry, at?: number): Edit =>
  ({ kind: "put", list: "log", item: { ...item }, ...(at === undefined ? {} : { at }) }) as Edit;
const itemOf = (item: Entry): Item => ({
  id: item.id,
  at: item.at ?? null,
  cue: 0,
  text: item.text ?? "",
  thing: { list: "log", item },
  doubts: [],
  rejected: false,
});

/** The record's log: what was done, with its moments, parts and places; what waits to be looked at comes up with one key. */
export function Kept({
  seek,
  video,
}: {
  readonly seek: (at: number, play: boolean) => void;
  readonly video: RefObject<HTMLVideoElement | null>;
}) {
  const { record, choose: choosePart } = useBench();
  const keep = useKeep();
  const [filter, setFilter] = useState<"all" | "draft">("all");
  const [chosenId, setChosenId] = useState<string | null>(null);
  const [changing, setChanging] = useState(false);
  const { log } = record;
  const shown = useMemo(() => (filter === "all" ? log : log.filter((one) => one.draft === true)), [log, filter]);
  const found = shown.findIndex((one) => one.id === chosenId);
  const chosen = found >= 0 ? found : shown.length - 1;
  const entry = shown[chosen];
  const next = entry === undefined ? undefined : log[log.indexOf(entry) + 1];
  const sessions = record.sessions ?? [];

  const choose = (to: number) => {
    const one = shown[to];
    if (one === undefined) return;
    setChosenId(one.id);
    setChanging(false);
    if (one.at !== undefined) seek(one.at, video.current !== null && !video.current.paused);
    if (one.parts?.[0] !== undefined) choosePart(one.parts[0], true);
  };
  const settled = ({ draft: _, ...rest }: Entry): Entry => rest;
  const edit = (edits: readonly Edit[], label: string) => void keep.edit(edits, label);
  const name = (one: Entry) => thingWords(record, {}, { list: "log", item: one });
  const jump = () => {
    const at = shown.findIndex((one, nth) => nth > chosen && one.draft === true);
    const first = at >= 0 ? at : shown.findIndex((one) => one.draft === true);
    if (first >= 0) choose(first);
  };
  const accept = () => {
    if (entry === undefined) return;
    if (isMark(entry) || isUnplaced(entry)) return setChanging(true);
    edit([putEntry(settled(entry))], `looked at: ${name(entry)}`);
    jump();
  };
  const split = () => {
    const two = entry === undefined ? null : splitItem(itemOf(entry));
    if (entry === undefined || two === null) return;
    const at = log.indexOf(entry);
    edit(
      two.map(({ thing }, nth) => putEntry((thing as Thing & { list: "log" }).item, at + nth)),
      `split: ${name(entry)}`,
    );
  };
  const joined = entry === undefined || next === undefined ? null : joinItems(itemOf(entry), itemOf(next));
  const deeds: readonly Deed[] = [
    { key: "a", label: "accept", does: accept, off: entry?.draft !== true },
    { key: "c", label: "change", does: () => setChanging(true), off: entry === undefined },
    { key: "s", label: "split", does: split, off: entry === undefined || splitItem(itemOf(entry)) === null },
    {
      key: "j",
      label: "join with the next",
      does: () => {
        if (joined !== null && next !== undefined)
          edit(
            [putEntry((joined.thing as Thing & { list: "log" }).item), { kind: "remove", list: "log", id: next.id }],
            `joined: ${name(entry!)}`,
          );
      },
      off: joined === null,
    },
    {
      key: "r",
      label: "remove",
      does: () => {
        if (entry === undefined) return;
        setChosenId(shown[chosen + 1]?.id ?? shown[chosen - 1]?.id ?? null);
        edit([{ kind: "remove", list: "log", id: entry.id }], `removed: ${name(entry)}`);
      },
      off: entry === undefined,
    },
    {
      key: "n",
      label: `next to look at (${log.filter((one) => one.draft === true).length})`,
      does: jump,
      off: log.every((one) => one.draft !== true),
    },
    { key: "u", label: "take back", does: keep.undo, off: !keep.canUndo },
    { key: "y", label: "once more", does: keep.redo, off: !keep.canRedo },
    {
      key: "p",
      label: "play from here",
      does: () => entry?.at !== undefined && seek(entry.at, true),
      off: entry?.at === undefined,
    },
  ];
  const rows = useMemo(
    () =>
      shown.map(
        (one): Row => ({
          key: one.id,
          at: one.at ?? null,
          words: one.text ?? "",
          made: thingWords(record, {}, { list: "log", item: one }),
          more: sessions.length > 1 && one.session !== undefined ? [one.session] : [],
          doubts: isMark(one)
            ? ["a press of the key: name it"]
            : isUnplaced(one)
              ? ["not understood: place it"]
              : one.draft === true
                ? ["a draft: look at it"]
                : [],
          state: one.draft === true ? "open" : "done",
        }),
      ),
    [shown, record, sessions.length],
  );
  if (log.length === 0)
    return (
      <p>
        Nothing is logged yet. Say or type it in the line below ("six screws top shield, cup four"), or bring the words
        of a recording.
      </p>
    );
  return (
    <>
      <div className="row">
        <Segmented<"all" | "draft">
          label="Entries"
          value={filter}
          options={[
            { value: "all", label: "all" },
            { value: "draft", label: "to be looked at" },
          ]}
          onChange={setFilter}
        />
      </div>
      <ItemList
        label="What was done"
        rows={rows}
        chosen={chosen}
        choose={choose}
        deeds={deeds}
        form={
          changing && entry !== undefined ? (
            <ChangeForm
              key={entry.id}
              record={record}
              made={{}}
              item={itemOf(entry)}
              session={entry.session ?? null}
              take={(thing) => {
                setChanging(false);
                if (thing.list === "log") edit([putEntry(settled(thing.item))], `changed: ${name(thing.item)}`);
              }}
              leave={() => setChanging(false)}
            />
          ) : null
        }
      />
      {rows.length === 0 ? <p className="soft">Nothing waits to be looked at.</p> : null}
    </>
  );
}
