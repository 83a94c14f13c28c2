/**
 * Sums of decimal seconds in binary leave tails such as 104.30000000000001; twelve significant digits are more than any
 * stopwatch has and show them as they were meant.
 */
export const tidy = (value: number): number => Number(value.toPrecision(12));
