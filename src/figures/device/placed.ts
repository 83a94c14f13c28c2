/**
 * The device as outlines and levels: which parts can be drawn, and how far the whole reaches. x to the right and y up,
 * seen from the back, in mm; levels in mm below the back face, negative = proud of it.
 */
import type { Part, TeardownRecord } from "../../core/record/index.ts";
import { areaOf, type Bounds, boundsOf, type Rings, unionBounds } from "../geometry.ts";
import type { Hatch } from "../scene.ts";
import { materialClass } from "./material-class.ts";

export interface PlacedPart {
  readonly id: string;
  readonly name: string;
  readonly rings: Rings;
  readonly bounds: Bounds;
  readonly area: number;
  readonly level: readonly [number, number];
  readonly hatch: Hatch | null;
  readonly base: boolean;
}

export interface PlacedScrew {
  readonly joint: string;
  readonly at: readonly [number, number];
  readonly holds: readonly string[];
  /** Level of the head: the nearest face to the back, and to the display, of what it holds. */
  readonly near: number;
  readonly far: number;
  readonly side: Part["side"];
}

export interface PlacedCable {
  readonly part: string;
  readonly points: readonly (readonly [number, number])[];
  readonly level: readonly [number, number] | null;
}

export interface PlacedDevice {
  readonly parts: readonly PlacedPart[];
  readonly screws: readonly PlacedScrew[];
  readonly cables: readonly PlacedCable[];
  readonly bounds: Bounds;
  /** From the back face (0) or what stands proud of it to the display's face. */
  readonly depth: readonly [number, number];
  /** Parts with no outline or no level: they stand in the list, not in the drawing. */
  readonly unplaced: readonly Part[];
}

/** null where no part has both an outline and a level. */
export function placeDevice(record: Pick<TeardownRecord, "parts" | "joints">): PlacedDevice | null {
  const parts: PlacedPart[] = [];
  const unplaced: Part[] = [];
  for (const part of record.parts) {
    const { outline, level } = part;
    if (outline === undefined || level === undefined) {
      unplaced.push(part);
      continue;
    }
    parts.push({
      id: part.id,
      name: part.name,
      rings: outline,
      bounds: boundsOf(outline),
      area: areaOf(outline),
      level: level[0] <= level[1] ? level : [level[1], level[0]],
      hatch: materialClass(part),
      base: part.base === true,
    });
  }
  if (parts.length === 0) return null;
  const byId = new Map(parts.map((part) => [part.id, part]));
  const screws = record.joints.flatMap((joint) =>
    (joint.screws?.each ?? []).flatMap((screw): PlacedScrew[] => {
      if (screw.at === undefined) return [];
      // The base lies everywhere and says nothing about the head's level, unless it is all there is.
      const held = joint.holds.flatMap((id) => byId.get(id) ?? []);
      const telling = held.some((part) => !part.base) ? held.filter((part) => !part.base) : held;
      return [
        {
          joint: joint.id,
          at: screw.at,
          holds: joint.holds,
          near: telling.length === 0 ? 0 : Math.min(...telling.map((part) => part.level[0])),
          far: telling.length === 0 ? 0 : Math.max(...telling.map((part) => part.level[1])),
          side: joint.side,
        },
      ];
    }),
  );
  const cables = record.parts.flatMap((part): PlacedCable[] =>
    part.path === undefined ? [] : [{ part: part.id, points: part.path, level: part.level ?? null }],
  );
  return {
    parts,
    screws,
    cables,
    bounds: unionBounds(parts.map((part) => part.bounds)),
    depth: [Math.min(0, ...parts.map((part) => part.level[0])), Math.max(...parts.map((part) => part.level[1]))],
    unplaced,
  };
}
