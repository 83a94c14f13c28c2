/**
 * A profile to begin with: warm the board from below, then the mildest jet that melts every joint of the part in time.
 *
 * Tried on a coarse grid: the board is warmed until the part's coldest joint is at the preheat, or for two minutes, then
 * jets from 20 K above what is needed up to 420 degC are tried in steps of 20 K. The first that melts within 90 s without a
 * neighbour passing its limit is proposed; where none does, the answer says what stands in the way.
 */
import type { Board, BoardStage } from "./board.ts";
import { type BoardHeat, heatBoard } from "./heat-board.ts";
import { MARGIN, targetOf } from "./remarks.ts";

export interface ProfileProposal {
  readonly kind: "profile";
  readonly part: string;
  readonly heat: readonly BoardStage[];
  /** Coldest joint at the end, hottest place of the part, degC. */
  readonly coldestJoint: number;
  readonly peak: number;
}
export type ProfileAnswer = ProfileProposal | { readonly kind: "none"; readonly part?: string; readonly why: string };

const PREHEAT = 125;
const LONGEST = 90;
const HOTTEST = 420;
const FEW_CELLS = 4000;

export function proposeProfile(board: Board, stop?: () => boolean): ProfileAnswer {
  const part = targetOf(board);
  if (part === undefined) return { kind: "none", why: "no nozzle stands over a part" };
  const nozzle = board.heat.find((stage) => stage.nozzle !== undefined)!.nozzle!;
  const coarse = coarsened(board);
  const name = part.name;
  const below = board.heat.find((stage) => stage.below !== undefined)?.below ?? { temperature: 150, h: 60 };
  const warmed = run(coarse, [{ seconds: 120, below }], [10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110, 120], stop);
  if (warmed === undefined) return { kind: "none", part: name, why: "it was cancelled" };
  const target = warmed.parts.find((item) => item.name === name)!;
  const at = target.degC.findIndex((degC) => degC >= PREHEAT);
  const preheat: BoardStage = { seconds: at < 0 ? 120 : 10 * (at + 1), below };
  let why = `no jet up to ${HOTTEST} degC of ${nozzle.h} W/(m2.K) melts its joints within ${LONGEST} s`;
  for (
    let temperature = Math.ceil((board.liquidus + MARGIN + 20) / 20) * 20;
    temperature <= HOTTEST;
    temperature += 20
  ) {
    const jet: BoardStage = { seconds: LONGEST, nozzle: { ...nozzle, temperature }, below };
    const hot = run(coarse, [preheat, jet], [], stop);
    if (hot === undefined) return { kind: "none", part: name, why: "it was cancelled" };
    const found = hot.parts.find((item) => item.name === name)!;
    if (found.coldestJoint < board.liquidus + MARGIN) continue;
    const seconds = shortest(coarse, preheat, jet, name, stop);
    const heat = [preheat, { ...jet, seconds }];
    const last = run(coarse, heat, [], stop);
    if (last === undefined) return { kind: "none", part: name, why: "it was cancelled" };
    const hurt = last.parts
      .filter((item) => item.reached !== undefined && item.reached !== null)
      .map((item) => item.name);
    if (hurt.length > 0) {
      why = `with a jet of ${temperature} degC its joints melt, but ${hurt.join(", ")} would reach the limit: shield, or a narrower nozzle`;
      continue;
    }
    const end = last.parts.find((item) => item.name === name)!;
    return { kind: "profile", part: name, heat, coldestJoint: end.coldestJoint, peak: end.peak };
  }
  return { kind: "none", part: name, why };
}

/** Whole seconds of the jet until the coldest joint is liquid with its margin. */
function shortest(board: Board, preheat: BoardStage, jet: BoardStage, part: string, stop?: () => boolean): number {
  let [low, high] = [0, jet.seconds];
  while (high - low > 1) {
    const middle = Math.round((low + high) / 2);
    const heat = run(board, [preheat, { ...jet, seconds: middle }], [], stop);
    const enough = (heat?.parts.find((item) => item.name === part)?.coldestJoint ?? 0) >= board.liquidus + MARGIN;
    if (enough) high = middle;
    else low = middle;
  }
  return high;
}

function coarsened(board: Board): Board {
  const columns = FEW_CELLS / (board.layers.length + 1);
  const smallest = Math.min(...board.parts.flatMap(({ size }) => [size[0], size[1]]));
  const cell = Math.min(
    Math.max(board.cell, Math.sqrt((board.size[0] * board.size[1]) / columns)),
    Math.max(board.cell, smallest / 1.5),
  );
  return { ...board, cell };
}

function run(
  board: Board,
  heat: readonly BoardStage[],
  report: readonly number[],
  stop?: () => boolean,
): BoardHeat | undefined {
  return heatBoard({ ...board, heat, report }, { tolerance: 0.2, progress: () => stop?.() === true });
}
