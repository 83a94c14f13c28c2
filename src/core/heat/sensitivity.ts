/**
 * How far the window moves with what is not well known: a band, not a single curve.
 *
 * One thing is changed at a time, to the low and to the high end of what a bench may meet. The ranges are common practice
 * or the property table's own; each row says which.
 */
import { materialEntry } from "./materials.ts";
import type { Layer, Stack } from "./stack.ts";
import { isBond, withCool, withHot, withLayers } from "./vary.ts";
import { heatingOf, type Window, type WindowAnswer, warmWindow } from "./window.ts";

export interface Variation {
  readonly what: string;
  readonly low: string;
  readonly high: string;
  /** null: no window there. */
  readonly atLow: Window | null;
  readonly atHigh: Window | null;
  readonly source: string;
}

/** Least and most of each figure over all variations that have a window. null in `to` and `after`: no limit found. */
export interface Band {
  readonly from: readonly [number, number] | null;
  readonly to: readonly [number | null, number | null] | null;
  readonly after: readonly [number | null, number | null] | null;
  /** Some variation has no window at all. */
  readonly mayFail: boolean;
  readonly variations: readonly Variation[];
}

/** A contact that was fitted: its 95 % interval takes the place of what a bench may meet. */
export interface KnownContact {
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/** One thing that is not well known, with the stack at either end of it. */
export interface Unsure {
  readonly what: string;
  readonly low: string;
  readonly high: string;
  readonly atLow: Stack;
  readonly atHigh: Stack;
  readonly source: string;
}

/** What is not well known about a stack; `contact`: the pad's, where it was fitted. */
export function unsureOf(stack: Stack, contact?: KnownContact): readonly Unsure[] {
  return [padContact(stack, contact), bondConductivity(stack), behind(stack), lifted(stack)].filter(
    (one) => one !== undefined,
  );
}

export function sensitivity(
  stack: Stack,
  nominal: WindowAnswer,
  refine: readonly number[] = [],
  contact?: KnownContact,
): Band {
  const variations = unsureOf(stack, contact).map(
    (one): Variation => ({ ...one, atLow: windowOf(one.atLow, refine), atHigh: windowOf(one.atHigh, refine) }),
  );
  const windows = [
    nominal.kind === "window" ? nominal.window : null,
    ...variations.flatMap((v) => [v.atLow, v.atHigh]),
  ];
  const some = windows.filter((window) => window !== null);
  const from = some.map((window) => window.from);
  return {
    from: some.length === 0 ? null : [Math.min(...from), Math.max(...from)],
    to: span(some.map((window) => window.to)),
    after: span(some.map((window) => window.after)),
    mayFail: some.length < windows.length,
    variations,
  };
}

/** null counts as beyond every number. */
function span(values: readonly (number | null)[]): [number | null, number | null] | null {
  if (values.length === 0) return null;
  const numbers = values.filter((value) => value !== null);
  const open = numbers.length < values.length;
  return [
    numbers.length === 0 ? null : Math.min(...numbers),
    open || numbers.length === 0 ? null : Math.max(...numbers),
  ];
}

function windowOf(stack: Stack, refine: readonly number[]): Window | null {
  const answer = warmWindow(stack, refine);
  return answer.kind === "window" ? answer.window : null;
}

function withContact(stack: Stack, h: number | null): Stack {
  return withHot(stack, (end) => ({ ...end, h }));
}

function padContact(stack: Stack, known?: KnownContact): Unsure | undefined {
  const { h } = heatingOf(stack).held.hot;
  if (h === 0) return undefined;
  const [low, high] = known !== undefined ? [known.low, known.high] : h === null ? [1000, null] : [h / 2, h * 2];
  return {
    what: "contact of the pad",
    low: `${digits(low)} W/(m2.K)`,
    high: high === null ? "held" : `${digits(high)} W/(m2.K)`,
    atLow: withContact(stack, low),
    atHigh: withContact(stack, high),
    source: known?.source ?? "common practice, no source: a dry pad spreads over a factor of two either way; fit yours",
  };
}

function bondConductivity(stack: Stack): Unsure | undefined {
  const bonds = stack.lines.flatMap((line) => line.layers.filter((layer) => isBond(layer, line)));
  if (bonds.length === 0) return undefined;
  const scaled = (pick: 0 | 1) =>
    withLayers(stack, (layer, line) => (isBond(layer, line) ? withK(layer, rangeOf(layer)[pick]) : layer));
  const [low, high] = rangeOf(bonds[0]);
  return {
    what: "conductivity of the bond",
    low: `${digits(low)} W/(m.K)`,
    high: `${digits(high)} W/(m.K)`,
    atLow: scaled(0),
    atHigh: scaled(1),
    source: "range of the property table, or 0.6 to 1.35 of the value given (the spread of acrylic tapes, from memory)",
  };
}

function rangeOf(layer: Layer): readonly [number, number] {
  const entry = layer.materialId === undefined ? undefined : materialEntry(layer.materialId);
  return entry?.k.range ?? [0.6 * layer.material.k, 1.35 * layer.material.k];
}

function withK(layer: Layer, k: number): Layer {
  return { ...layer, material: { ...layer.material, k } };
}

/** Contact behind the bond, and the air on the far side. */
function behind(stack: Stack): Unsure {
  const factor = (f: number): Stack => {
    const contacts = withLayers(stack, (layer) =>
      layer.contactAfter === undefined ? layer : { ...layer, contactAfter: layer.contactAfter * f },
    );
    return withCool(contacts, (end) => (end.h === null || end.h === 0 ? end : { ...end, h: end.h * f }));
  };
  return {
    what: "contacts inside and loss on the cool side",
    low: "half",
    high: "double",
    atLow: factor(0.5),
    atHigh: factor(2),
    source: "setting of our own, no source",
  };
}

/** Where the face does not touch the pad: air of 1 mm to 0.25 mm between them. */
function lifted(stack: Stack): Unsure | undefined {
  const { h } = heatingOf(stack).held.hot;
  if (h === 0 || (h !== null && h < 120)) return undefined;
  // k/L of air at 50 degC, and 6 W/(m2.K) of radiation.
  const [low, high] = [Math.round(0.0276 / 1e-3 + 6), Math.round(0.0276 / 0.25e-3 + 6)];
  return {
    what: "a place that does not touch the pad",
    low: `1 mm of air, ${low} W/(m2.K)`,
    high: `0.25 mm of air, ${high} W/(m2.K)`,
    atLow: withContact(stack, low),
    atHigh: withContact(stack, high),
    source: "conduction through still air (property table) and radiation at emissivity 0.9 near 50 degC",
  };
}

function digits(x: number): string {
  return String(Number(x.toPrecision(3)));
}
