/**
 * Lower bounds on what an order of the remaining work must still pay for set-ups and heatings.
 *
 * Runs. Fetches add up over tools and turns over sides: each time a tool comes into the hand, one fetch; each time a side
 * comes up, one turn. For one tool (side) the fewest times it must come in, all else free, is a two-class problem: work
 * with it, work that drops it, work that leaves it alone. Taking all that is free of one class before changing to the
 * other is optimal because doing more never blocks; it is computed in time linear in the needs. Sets of several tools
 * count in steps in the same way.
 *
 * Heat. A heating of a zone holds at most `soft` of its bonds' time, and never two bonds that both take more than half of
 * it; an interrupted release takes at least ms / soft heatings of its own.
 */
import type { Model } from "./model.ts";

/** What the bounds look at. */
export interface Position {
  /** Counts of the graph of needs after what has been done. */
  readonly count: Int32Array;
  readonly done: Uint8Array;
  /** Operations that can be done now (those in the set first asked for, or all where `outside` is free). */
  readonly available: Int32Array;
  readonly availableSize: number;
  readonly mode: number;
  /** Soft time left of each zone, -1 cold. */
  readonly left: Float64Array;
}

const NEUTRAL = 0;
const WITH = 1;
const WITHOUT = 2;

const HAND = 0;
const SIDE = 1;
const PLACE = 2;

interface Dimension {
  readonly type: Int8Array;
  readonly weight: number;
  /** Steps of one run, for caps. */
  readonly steps: number;
  /** Units of time of one run. */
  readonly time: number;
  /** 1 where the hand, the side or the place (hand and side) has it. */
  readonly has: Uint8Array;
  readonly of: number;
}

/** Beyond so many tools and sides each one asked for is counted once. */
const MOST_DIMENSIONS = 48;

export class Bound {
  private readonly model: Model;
  private readonly dimensions: readonly Dimension[];
  private readonly count: Int32Array;
  private readonly queues: readonly [Int32Array, Int32Array, Int32Array];
  private readonly remaining: Int32Array;
  private readonly classes: readonly Dimension[];
  private readonly leastEvent: number;
  /** Steps in the last bound. */
  steps = 0;
  /** Fetches and turns in the last bound, and their units of time. */
  events = 0;
  time = 0;

  constructor(model: Model) {
    this.model = model;
    this.dimensions = dimensionsOf(model);
    this.classes = classesOf(model, this.dimensions.length > 0);
    this.leastEvent = Math.min(model.fetch, model.turn) * model.wMs;
    this.count = new Int32Array(model.nodes);
    this.queues = [new Int32Array(model.n), new Int32Array(model.n), new Int32Array(model.n)];
    this.remaining = new Int32Array(model.n);
  }

  /**
   * Packed bound on set-ups and heatings for doing all of `inside` from `position`; work outside is free, has no class
   * and is done when it can be (`outside`), or is not there. Infinity: it cannot be done.
   */
  setUps(position: Position, inside: Uint8Array, outside: boolean): number {
    this.steps = 0;
    this.events = 0;
    this.time = 0;
    const left = this.gather(position, inside);
    const total = this.heat(position, inside);
    if (total === Infinity) return total;
    return total + this.sumOfRuns(this.dimensions, position, inside, outside, left);
  }

  /** Units of time that fetches and turns alone take at least, heat and steps aside. */
  times(position: Position, inside: Uint8Array, outside: boolean): number {
    this.events = 0;
    this.time = 0;
    const left = this.gather(position, inside);
    this.sumOfRuns(this.dimensions, position, inside, outside, left);
    const { time, events } = this;
    return time + this.entries(position, inside, outside, events) / this.model.wMs;
  }

  /**
   * What entering classes adds to the last `setUps`. A class is a set of tools with a side; whenever work of a class
   * begins after work outside it, something was fetched or the device was turned, and no two such entries share the
   * event. So fetches and turns together are at least the runs of all classes.
   */
  entries(position: Position, inside: Uint8Array, outside: boolean, events: number): number {
    if (this.classes.length === 0) return 0;
    const left = this.gather(position, inside);
    const runs = this.sumOfRuns(this.classes, position, inside, outside, left);
    return Math.max(0, runs - events) * this.leastEvent;
  }

  private gather(position: Position, inside: Uint8Array): number {
    const { model, remaining } = this;
    let left = 0;
    for (let i = 0; i < model.n; i += 1) if (inside[i] === 1 && position.done[i] === 0) remaining[left++] = i;
    return left;
  }

  private sumOfRuns(
    dimensions: readonly Dimension[],
    position: Position,
    inside: Uint8Array,
    outside: boolean,
    left: number,
  ): number {
    const { model, remaining } = this;
    let total = 0;
    const place = position.mode >> 2;
    const hand = (place / model.sides) | 0;
    const side = place - hand * model.sides;
    for (const dimension of dimensions) {
      const { type } = dimension;
      let left1 = 0;
      let left2 = 0;
      for (let k = 0; k < left; k += 1) {
        const t = type[remaining[k]!]!;
        if (t === WITH) left1 += 1;
        else if (t === WITHOUT) left2 += 1;
      }
      if (left1 === 0) continue;
      const has = dimension.has[dimension.of === PLACE ? place : dimension.of === SIDE ? side : hand] === 1;
      let runs: number;
      if (left2 === 0) runs = has ? 0 : 1;
      else if (left1 === 1 && !has) runs = 1;
      else runs = this.runs(position, inside, outside, type, left1, has);
      total += runs * dimension.weight;
      this.steps += runs * dimension.steps;
      this.time += runs * dimension.time;
      if (dimension.time > 0) this.events += runs;
    }
    return total;
  }

  private runs(
    position: Position,
    inside: Uint8Array,
    outside: boolean,
    type: Int8Array,
    asked: number,
    has: boolean,
  ): number {
    const { model, count, queues } = this;
    const { out, outStart, up, n } = model;
    const [neutral, first, second] = queues;
    count.set(position.count);
    let left = asked;
    let neutralSize = 0;
    let firstSize = 0;
    let secondSize = 0;
    for (let k = 0; k < position.availableSize; k += 1) {
      const i = position.available[k]!;
      const t = inside[i] === 1 ? type[i]! : outside ? NEUTRAL : -1;
      if (t === NEUTRAL) neutral[neutralSize++] = i;
      else if (t === WITH) first[firstSize++] = i;
      else if (t === WITHOUT) second[secondSize++] = i;
    }
    let with1 = has;
    let runs = 0;
    let idle = 0;
    for (;;) {
      let moved = false;
      for (;;) {
        let i: number;
        if (neutralSize > 0) i = neutral[--neutralSize]!;
        else if (with1 && firstSize > 0) {
          i = first[--firstSize]!;
          left -= 1;
        } else if (!with1 && secondSize > 0) i = second[--secondSize]!;
        else break;
        moved = true;
        for (let e = outStart[i]!; e < outStart[i + 1]!; e += 1) {
          let node = out[e]!;
          while (--count[node]! === 0) {
            if (node < n) {
              const t = inside[node] === 1 ? type[node]! : outside ? NEUTRAL : -1;
              if (t === NEUTRAL) neutral[neutralSize++] = node;
              else if (t === WITH) first[firstSize++] = node;
              else if (t === WITHOUT) second[secondSize++] = node;
              break;
            }
            node = up[node]!;
          }
        }
      }
      if (left === 0) return runs;
      idle = moved ? 0 : idle + 1;
      if (idle > 2) return Infinity;
      with1 = !with1;
      if (with1) runs += 1;
    }
  }

  private heat(position: Position, inside: Uint8Array): number {
    const { model } = this;
    let total = 0;
    for (let z = 0; z < model.zones.length; z += 1) {
      const zone = model.zones[z]!;
      let sum = 0;
      let halves = 0;
      let leastHalf = Infinity;
      let own = 0;
      let between = 0;
      let interrupted = 0;
      let pending = 0;
      for (const i of zone.bonds) {
        if (inside[i] !== 1 || position.done[i] === 1) continue;
        const ms = model.ms[i]!;
        pending += 1;
        const rounds = model.leastRounds[i]!;
        if (rounds > 0) {
          own += rounds;
          between += (rounds - 1) * model.roundSetUp[i]!;
          interrupted += 1;
          continue;
        }
        if (ms > zone.soft) {
          if (model.passes[i] !== 1) return Infinity;
          own += Math.ceil((ms * model.tick) / zone.softMs);
          interrupted += 1;
          continue;
        }
        sum += ms;
        if (ms * 2 > zone.soft) {
          halves += 1;
          leastHalf = Math.min(leastHalf, ms);
        }
      }
      if (pending === 0) continue;
      const left = position.left[z]!;
      if (zone.soft === Infinity) {
        if (left >= 0) continue;
        total += zone.ms * model.wMs + model.wOp + model.wStep;
        this.steps += 1;
        continue;
      }
      const rest = left < 0 ? sum : sum - left;
      // Bonds of no time still need one warm moment.
      const once = left < 0 && pending > interrupted ? 1 : 0;
      const heatings = Math.max(
        once,
        zone.soft === 0 ? 0 : Math.ceil(Math.max(0, rest) / zone.soft),
        halves - (left >= leastHalf ? 1 : 0),
      );
      // Heatings within an interrupted release are no operations of their own, but cost at least one heating more.
      const ops = zone.ms > 0 ? model.wOp : 0;
      const ownSteps = model.readings.I10 ? own : interrupted;
      total +=
        heatings * (zone.ms * model.wMs + ops + model.wStep) +
        (own * zone.ms + between) * model.wMs +
        ownSteps * model.wStep;
      this.steps += heatings + ownSteps;
    }
    return total;
  }
}

/** The type of each operation by that of its ways: neutral where they differ. */
function typesOf(model: Model, typeOf: (way: number) => number): Int8Array {
  return Int8Array.from(model.options, (ways) => {
    const type = typeOf(ways[0]!);
    return ways.every((way) => typeOf(way) === type) ? type : NEUTRAL;
  });
}

/** Classes whose entry always takes a fetch or a turn: no other set in use holds all their tools. */
function classesOf(model: Model, wanted: boolean): Dimension[] {
  const { hands, hand, side, sides } = model;
  if (!wanted || model.fetch === 0 || model.turn === 0) return [];
  const seen = new Set<number>();
  const out: Dimension[] = [];
  for (let i = 0; i < hand.length; i += 1) {
    const h = hand[i]!;
    const s = side[i]!;
    if (h < 0 || s < 0 || seen.has(h * sides + s)) continue;
    seen.add(h * sides + s);
    if (hands.some((other, k) => k !== h && hands[h]!.every((tool) => other.includes(tool)))) continue;
    const type = typesOf(model, (j) => {
      if ((hand[j]! >= 0 && hand[j] !== h) || (side[j]! >= 0 && side[j] !== s)) return WITHOUT;
      return hand[j] === h && side[j] === s ? WITH : NEUTRAL;
    });
    const has = Uint8Array.from({ length: hands.length * sides }, (_, place) => (place === h * sides + s ? 1 : 0));
    out.push({ type, has, weight: 1, steps: 0, time: 0, of: PLACE });
  }
  return out.length > MOST_DIMENSIONS ? [] : out;
}

function dimensionsOf(model: Model): Dimension[] {
  const { hands, hand, side, counted, readings } = model;
  const out: Dimension[] = [];
  const add = (typeOf: (i: number) => number, has: readonly boolean[], time: number, steps: number, of: number) => {
    const weight = time * model.wMs + steps * model.wStep;
    const type = typesOf(model, typeOf);
    if (weight > 0 || steps > 0) {
      out.push({ type, has: Uint8Array.from(has, (yes) => (yes ? 1 : 0)), weight, steps, time, of });
    }
  };
  const tools = [...new Set([...hand].flatMap((h) => (h < 0 ? [] : hands[h]!)))].sort((a, b) => a - b);
  const usedSides = [...new Set([...side].filter((s) => s >= 0))].sort((a, b) => a - b);
  if (tools.length + usedSides.length > MOST_DIMENSIONS) return out;
  for (const tool of tools) {
    const has = hands.map((set) => set.includes(tool));
    add((i) => (hand[i]! < 0 ? NEUTRAL : has[hand[i]!] ? WITH : WITHOUT), has, model.fetch, 0, HAND);
  }
  const turnSteps = counted && readings.I6 ? 1 : 0;
  for (const s of usedSides) {
    const has = Array.from({ length: model.sides }, (_, other) => other === s);
    add((i) => (side[i]! < 0 ? NEUTRAL : side[i] === s ? WITH : WITHOUT), has, model.turn, turnSteps, SIDE);
  }
  if (!counted) return out;
  const sets = [...new Set([...hand].filter((h) => h >= 0))].sort((a, b) => a - b);
  for (const set of sets) {
    const steps = hands[set]!.length - 1 + (readings.I3 && !readings.I2 ? 1 : 0);
    const has = hands.map((_, h) => h === set);
    if (steps > 0) {
      add((i) => (hand[i]! < 0 ? NEUTRAL : hand[i] === set ? WITH : WITHOUT), has, 0, steps, HAND);
    }
  }
  return out;
}
