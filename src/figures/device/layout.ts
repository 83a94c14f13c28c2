/** Where plan and section stand on the sheet: one scale along the long axis, thickness stretched by a stated factor. */

import type { Seen } from "./bare.ts";
import type { PlacedDevice } from "./placed.ts";

export interface Layout {
  readonly width: number;
  readonly height: number;
  /** px per mm, in the plan and along the section. */
  readonly scale: number;
  /** Times that thickness is drawn larger than the rest. */
  readonly stretch: number;
  /** Section beside the plan (long axis upright) or below it. */
  readonly beside: boolean;
  readonly plan: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  readonly section: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
  /** Width of the two columns of names left and right of the plan. */
  readonly column: number;
  /** A point of the plan. */
  readonly at: (x: number, y: number) => readonly [number, number];
  /** A point of the section: place along the long axis, level. */
  readonly cut: (along: number, level: number) => readonly [number, number];
}

const TOP = 40;
const BOTTOM = 44;
const GAP = 9;
const DIMENSION = 26;

/** Fits the device into a sheet of at most `width` by `height` px; the answer's height may be less. */
export function layoutDevice(device: PlacedDevice, seen: Seen, width: number, height: number, quiet = false): Layout {
  const { x0, y0, x1, y1 } = device.bounds;
  const [wide, tall] = [Math.max(x1 - x0, 1), Math.max(y1 - y0, 1)];
  const range = Math.max(device.depth[1] - device.depth[0], 0.1);
  const beside = tall >= wide;
  // On a narrow sheet the names need the room more than the plan does.
  const narrow = width < 420;
  const share = quiet ? (beside ? 0.62 : 0.86) : beside ? (narrow ? 0.41 : 0.45) : 0.66;
  const band = beside ? width * (narrow ? 0.15 : 0.17) : Math.min(height * 0.16, 84);
  const room = height - TOP - BOTTOM - (beside ? 0 : band + 46);
  const scale = Math.max(0.2, Math.min(room / tall, (width * share) / wide));
  const stretch = Math.max(1, Math.floor((band / (range * scale)) * 10) / 10);
  const planWidth = wide * scale;
  const planHeight = tall * scale;
  const sectionWidth = beside ? range * scale * stretch : planWidth;
  const sectionHeight = beside ? planHeight : range * scale * stretch;
  const column = Math.max(0, (width - planWidth - (beside ? sectionWidth + DIMENSION + GAP : 0) - GAP * 2) / 2);
  const plan = { x: column + GAP, y: TOP, width: planWidth, height: planHeight };
  const section = beside
    ? { x: plan.x + planWidth + GAP + column, y: TOP, width: sectionWidth, height: sectionHeight }
    : { x: plan.x, y: TOP + planHeight + 46, width: sectionWidth, height: sectionHeight };
  const across = (x: number) => plan.x + (seen === "back" ? x - x0 : x1 - x) * scale;
  const along = (y: number) => plan.y + (y1 - y) * scale;
  return {
    width,
    height: (beside ? plan.y + planHeight : section.y + sectionHeight) + BOTTOM,
    scale,
    stretch,
    beside,
    plan,
    section,
    column,
    at: (x, y) => [across(x), along(y)],
    cut: (place, level) => {
      const off = (level - device.depth[0]) * scale * stretch;
      return beside ? [section.x + off, along(place)] : [across(place), section.y + off];
    },
  };
}
