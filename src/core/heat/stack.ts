/** The layer stack: what is heated, by what, and what is watched. Thickness in mm, everything else in SI and degC. */
import type { Material } from "./materials.ts";

export interface Layer {
  readonly name: string;
  readonly material: Material;
  /** Id in the property table, where it came from there. */
  readonly materialId?: string;
  /** mm */
  readonly thickness: number;
  /** W/(m2.K) between this layer and the next; left out: perfect contact. */
  readonly contactAfter?: number;
}

/** What a face meets: h W/(m2.K) to a surrounding at `temperature`; null holds the face there, 0 insulates it. */
export interface End {
  readonly temperature: number;
  readonly h: number | null;
}

export interface HeatStage {
  readonly seconds: number;
  readonly hot: End;
  readonly cool: End;
}

export const LIMITS = ["soft", "plan", "stop"] as const;
export type LimitName = (typeof LIMITS)[number];

/** A face that is watched. `near` and `far` are the layer's own faces, near towards the hot side. */
export interface Watch {
  readonly name: string;
  readonly layer: string;
  readonly face: "near" | "far";
  /** degC at which a bond can be worked. */
  readonly soft?: number;
  /** degC that a plan keeps below, and degC at which work is broken off. */
  readonly plan?: number;
  readonly stop?: number;
  /** Seconds spent above `above` degC are counted, over all heatings, and should stay within `seconds`. */
  readonly counted?: { readonly above: number; readonly seconds: number };
}

/** One line through the device, hot side first. */
export interface Line {
  readonly name: string;
  readonly layers: readonly Layer[];
  readonly watch: readonly Watch[];
}

export interface Stack {
  readonly kind: "stack";
  /** degC everywhere at the beginning, and of the room where nothing else is said. */
  readonly start: number;
  /** The stack itself and the lines beside it: they share the programme, and no heat passes between them. */
  readonly lines: readonly Line[];
  readonly programme: readonly HeatStage[];
  /** Seconds from the beginning at which faces are reported. */
  readonly report: readonly number[];
}

export function programmeSeconds(programme: readonly HeatStage[]): number {
  return programme.reduce((sum, stage) => sum + stage.seconds, 0);
}
