/**
 * Small words for writing a record by hand: shapes in mm, joints by kind, and the clock of an afternoon.
 *
 * Every example is written with these and turned into JSON by `build.ts`. Coordinates: x to the right, y up, seen
 * from the back, origin at the lower left corner of the body. Levels run from the back face inwards.
 */
import type { Joint, Part, Quantity, Release, Role, Side } from "../../src/core/record/schema.ts";

export type Point = [number, number];
export type Ring = Point[];
type Corner = readonly [x: number, y: number, radius?: number];

const to2 = (value: number): number => Math.round(value * 100) / 100;
const at = (x: number, y: number): Point => [to2(x), to2(y)];

/** A polygon with each corner rounded by its own radius (0 where left out). */
export function rounded(corners: readonly Corner[]): Ring {
  const ring: Ring = [];
  corners.forEach(([x, y, radius = 0], index) => {
    if (radius === 0) {
      ring.push(at(x, y));
      return;
    }
    const before = corners[(index + corners.length - 1) % corners.length]!;
    const after = corners[(index + 1) % corners.length]!;
    const a = Math.atan2(before[1] - y, before[0] - x);
    const b = Math.atan2(after[1] - y, after[0] - x);
    let opening = b - a;
    while (opening > Math.PI) opening -= 2 * Math.PI;
    while (opening < -Math.PI) opening += 2 * Math.PI;
    const reach = radius / Math.tan(Math.abs(opening) / 2);
    const away = radius / Math.sin(Math.abs(opening) / 2);
    const middle = a + opening / 2;
    const cx = x + away * Math.cos(middle);
    const cy = y + away * Math.sin(middle);
    const from = Math.atan2(y + reach * Math.sin(a) - cy, x + reach * Math.cos(a) - cx);
    const to = Math.atan2(y + reach * Math.sin(b) - cy, x + reach * Math.cos(b) - cx);
    let sweep = to - from;
    while (sweep > Math.PI) sweep -= 2 * Math.PI;
    while (sweep < -Math.PI) sweep += 2 * Math.PI;
    const pieces = Math.max(2, Math.ceil((Math.abs(sweep) / (Math.PI / 2)) * 6));
    for (let i = 0; i <= pieces; i++) {
      const angle = from + (sweep * i) / pieces;
      ring.push(at(cx + radius * Math.cos(angle), cy + radius * Math.sin(angle)));
    }
  });
  return ring;
}

export function rect(x0: number, y0: number, x1: number, y1: number, radius = 0): Ring {
  return rounded([
    [x0, y0, radius],
    [x1, y0, radius],
    [x1, y1, radius],
    [x0, y1, radius],
  ]);
}

export function disc(x: number, y: number, radius: number, sides = 36): Ring {
  return Array.from({ length: sides }, (_, i) => {
    const angle = (2 * Math.PI * i) / sides;
    return at(x + radius * Math.cos(angle), y + radius * Math.sin(angle));
  });
}

/** A flat cable of a given width along a path with right angles. */
export function strip(path: readonly Point[], width: number): Ring {
  const half = width / 2;
  const left: Ring = [];
  const right: Ring = [];
  path.forEach(([x, y], i) => {
    const unit = (from: Point, to: Point): Point => {
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      return [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
    };
    const before = i > 0 ? unit(path[i - 1]!, path[i]!) : undefined;
    const after = i < path.length - 1 ? unit(path[i]!, path[i + 1]!) : undefined;
    const [ax, ay] = before ?? after!;
    const [bx, by] = after ?? before!;
    // The mitre of the two normals; for a straight run it is the normal itself.
    const nx = -(ay + by);
    const ny = ax + bx;
    const scale = half / (nx * -ay + ny * ax || 1);
    left.push(at(x + nx * scale, y + ny * scale));
    right.push(at(x - nx * scale, y - ny * scale));
  });
  return [...left, ...right.reverse()];
}

/** A part with its place: level in mm below the back face, first ring outer, further rings holes. */
export function part(
  id: string,
  name: string,
  role: Role,
  level: readonly [number, number],
  outline: readonly Ring[],
  more: Partial<Part> = {},
): Part {
  return { id, name, role, ...more, outline: outline.map((ring) => [...ring]), level: [level[0], level[1]] };
}

export const torque = (value: number): Quantity => ({ value, unit: "cN.m" });
export const pieces = (value: number): Quantity => ({ value, unit: "1" });
export const eur = (amount: string) => ({ amount, currency: "EUR" });

type Screws = NonNullable<Joint["screws"]>;
type Each = readonly [x: number, y: number, length?: number, mark?: "ground" | "locked" | "sealed" | "hidden"];
export interface ScrewNotes {
  readonly tool?: string;
  readonly drive?: string;
  readonly thread?: string;
  readonly length: number;
  readonly head?: number;
  readonly torque?: number;
  readonly torqueIs?: "stated" | "back-off";
  readonly seconds?: number;
  readonly hard?: true;
  readonly reach?: string[][];
  readonly side?: Side;
  readonly harm?: Release["harm"];
  readonly more?: Partial<Joint>;
}

/** Screws one by one: `[x, y, length where it differs, mark]`. */
export function screws(id: string, holds: [string, string], each: readonly Each[], notes: ScrewNotes): Joint {
  const { tool = "ph000", drive = "cross recess 000", thread = "M1.2x0.25", length, head = 2.0 } = notes;
  const lengths = new Set(each.map(([, , own]) => own ?? length));
  const facts: Screws = {
    drive,
    thread,
    ...(lengths.size === 1 ? { length } : {}),
    lengthIs: "under-head",
    head,
    torque: torque(notes.torque ?? (thread.startsWith("M1.4") ? 4.5 : thread.startsWith("M1.6") ? 6 : 3)),
    torqueIs: notes.torqueIs ?? "stated",
    each: each.map(([x, y, own, mark]) => ({ at: at(x, y), length: own ?? length, ...(mark ? { mark } : {}) })),
  };
  const release: Release = {
    action: "unscrew",
    tools: [tool],
    ...(notes.seconds === undefined ? {} : { seconds: notes.seconds }),
    ...(notes.hard ? { hard: true as const } : {}),
    leaves: "whole",
    ...(notes.harm ? { harm: notes.harm } : {}),
  };
  return {
    id,
    kind: "screw",
    holds,
    count: each.length,
    reach: notes.reach ?? [["back-glass"]],
    side: notes.side ?? "back",
    releases: [release],
    screws: facts,
    ...notes.more,
  };
}

type Form = NonNullable<Joint["plug"]>["form"];

/** A plug in its socket. Levered up with the spudger or, where there is room, lifted with plastic tweezers. */
export function plug(
  id: string,
  holds: [string, string],
  form: Form,
  pins: number,
  reach: string[][],
  more: Partial<Joint> = {},
): Joint {
  const harmed = holds[0];
  const spudger: Release = {
    action: "unplug",
    tools: ["spudger"],
    leaves: "whole",
    harm: [{ part: harmed, chance: form === "zif" ? 0.004 : 0.002 }],
  };
  const tweezers: Release = {
    action: "unplug",
    tools: ["tweezers-plastic"],
    leaves: "whole",
    harm: [{ part: harmed, chance: form === "coaxial" ? 0.002 : 0.005 }],
  };
  return {
    id,
    kind: "connector",
    holds,
    reach,
    side: "back",
    releases: form === "coaxial" || form === "zif" ? [spudger, tweezers] : [spudger],
    plug: { form, pins },
    ...more,
  };
}

/** Something that lets go by itself when the part is lifted: spring fingers, hooks, foam. */
export function letsGo(id: string, kind: Joint["kind"], holds: [string, string], more: Partial<Joint> = {}): Joint {
  return { id, kind, holds, releases: [], ...more };
}

/** A hook or snap, sprung with spudger or pick. */
export function clip(
  id: string,
  holds: [string, string],
  count: number,
  reach: string[][],
  more: Partial<Joint> = {},
): Joint {
  return {
    id,
    kind: "clip",
    holds,
    count,
    reach,
    side: "back",
    releases: [
      { action: "pry", tools: ["spudger"], leaves: "whole" },
      { action: "pry", tools: ["pick"], leaves: "whole" },
    ],
    ...more,
  };
}

/** Tape or thin adhesive that is peeled by hand or with plastic tweezers, and laid new on the way back. */
export function tape(
  id: string,
  holds: [string, string],
  seconds: number,
  reach: string[][],
  size: { length: number; width: number; thickness: number },
  more: Partial<Joint> = {},
): Joint {
  return {
    id,
    kind: "tape",
    holds,
    reach,
    side: "back",
    releases: [
      { action: "peel", tools: [], seconds, leaves: "spent" },
      { action: "peel", tools: ["tweezers-plastic"], seconds: Math.max(4, Math.round(seconds * 0.8)), leaves: "spent" },
    ],
    bond: size,
    remake: {
      uses: [{ consumable: "tape-strip", amount: pieces(1) }],
      clean: 8,
      lay: 10,
      press: 5,
    },
    ...more,
  };
}
