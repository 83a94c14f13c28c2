/**
 * The change from one mode of the bench to the next on the numbers of a model: fetches, turns, steps. The fast copy of
 * what `advance.ts` and `steps.ts` say; the results stand in the fields, so that nothing is allocated.
 *
 * mode = ((hand * sides + side) * 2 + bare) * 2 + open.
 */
import { type Model, missing } from "./model.ts";

export const RELEASE = 0;
export const MOVE = 1;
export const HEAT = 2;

export class SetUp {
  private readonly model: Model;
  /** A release without tools leaves the work as it is: a relaxation (see docs/core/route.md). */
  private readonly lenient: boolean;
  /** Units of time. */
  fetch = 0;
  turn = 0;
  /** Beyond the steps every such operation counts. */
  steps = 0;
  mode = 0;

  constructor(model: Model, lenient: boolean) {
    this.model = model;
    const { I1, I5 } = model.readings;
    this.lenient = lenient && !I1 && !I5;
  }

  enter(mode: number, hand: number, side: number, kind: number, clean: boolean): void {
    const { model } = this;
    const place = mode >> 2;
    const sides = model.sides;
    const wasHand = (place / sides) | 0;
    const wasSide = place - wasHand * sides;
    this.fetch = hand >= 0 && hand !== wasHand ? missing(model, wasHand, hand) * model.fetch : 0;
    const turned = side >= 0 && side !== wasSide;
    this.turn = turned ? model.turn : 0;
    const next = (hand >= 0 ? hand : wasHand) * sides + (turned ? side : wasSide);
    if (!model.counted) {
      this.steps = 0;
      this.mode = next << 2;
      return;
    }
    this.count(mode, hand, wasHand, turned, kind, clean, next);
  }

  private count(
    mode: number,
    hand: number,
    wasHand: number,
    turned: boolean,
    kind: number,
    clean: boolean,
    next: number,
  ): void {
    const { readings, handSize } = this.model;
    let open = (mode & 1) === 1;
    let bare = (mode & 2) === 2;
    let steps = 0;
    if (readings.I6 && turned) {
      steps += 1;
      open = false;
    }
    const bareHands = hand < 0 && readings.I5 && kind === RELEASE;
    if (bareHands || hand >= 0) {
      if (bareHands ? !bare : bare || hand !== wasHand) {
        const first = handSize[wasHand] === 0 && !bare;
        bare = bareHands;
        if (hand >= 0) steps += handSize[hand]! - 1;
        if (!(readings.I2 && first)) {
          if (open || readings.I3) steps += 1;
          open = false;
        }
      }
    }
    const closes = kind !== RELEASE || readings.I1 || (readings.I9 && clean);
    if (closes) open = false;
    else if (hand >= 0 || !this.lenient) open = true;
    this.steps = steps;
    this.mode = (next << 2) | (bare ? 2 : 0) | (open ? 1 : 0);
  }
}
