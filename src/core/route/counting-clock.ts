/**
 * A clock that counts the solver's looks at it instead of time. An answer under a limit on such a clock is the same on
 * every machine and under every load, which is what a printed sheet needs; how long it takes in the room's time is then
 * left to the machine.
 */

/** Milliseconds that one look stands for. Searches look 1 to 25 times a millisecond on a two-core desktop. */
const EACH_LOOK = 0.4;

/** @returns milliseconds, `each` more at every call, from 0 */
export function countingClock(each: number = EACH_LOOK): () => number {
  let looks = 0;
  return () => each * looks++;
}
