/** What a person, or the card's finder, has marked in a photograph. All of it is kept; everything else is computed. */
import type { Point } from "../measure/polygon.ts";

/** The face that the camera looks at. */
export type SeenFrom = "back" | "front";

export interface PointMark {
  /** Pixels from the upper left corner of the upright picture. */
  readonly at: Point;
  /** Device coordinates in mm, or the card's own where it is a mark of the card. */
  readonly is: Point;
}

/** A point of the device whose place is known: a screw that was placed, a corner that was measured. */
export interface KnownPoint extends PointMark {
  /** Below the back face, mm; that of all marks where left out. */
  readonly level?: number;
}

export interface EdgeMark {
  readonly edge: BodyEdge;
  /** Marks along one straight edge of the body, two or more, in pixels. */
  readonly at: readonly Point[];
}

export const BODY_EDGES = ["left", "right", "top", "bottom"] as const;
/** Named as seen from the back, whichever way the photograph looks. */
export type BodyEdge = (typeof BODY_EDGES)[number];

export interface PhotoMarks {
  /** Width and height of the picture in pixels. */
  readonly size: Point;
  readonly seen: SeenFrom;
  /** Level in mm of the marked edges, and of points that have none of their own, below the back face. */
  readonly level: number;
  /** Least and greatest x, least and greatest y of the body, mm; needed where edges are marked. */
  readonly body?: readonly [number, number, number, number];
  readonly edges?: readonly EdgeMark[];
  readonly points?: readonly KnownPoint[];
  readonly card?: {
    readonly points: readonly PointMark[];
    /** Level on which the card lies. */
    readonly level: number;
    /** Standard uncertainty of a found mark, pixels; 0.3 where left out. */
    readonly u?: number;
  };
  /** Focal length told by the camera, as that of a 35 mm film camera, in mm. */
  readonly focal?: number;
  /** Standard uncertainty of a mark set by hand, along each axis, in pixels; see `HAND`. */
  readonly u?: number;
}

/** Of a mark by hand under a loupe, at a picture of 4000 pixels; other sizes in proportion. Setting of our own. */
export const HAND = 1;

export const handU = (marks: Pick<PhotoMarks, "size" | "u">): number =>
  marks.u ?? Math.max(0.5, (HAND * Math.max(...marks.size)) / 4000);

/** Two points on the line of an edge, device coordinates. */
export function edgeLine(
  edge: BodyEdge,
  [x0, x1, y0, y1]: readonly [number, number, number, number],
): readonly [Point, Point] {
  if (edge === "left" || edge === "right") {
    const x = edge === "left" ? x0 : x1;
    return [
      [x, y0],
      [x, y1],
    ];
  }
  const y = edge === "bottom" ? y0 : y1;
  return [
    [x0, y],
    [x1, y],
  ];
}
