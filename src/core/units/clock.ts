/** Seconds as a clock shows them. A time before the clock's zero has a minus. */

const pad = (value: number): string => String(value).padStart(2, "0");

/** How long something takes, or when within it: minutes and seconds, "4:06", "75:04". */
export function clock(seconds: number): string {
  const whole = Math.round(Math.abs(seconds));
  return `${seconds < 0 && whole > 0 ? "-" : ""}${Math.floor(whole / 60)}:${pad(whole % 60)}`;
}

/** A moment of a session: hours, minutes and seconds, "0:12:40". */
export function sessionClock(seconds: number): string {
  const whole = Math.round(Math.abs(seconds));
  return `${seconds < 0 && whole > 0 ? "-" : ""}${Math.floor(whole / 3600)}:${pad(Math.floor(whole / 60) % 60)}:${pad(whole % 60)}`;
}
