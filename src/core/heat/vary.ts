/** Stacks changed in one respect: for remedies and for what is not well known. */

import type { End, HeatStage, Layer, Line, Stack } from "./stack.ts";
import { heatingOf } from "./window.ts";

/** The hottest stage changed. */
export function withHeld(stack: Stack, change: (stage: HeatStage) => HeatStage): Stack {
  const { stage } = heatingOf(stack);
  return { ...stack, programme: stack.programme.map((item, i) => (i === stage ? change(item) : item)) };
}

/** The hot side of the hottest stage changed. */
export function withHot(stack: Stack, change: (end: End) => End): Stack {
  return withHeld(stack, (stage) => ({ ...stage, hot: change(stage.hot) }));
}

/** The cool side changed in every stage, and added after the last where the programme says nothing. */
export function withCool(stack: Stack, change: (end: End) => End): Stack {
  const { after, airAssumed } = heatingOf(stack);
  const programme = airAssumed ? [...stack.programme, ...after] : stack.programme;
  return { ...stack, programme: programme.map((stage) => ({ ...stage, cool: change(stage.cool) })) };
}

export function withLayers(stack: Stack, change: (layer: Layer, line: Line, index: number) => Layer): Stack {
  return {
    ...stack,
    lines: stack.lines.map((line) => ({ ...line, layers: line.layers.map((layer, i) => change(layer, line, i)) })),
  };
}

/** Only these lines. */
export function withLines(stack: Stack, keep: (line: Line, index: number) => boolean): Stack {
  return { ...stack, lines: stack.lines.filter(keep) };
}

/** The layers whose bond is watched, by line. */
export function isBond(layer: Layer, line: Line): boolean {
  return line.watch.some((watch) => watch.layer === layer.name && watch.soft !== undefined);
}
