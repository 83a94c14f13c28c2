/** When one label makes another one needless. The argument is in docs/core/route.md. */
import { missing } from "./model.ts";
import type { Work } from "./work.ts";

/** Whether the first label, of the same done set (that of the child), can do all the second can at no greater cost. */
export function dominates(
  work: Work,
  mode1: number,
  g1: number,
  spent1: number,
  warm1: Float64Array,
  flags1: Int32Array,
  at1: number,
  mode2: number,
  g2: number,
  spent2: number,
  warm2: Float64Array,
  flags2: Int32Array,
  at2: number,
): boolean {
  if (g1 > g2) return false;
  const { model, relaxed } = work;
  let time = 0;
  let steps = 0;
  const place1 = mode1 >> 2;
  const place2 = mode2 >> 2;
  const hand1 = (place1 / model.sides) | 0;
  const hand2 = (place2 / model.sides) | 0;
  const side1 = place1 - hand1 * model.sides;
  const side2 = place2 - hand2 * model.sides;
  if (mode1 !== mode2) {
    time = missing(model, hand1, hand2) * model.fetch + (side1 !== side2 ? model.turn : 0);
    if (model.counted) {
      if (hand1 !== hand2) steps += Math.max(1, model.handSize[hand2]!);
      if (hand1 === hand2 && (mode1 & 1) > (mode2 & 1)) steps += 1;
      if (side1 !== side2 && model.readings.I6) steps += 1;
      if (model.readings.I5 && ((mode1 & 2) !== (mode2 & 2) || hand1 !== hand2)) return false;
    }
    if (g1 + time * model.wMs + steps * model.wStep > g2) return false;
  }
  if (work.model.objective.capSteps !== undefined && spent1 + steps > spent2) return false;
  for (let z = 0; z < model.zones.length; z += 1) {
    const left2 = warm2[at2 + z]!;
    if (left2 >= 0) {
      if (warm1[at1 + z]! - time < left2) return false;
      if ((flags2[at2 + z]! & ~flags1[at1 + z]!) !== 0) return false;
    }
    if (mode1 !== mode2 && !relaxed && !asReady(work, z, hand1, side1, hand2, side2)) return false;
  }
  return true;
}

/** Bonds still to be heated find the first mode at least as ready as the second. */
function asReady(work: Work, z: number, hand1: number, side1: number, hand2: number, side2: number): boolean {
  const { model, inside, done } = work;
  const zone = model.zones[z]!;
  if (zone.soft === Infinity || (zone.hand >= 0 && zone.side >= 0)) return true;
  for (const r of zone.bonds) {
    if (inside[r] !== 1 || done[r] === 1) continue;
    const hand = model.hand[r]!;
    const side = model.side[r]!;
    if (zone.hand < 0 && hand1 !== hand2) {
      if (!zone.neutral || hand < 0 || missing(model, hand1, hand) > missing(model, hand2, hand)) return false;
    }
    if (zone.side < 0 && side1 !== side2) {
      if (!zone.neutral || side < 0 || side2 === side) return false;
    }
  }
  return true;
}
