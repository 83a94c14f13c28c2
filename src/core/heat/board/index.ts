/**
 * Local heating of one part of a board with its neighbours.
 *
 * In: `unseam-board/1`. Out: for every part its hottest place and joint, ramp and time above the liquidus, against
 * J-STD-020 by package size. A planning aid, not a process qualification. Errors: `InputFaults`.
 */
export type { Board, BoardLayer, BoardMaterial, BoardPart, BoardStage, Nozzle } from "./board.ts";
export { type BoardControl, type BoardHeat, heatBoard, type PartHeat } from "./heat-board.ts";
export {
  ALLOYS,
  type Alloy,
  CLASSIFICATION,
  classification,
  type Finish,
  PROFILE,
  type Profile,
  type Revision,
} from "./jstd.ts";
export { type ProfileAnswer, type ProfileProposal, proposeProfile } from "./profile.ts";
export { BOARD_FORMAT, readBoard } from "./read-board.ts";
export { remarksOf, targetOf } from "./remarks.ts";
