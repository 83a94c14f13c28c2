/** Round numbers for an axis: the widest of 1, 2, 5 times a power of ten that gives at least `wanted` intervals. */
export function niceStep(range: number, wanted: number): number {
  if (!(range > 0)) return 1;
  const raw = range / wanted;
  const power = 10 ** Math.floor(Math.log10(raw));
  const times = [5, 2, 1].find((factor) => factor * power <= raw * (1 + 1e-9)) ?? 1;
  return times * power;
}

/** Steps of a time axis in seconds that people count in. */
const TIME_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 28800, 86400];

/** The least step in seconds that leaves at most `most` intervals in `range` seconds. */
export function timeStep(range: number, most: number): number {
  return TIME_STEPS.find((step) => range / step <= most) ?? Math.ceil(range / most / 86400) * 86400;
}

/** Seconds in the bench's words: "8.2 s", "2 min 38 s", "1 h 05 min". */
export function spokenTime(seconds: number): string {
  if (seconds < 10) return `${Math.round(seconds * 10) / 10} s`;
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) {
    const rest = whole % 60;
    return rest === 0 ? `${whole / 60} min` : `${Math.floor(whole / 60)} min ${String(rest).padStart(2, "0")} s`;
  }
  const minutes = Math.round(whole / 60);
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
}

/** Seconds as a whole range: "8 to 15 min", "40 to 70 s"; one value where both ends round to the same. */
export function spokenRange(low: number, high: number): string {
  const inMinutes = high >= 120;
  const unit = inMinutes ? 60 : 1;
  const [from, to] = [Math.max(1, Math.round(low / unit)), Math.max(1, Math.round(high / unit))];
  const name = inMinutes ? "min" : "s";
  return from === to ? `${to} ${name}` : `${from} to ${to} ${name}`;
}
