/**
 * One key under a foot or a thumb, read by time alone: one press is a mark, two are the last again, a long one takes back.
 * Pure: the caller tells what happened when, and asks again at `wake`.
 */
export type PressAct = { readonly kind: "mark" | "again" | "undo"; readonly at: number };

export interface PressState {
  /** Since when it is down; null: it is up. */
  readonly down: number | null;
  /** A short press that may become the first of two: when it went down. */
  readonly first: number | null;
  /** The long press has been acted on: its end says nothing. */
  readonly spent: boolean;
}

export const UP: PressState = { down: null, first: null, spent: false };
/** Two presses that begin within this are one of two, ms; longer than LONG is long. Own settings, no source. */
export const TWICE = 420;
export const LONG = 800;

export interface Pressed {
  readonly state: PressState;
  readonly act: PressAct | null;
  /** When to ask again with "time", ms; null: not before the next press. */
  readonly wake: number | null;
}

export function pressed(state: PressState, event: "down" | "up" | "time", now: number): Pressed {
  const due = state.first !== null && state.down === null && now >= state.first + TWICE;
  if (event === "down") {
    // A key that repeats while it is held says "down" again and again.
    if (state.down !== null) return { state, act: null, wake: state.spent ? null : state.down + LONG };
    const act = due ? ({ kind: "mark", at: state.first! } as const) : null;
    return { state: { down: now, first: due ? null : state.first, spent: false }, act, wake: now + LONG };
  }
  if (event === "up") {
    if (state.down === null || state.spent) return { state: UP, act: null, wake: null };
    if (now >= state.down + LONG) return { state: UP, act: { kind: "undo", at: state.down }, wake: null };
    if (state.first !== null) return { state: UP, act: { kind: "again", at: state.first }, wake: null };
    return { state: { ...UP, first: state.down }, act: null, wake: state.down + TWICE };
  }
  if (state.down !== null && !state.spent && now >= state.down + LONG)
    return { state: { ...state, first: null, spent: true }, act: { kind: "undo", at: state.down }, wake: null };
  if (due) return { state: UP, act: { kind: "mark", at: state.first! }, wake: null };
  return {
    state,
    act: null,
    wake: state.down !== null ? state.down + LONG : state.first === null ? null : state.first + TWICE,
  };
}
