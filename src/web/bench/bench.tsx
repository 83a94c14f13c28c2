/**
 * What every page shares: the record, the part that is chosen, how the drawing is looked at, and the way in that is
 * being stepped through. The chosen part and the side stand in the address, so that a place can be sent to somebody.
 */
import { createContext, type ReactNode, useCallback, useContext, useMemo, useState } from "react";
import type { Part, TeardownRecord } from "../../core/record/index.ts";
import type { WayIn } from "../../core/route/ways/types.ts";
import { Assemblies } from "../../core/structure/assemblies.ts";
import { type PlacedDevice, placeDevice, type Seen } from "../../figures/index.ts";
import type { KeptRecord } from "../../server/api.ts";
import { setSearch, usePlace } from "../router.ts";

export interface Walk {
  readonly way: WayIn;
  /** Operations done so far; null: the way in is shown, nothing is done yet. */
  readonly step: number | null;
}

export interface Bench {
  readonly kept: KeptRecord;
  readonly record: TeardownRecord;
  readonly device: PlacedDevice | null;
  readonly part: Part | null;
  /** Chooses a part; `open`: the drawing is opened down to it. */
  readonly choose: (part: string | null, open?: boolean) => void;
  readonly seen: Seen;
  readonly look: (seen: Seen) => void;
  readonly depth: number;
  readonly setDepth: (depth: number) => void;
  readonly walk: Walk | null;
  readonly setWalk: (walk: Walk | null) => void;
  /** Parts that are off and joints that are undone at the step that is looked at. */
  readonly away: ReadonlySet<string>;
  readonly released: ReadonlySet<string>;
  /** Parts and joints of the way in, or of what a page points at. */
  readonly way: ReadonlySet<string>;
  readonly wayJoints: ReadonlySet<string>;
  /** Points at what decides something, until it is told otherwise; a way in that is shown comes first. */
  readonly point: (at: Pointed | null) => void;
}

export interface Pointed {
  readonly parts: readonly string[];
  readonly joints: readonly string[];
}

const Context = createContext<Bench | null>(null);

export function useBench(): Bench {
  const bench = useContext(Context);
  if (bench === null) throw new Error("a page was drawn outside of a record");
  return bench;
}

const closedDepth = (device: PlacedDevice | null, seen: Seen): number =>
  device === null ? 0 : seen === "back" ? device.depth[0] : device.depth[1];

/** Parts off and joints undone after the first `count` operations; an assembly takes with it what is within it. */
export function stateAfter(record: TeardownRecord, way: WayIn, count: number) {
  const assemblies = new Assemblies(record);
  const away = new Set<string>();
  const released = new Set<string>();
  for (const operation of way.operations.slice(0, count)) {
    if (operation.joint !== undefined) released.add(operation.joint);
    if (operation.kind === "lift" && operation.part !== undefined)
      for (const inside of assemblies.of(operation.part)) away.add(inside);
    if (operation.kind === "shift" && operation.part !== undefined) away.add(operation.part);
  }
  return { away, released };
}

export function BenchProvider({ kept, children }: { readonly kept: KeptRecord; readonly children: ReactNode }) {
  const { record } = kept;
  const { search } = usePlace();
  const { parts, joints } = record;
  // An entry or a reading more does not move the drawing.
  const device = useMemo(() => placeDevice({ parts, joints }), [parts, joints]);
  const seen: Seen = search.get("from") === "display" ? "front" : "back";
  // Who comes by an address that names a part finds the drawing opened down to it.
  const [opened, setOpened] = useState<{ readonly seen: Seen; readonly depth: number } | null>(() => {
    const placed = device?.parts.find((one) => one.id === search.get("part"));
    return placed === undefined || placed.base ? null : { seen, depth: placed.level[seen === "back" ? 0 : 1] };
  });
  const [walk, setWalk] = useState<Walk | null>(null);
  const [pointed, point] = useState<Pointed | null>(null);
  const depth = opened?.seen === seen ? opened.depth : closedDepth(device, seen);
  const part = record.parts.find((one) => one.id === search.get("part")) ?? null;

  const setDepth = useCallback((next: number) => setOpened({ seen, depth: next }), [seen]);
  const look = useCallback((next: Seen) => setSearch({ from: next === "front" ? "display" : null }), []);
  const choose = useCallback(
    (id: string | null, open = false) => {
      setSearch({ part: id });
      const placed = open ? device?.parts.find((one) => one.id === id) : undefined;
      if (placed && !placed.base) setOpened({ seen, depth: seen === "back" ? placed.level[0] : placed.level[1] });
    },
    [device, seen],
  );
  const state = useMemo(() => (walk === null ? null : stateAfter(record, walk.way, walk.step ?? 0)), [record, walk]);
  const onTheWay = useMemo(() => {
    if (walk === null) return { way: new Set(pointed?.parts), wayJoints: new Set(pointed?.joints) };
    const { operations } = walk.way;
    return {
      way: new Set(operations.flatMap((one) => one.part ?? [])),
      wayJoints: new Set(operations.flatMap((one) => one.joint ?? [])),
    };
  }, [walk, pointed]);
  const bench = useMemo<Bench>(
    () => ({
      kept,
      record,
      device,
      part,
      choose,
      seen,
      look,
      depth,
      setDepth,
      walk,
      setWalk,
      away: state?.away ?? new Set(),
      released: state?.released ?? new Set(),
      ...onTheWay,
      point,
    }),
    [kept, record, device, part, choose, seen, look, depth, setDepth, walk, state, onTheWay],
  );
  return <Context value={bench}>{children}</Context>;
}
