/** A small plan without names: what lies bare at one stage, with what is worked on in the accent. */
import type { TeardownRecord } from "../core/record/index.ts";
import type { DrawingInput } from "../figures/device/drawing.ts";
import type { Layout } from "../figures/device/layout.ts";
import { drawPlan } from "../figures/device/plan.ts";
import { closedView, type PlacedDevice, placeDevice, type Scene } from "../figures/index.ts";

export interface PlanState {
  readonly seen: "back" | "front";
  readonly away: ReadonlySet<string>;
  readonly released: ReadonlySet<string>;
  /** Parts that come off or go in now, and joints that are worked on. */
  readonly parts: ReadonlySet<string>;
  readonly joints: ReadonlySet<string>;
}

/** What has been drawn of a record: swaps share most of their stages, and finding what lies bare costs most of a sheet. */
const drawn = new WeakMap<
  TeardownRecord,
  { readonly device: PlacedDevice | null; readonly scenes: Map<string, Scene> }
>();

/** The plan of a record at one stage; null where nothing of it can be drawn. */
export function planOf(record: TeardownRecord, state: PlanState, title: string): Scene | null {
  const known = drawn.get(record) ?? { device: placeDevice(record), scenes: new Map<string, Scene>() };
  drawn.set(record, known);
  if (known.device === null) return null;
  const key = JSON.stringify([
    state.seen,
    ...[state.away, state.released, state.parts, state.joints].map((set) => [...set].sort()),
  ]);
  const scene = known.scenes.get(key) ?? smallPlan(known.device, state, title);
  known.scenes.set(key, scene);
  return { ...scene, title };
}

/** px for each mm of the device: enough for hairlines to stay hairlines. */
const SCALE = 4;
const RIM = 6;

function smallPlan(device: PlacedDevice, state: PlanState, title: string): Scene {
  const { x0, y0, x1, y1 } = device.bounds;
  const width = (x1 - x0) * SCALE + 2 * RIM;
  const height = (y1 - y0) * SCALE + 2 * RIM;
  const none = { x: 0, y: 0, width: 0, height: 0 };
  const layout: Layout = {
    width,
    height,
    scale: SCALE,
    stretch: 1,
    beside: true,
    plan: { x: RIM, y: RIM, width: width - 2 * RIM, height: height - 2 * RIM },
    section: none,
    column: 0,
    at: (x, y) => [RIM + (state.seen === "back" ? x - x0 : x1 - x) * SCALE, RIM + (y1 - y) * SCALE],
    cut: () => [0, 0],
  };
  const input: DrawingInput = {
    ...closedView(device, width, height),
    seen: state.seen,
    depth: state.seen === "back" ? device.depth[0] : device.depth[1],
    away: state.away,
    released: state.released,
    chosen: state.parts,
    way: new Set(),
    wayJoints: state.joints,
    quiet: true,
    still: true,
  };
  return { width, height, title, shapes: drawPlan(device, layout, input).shapes };
}
