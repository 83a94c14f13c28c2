/**
 * Reads a clock: `m:ss`, `h:mm:ss`, each with or without a decimal fraction after a dot or a comma.
 * Returns seconds, or null where minutes or seconds run past 59 or the text is no clock.
 */
export function clockSeconds(text: string): number | null {
  const match = /^(?:(\d{1,4}):)?(\d{1,4}):(\d{2})(?:[.,](\d{1,9}))?$/.exec(text);
  if (match === null) return null;
  const hours = match[1] === undefined ? 0 : Number(match[1]);
  const minutes = Number(match[2]);
  const seconds = Number(match[3]);
  if (seconds > 59 || (match[1] !== undefined && minutes > 59)) return null;
  // Built from one decimal literal, so that 72.061 reads back as 72.061 and not as a sum of roundings.
  return Number(`${hours * 3600 + minutes * 60 + seconds}.${match[4] ?? "0"}`);
}

/** Seconds as `h:mm:ss.mmm`, for people. */
export function clockText(seconds: number): string {
  const ms = Math.round(seconds * 1000);
  const part = (value: number, digits: number) => String(value).padStart(digits, "0");
  const hours = Math.floor(ms / 3_600_000);
  const minutes = Math.floor(ms / 60_000) % 60;
  const rest = `${part(minutes, 2)}:${part(Math.floor(ms / 1000) % 60, 2)}.${part(ms % 1000, 3)}`;
  return `${part(hours, 2)}:${rest}`;
}
