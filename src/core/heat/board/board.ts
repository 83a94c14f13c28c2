/** A board that is heated locally: `unseam-board/1`. Lengths in mm, temperatures in degC, h in W/(m2.K). */
import type { Material } from "../materials.ts";

export interface BoardMaterial extends Material {
  /** W/(m.K) along the layer; `k` is through it. */
  readonly kInPlane: number;
}

export interface BoardLayer {
  readonly name: string;
  readonly material: BoardMaterial;
  readonly thickness: number;
  /** Only this many mm along the edge are there, air inside: a frame that joins two boards. */
  readonly ring?: number;
}

export interface BoardPart {
  readonly name: string;
  /** Its middle, from the lower left corner of the board. */
  readonly at: readonly [number, number];
  /** Along x, along y, height. */
  readonly size: readonly [number, number, number];
  readonly material: BoardMaterial;
  /** degC that it must not reach. */
  readonly limit?: number;
}

/** A jet from above over a rectangle, or over a disc of that diameter; `at` is its middle. */
export interface Nozzle {
  readonly at: readonly [number, number];
  readonly size: readonly [number, number] | number;
  readonly temperature: number;
  readonly h: number;
}

export interface BoardStage {
  readonly seconds: number;
  readonly nozzle?: Nozzle;
  /** Over the whole lower face. */
  readonly below?: { readonly temperature: number; readonly h: number };
}

export interface Board {
  readonly kind: "board";
  readonly size: readonly [number, number];
  /** Side of a square cell as it was asked for; the grid makes it fit the board. */
  readonly cell: number;
  /** degC everywhere at the beginning, and of the air. */
  readonly start: number;
  /** Loss of every outer face to the air. */
  readonly h: number;
  /** From the upper face, on which the parts stand, to the lower. */
  readonly layers: readonly BoardLayer[];
  readonly parts: readonly BoardPart[];
  readonly heat: readonly BoardStage[];
  readonly report: readonly number[];
  /** degC at which the solder is wholly liquid, and the alloy's name. */
  readonly liquidus: number;
  readonly alloy: string;
}
