/** The pieces of a plan as the clock on the bench counts them. */
import type { Piece, Window } from "../../../core/heat/index.ts";

export interface Phase {
  /** s from the beginning of the plan, and how long. */
  readonly from: number;
  readonly seconds: number;
  readonly words: string;
  /** What is said when its time is over, and on the button that ends it. */
  readonly over: string;
  readonly done: string;
}

const SAID = {
  heat: { words: "heat", over: "lift off now", done: "lifted off" },
  cut: { words: "cut while it is soft", over: "too cold to cut", done: "stopped cutting" },
  pause: { words: "let it cool", over: "cool enough", done: "go on" },
} as const;

/** Seconds are rounded down for heating and cutting, up for cooling: to the safe side. */
export function phasesOf(pieces: readonly Piece[]): Phase[] {
  return pieces.map(({ kind, from, to }) => ({
    from,
    seconds: kind === "pause" ? Math.ceil(to - from) : Math.max(1, Math.floor(to - from)),
    ...SAID[kind],
  }));
}

/** One heating and the time in which the bond can be cut, where no rounds are planned. */
export function onePiece(liftOff: number, window: Window | null): Piece[] {
  const after = window?.after ?? 0;
  return [
    { kind: "heat", from: 0, to: liftOff },
    ...(after >= 1 ? [{ kind: "cut" as const, from: liftOff, to: liftOff + after }] : []),
  ];
}

/** "2:05"; what is over its time "+0:07". */
export function clockWords(seconds: number): string {
  const over = seconds < 0;
  const whole = over ? Math.floor(-seconds + 1e-9) : Math.ceil(seconds - 1e-9);
  return `${over ? "+" : ""}${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}
