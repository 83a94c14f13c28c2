import { type RefObject, useMemo, useState } from "react";
import { useBench } from "../../bench/bench.tsx";
import { Remarks } from "../../face/caution.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { useKeep } from "../../keep/index.ts";
import { ChangeForm } from "./change-form.tsx";
import { type Deed, ItemList, type Row } from "./item-list.tsx";
import { type Item, indexOf, isTaken, joinItems, splitItem, type Talk, type Thing, takeEdits } from "./review.ts";
import { thingWords } from "./words.ts";

type Filter = "all" | "doubtful" | "left";

/** Words of one cue, or of several in which nothing was read, with the item that was. */
interface Line {
  readonly cue: number;
  readonly item: Item | null;
  readonly words: string;
}

/** Cues with nothing read are told together, this many at most. */
const TOGETHER = 6;

function linesOf({ cues }: Talk, items: readonly Item[]): Line[] {
  const byCue = new Map<number, Item[]>();
  for (const item of items) {
    const list = byCue.get(item.cue);
    if (list === undefined) byCue.set(item.cue, [item]);
    else list.push(item);
  }
  const lines: Line[] = [];
  let bare: Line | null = null;
  let together = 0;
  cues.forEach((cue, index) => {
    const here = byCue.get(index);
    if (here === undefined) {
      if (bare !== null && together < TOGETHER) {
        bare = { ...bare, words: `${bare.words} ${cue.text}` };
        lines[lines.length - 1] = bare;
        together += 1;
      } else {
        bare = { cue: index, item: null, words: cue.text };
        lines.push(bare);
        together = 1;
      }
      return;
    }
    bare = null;
    here.forEach((item, nth) => {
      lines.push({ cue: index, item, words: nth === 0 ? cue.text : "" });
    });
  });
  return lines;
}

export function ReviewOfTalk(props: {
  readonly talk: Talk;
  readonly items: readonly Item[];
  readonly put: (items: readonly Item[]) => void;
  readonly session: string | null;
  readonly starts: number;
  readonly seek: (at: number, play: boolean) => void;
  readonly video: RefObject<HTMLVideoElement | null>;
}) {
  const { talk, items, put, session, starts, seek, video } = props;
  const { record, choose: choosePart } = useBench();
  const keep = useKeep();
  const [filter, setFilter] = useState<Filter>("all");
  const [place, setPlace] = useState<{ cue: number; id: string | null }>({ cue: 0, id: null });
  const [changing, setChanging] = useState<Item | null>(null);
  /** What was done here that is not in the record, in turn with what is: so that everything is taken back in its order. */
  const [past, setPast] = useState<readonly (readonly Item[] | "kept")[]>([]);
  const [future, setFuture] = useState<readonly (readonly Item[] | "kept")[]>([]);

  const index = useMemo(() => indexOf(record), [record]);
  const taken = (item: Item) => isTaken(index, item);
  const isOpen = (item: Item) => !item.rejected && !taken(item);
  const lines = useMemo(() => linesOf(talk, items), [talk, items]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: isOpen speaks of the record through its index
  const shown = useMemo(
    () =>
      filter === "all"
        ? lines
        : lines
            .filter(
              ({ item }) =>
                item !== null && isOpen(item) && (filter === "left" ? item.thing === null : item.doubts.length > 0),
            )
            .map((line) => ({ ...line, words: line.words || (talk.cues[line.cue]?.text ?? "") })),
    [lines, filter, index],
  );
  const found = shown.findIndex((line) => line.cue === place.cue && (line.item?.id ?? null) === place.id);
  const chosen =
    found >= 0
      ? found
      : Math.max(
          0,
          Math.min(
            shown.length - 1,
            shown.findIndex((line) => line.cue >= place.cue),
          ),
        );
  const line = shown[chosen];
  const item = line?.item ?? null;
  const atOf = (one: Line) =>
    one.item?.at ?? (talk.cues[one.cue]?.at == null ? null : talk.cues[one.cue]!.at! + starts);

  const choose = (to: number, play = true) => {
    const next = shown[to];
    if (next === undefined) return;
    setPlace({ cue: next.cue, id: next.item?.id ?? null });
    setChanging(null);
    const at = atOf(next);
    if (at !== null) seek(at, play && video.current !== null && !video.current.paused);
    const thing = next.item?.thing;
    const part = thing?.list === "log" ? thing.item.parts?.[0] : undefined;
    if (part !== undefined && record.parts.some((one) => one.id === part)) choosePart(part, true);
  };
  const onward = () => {
    const next = shown.findIndex((one, nth) => nth > chosen && one.item !== null && isOpen(one.item));
    if (next >= 0) choose(next);
  };
  const local = (next: readonly Item[]) => {
    setPast([...past, items]);
    setFuture([]);
    put(next);
  };
  const takeIn = async (some: readonly Item[], label: string) => {
    const edits = takeEdits(record, talk.made, some);
    if (edits.length === 0) return;
    setPast((now) => [...now, "kept"]);
    setFuture([]);
    const faults = await keep.edit(edits, label);
    if (faults.length > 0) setPast((now) => now.slice(0, -1));
  };
  const back = () => {
    const last = past.at(-1);
    if (last === undefined) return keep.undo();
    setPast(past.slice(0, -1));
    setFuture([...future, last === "kept" ? "kept" : items]);
    if (last === "kept") keep.undo();
    else put(last);
  };
  const forth = () => {
    const next = future.at(-1);
    if (next === undefined) return keep.redo();
    setFuture(future.slice(0, -1));
    setPast([...past, next === "kept" ? "kept" : items]);
    if (next === "kept") keep.redo();
    else put(next);
  };
  const replace = (old: Item, ...next: readonly Item[]) => {
    const at = items.findIndex((one) => one.id === old.id);
    return [...items.slice(0, at), ...next, ...items.slice(at + 1)];
  };
  const sure = items.filter((one) => isOpen(one) && one.thing !== null && one.doubts.length === 0);
  const doubtful = items.filter((one) => isOpen(one) && one.doubts.length > 0);
  const nextOf = item === null ? null : (items[items.findIndex((one) => one.id === item.id) + 1] ?? null);

  const accept = () => {
    if (item === null || item.thing === null) return startChange();
    void takeIn([item], `taken: ${thingWords(record, talk.made, item.thing)}`);
    onward();
  };
  const startChange = () => {
    if (line === undefined) return;
    if (item !== null) return setChanging(item);
    // Words in which nothing was read: an entry of their own.
    setChanging({
      id: `talk-by-hand-${crypto.randomUUID()}`,
      at: atOf(line),
      cue: line.cue,
      text: line.words,
      thing: null,
      doubts: ["made by hand"],
      rejected: false,
    });
  };
  const change = (thing: Thing) => {
    if (changing === null) return;
    const changed: Item = { ...changing, thing, doubts: [] };
    const known = items.some((one) => one.id === changing.id);
    put(known ? replace(changing, changed) : [...items, changed].sort((a, b) => a.cue - b.cue));
    setPlace({ cue: changed.cue, id: changed.id });
    setChanging(null);
    void takeIn([changed], `taken: ${thingWords(record, talk.made, thing)}`);
  };
  const split = () => {
    const two = item === null ? null : splitItem(item);
    if (item !== null && two !== null) local(replace(item, ...two));
  };
  const join = () => {
    if (item === null || nextOf === null) return;
    const one = joinItems(item, nextOf);
    if (one !== null) local(replace(item, one).filter((each) => each.id !== nextOf.id));
  };
  const jump = () => {
    const at = shown.findIndex(
      (one, nth) => nth > chosen && one.item !== null && isOpen(one.item) && one.item.doubts.length > 0,
    );
    const first =
      at >= 0 ? at : shown.findIndex((one) => one.item !== null && isOpen(one.item) && one.item.doubts.length > 0);
    if (first >= 0) choose(first);
  };
  const play = () => {
    const player = video.current;
    if (player === null) return;
    if (!player.paused) return player.pause();
    const at = line === undefined ? null : atOf(line);
    if (at === null) void player.play().catch(() => undefined);
    else seek(at, true);
  };
  const gone = item === null || taken(item);
  const deeds: readonly Deed[] = [
    { key: "a", label: "accept", does: accept, off: gone || item?.rejected === true },
    { key: "c", label: item === null ? "make an entry" : "change", does: startChange, off: line === undefined },
    { key: "s", label: "split", does: split, off: gone },
    {
      key: "j",
      label: "join with the next",
      does: join,
      off: gone || nextOf === null || joinItems(item, nextOf) === null,
    },
    {
      key: "r",
      label: item?.rejected ? "reject no more" : "reject",
      does: () => {
        if (item === null) return;
        local(replace(item, { ...item, rejected: !item.rejected }));
        if (!item.rejected) onward();
      },
      off: gone,
    },
    { key: "n", label: `next doubtful (${doubtful.length})`, does: jump, off: doubtful.length === 0 },
    {
      key: "b",
      label: `accept all sure (${sure.length})`,
      does: () => void takeIn(sure, `${sure.length} sure entries taken`),
      off: sure.length === 0,
    },
    { key: "u", label: "take back", does: back, off: past.length === 0 && !keep.canUndo },
    { key: "y", label: "once more", does: forth, off: future.length === 0 && !keep.canRedo },
    { key: "p", label: "play, stop", does: play },
  ];
  const rows = useMemo(
    () =>
      shown.map((one): Row => {
        const at = one.item?.at ?? (talk.cues[one.cue]?.at == null ? null : talk.cues[one.cue]!.at! + starts);
        if (one.item === null)
          return { key: `cue ${one.cue}`, at, words: one.words, made: "", more: [], doubts: [], state: "words" };
        const held = isTaken(index, one.item);
        return {
          key: one.item.id,
          at,
          words: one.words,
          made: thingWords(record, talk.made, one.item.thing),
          more: held ? ["in the record"] : one.item.rejected ? ["rejected"] : [],
          doubts: one.item.doubts,
          state: held ? "done" : one.item.rejected ? "rejected" : "open",
        };
      }),
    [shown, record, index, talk, starts],
  );
  const done = items.filter(taken).length;
  return (
    <>
      <p role="status">
        {items.length} read: {done} in the record, {sure.length} sure, {doubtful.length} doubtful,{" "}
        {items.filter((one) => one.rejected).length} rejected.
        {talk.matched === 0 ? "" : ` ${talk.matched} presses and lines of the hand found their words.`}
      </p>
      <Remarks
        title="Said about this transcript"
        lines={talk.warnings.map((one) => (one.line > 0 ? `line ${one.line}: ${one.text}` : one.text))}
      />
      <div className="row">
        <Segmented<Filter>
          label="Words"
          value={filter}
          options={[
            { value: "all", label: "all words" },
            { value: "doubtful", label: "doubtful" },
            { value: "left", label: `left over (${items.filter((one) => isOpen(one) && one.thing === null).length})` },
          ]}
          onChange={setFilter}
        />
      </div>
      <ItemList
        label="Words and what they become"
        rows={rows}
        chosen={chosen}
        choose={choose}
        deeds={deeds}
        form={
          changing === null ? null : (
            <ChangeForm
              key={changing.id}
              record={record}
              made={talk.made}
              item={changing}
              session={session}
              take={change}
              leave={() => setChanging(null)}
            />
          )
        }
      />
      {rows.length === 0 ? <p className="soft">Nothing of this kind is open.</p> : null}
    </>
  );
}
