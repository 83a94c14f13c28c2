/** What a board's figures mean for the work: each remark with the figure, the limit and where the limit comes from. */
import type { Board, BoardPart, Nozzle } from "./board.ts";
import type { BoardHeat, PartHeat } from "./heat-board.ts";
import { ALLOYS, type Alloy, PROFILE } from "./jstd.ts";

/** K under the solidus at which joints that are to stay are left alone. Setting of our own, no source. */
export const GUARD = 17;
/** K over the liquidus that the coldest joint of the part to be lifted should reach. Common practice, no source. */
export const MARGIN = 10;

/** The part of which the nozzles cover most, or undefined where none covers any. */
export function targetOf(board: Board): BoardPart | undefined {
  let best: BoardPart | undefined;
  let most = 0;
  for (const part of board.parts) {
    for (const { nozzle } of board.heat) {
      if (nozzle === undefined) continue;
      const share = coverOf(nozzle, part);
      if (share > most) [best, most] = [part, share];
    }
  }
  return best;
}

/** mm2 of a part under a nozzle; a round one as its square of equal area. */
function coverOf({ at, size }: Nozzle, part: BoardPart): number {
  const sides = typeof size === "number" ? [size * Math.sqrt(Math.PI / 4), size * Math.sqrt(Math.PI / 4)] : size;
  const along = (axis: 0 | 1) =>
    Math.max(
      0,
      Math.min(at[axis] + sides[axis] / 2, part.at[axis] + part.size[axis] / 2) -
        Math.max(at[axis] - sides[axis] / 2, part.at[axis] - part.size[axis] / 2),
    );
  return along(0) * along(1);
}

export function remarksOf(board: Board, heat: BoardHeat): string[] {
  const alloy = ALLOYS[board.alloy as Alloy];
  const profile = PROFILE["020D"][alloy.finish];
  const target = targetOf(board)?.name;
  const remarks = [
    "A planning aid, not a process qualification: properties are constant, solder takes no heat to melt, air under parts and vias are left out.",
    `Joints were taken for ${board.alloy}, liquid at ${board.liquidus} degC (${alloy.source}). Ask which alloy it is: a low-melting joint changes every figure, and large chips may be underfilled.`,
  ];
  const all = (found: (part: PartHeat) => string | undefined) => {
    for (const part of heat.parts) {
      const text = found(part);
      if (text !== undefined) remarks.push(text);
    }
  };
  all(({ name, reached }) =>
    reached === undefined || reached === null ? undefined : `${name} reaches its limit at ${one(reached)} s.`,
  );
  all(({ name, peak, classified }) =>
    peak > classified
      ? `${name} becomes hotter (${one(peak)} degC) than packages of its size are classified for (${classified}, J-STD-020D).`
      : undefined,
  );
  all(({ name, rampUp }) =>
    rampUp > profile.rampUp
      ? `${name} heats by ${one(rampUp)} K/s; the classification profile stays within ${profile.rampUp} (J-STD-020): warm the board from below first, or blow more gently.`
      : undefined,
  );
  all(({ name, aboveLiquidus }) =>
    aboveLiquidus > profile.above[1]
      ? `${name}: ${one(aboveLiquidus)} s above ${board.liquidus} degC, more than the ${profile.above[1]} s of the classification profile (J-STD-020).`
      : undefined,
  );
  all(({ name, joint }) =>
    name !== target && joint > alloy.solidus - GUARD
      ? `A joint of ${name} reaches ${one(joint)} degC, within ${GUARD} K of melting (${alloy.solidus} degC; setting of our own, no source): shield it or blow narrower.`
      : undefined,
  );
  all(({ name, coldestJoint }) =>
    name === target && coldestJoint < board.liquidus + MARGIN
      ? `The coldest joint of ${name} gets to ${one(coldestJoint)} degC; lifting it wants ${board.liquidus + MARGIN}. Nothing is pulled before all joints are liquid: pads tear off.`
      : undefined,
  );
  if (board.heat.every(({ below }) => below === undefined))
    remarks.push(
      "Nothing heats from below: practice is to bring the board to 75 to 125 degC first, so that the part needs less from above (rework primer, tin-lead figures).",
    );
  return remarks;
}

function one(x: number): string {
  return x.toFixed(1);
}
