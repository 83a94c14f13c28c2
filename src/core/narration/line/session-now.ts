/**
 * Which session a line belongs to, and the second on its clock. A session that was left for half a day is not gone on with
 * unasked: a new one begins, and says so. A clock that stands before the session's start is kept as it is, with a word.
 */
import type { Edit } from "../../record/edits.ts";
import type { Session, TeardownRecord } from "../../record/schema.ts";

/** A pause longer than this, s, ends a session: common practice (a working day), no source. */
const PAUSE = 12 * 3600;

export interface SessionNow {
  readonly session: string;
  readonly at: number;
  /** Begins the session where there is none to go on with. */
  readonly edits: readonly Edit[];
  readonly notes: readonly string[];
}

/**
 * @param now milliseconds of the epoch
 * @param wanted session that was chosen by hand; it is gone on with whatever the pause
 */
export function sessionNow(record: TeardownRecord, now: number, wanted: string | null = null): SessionNow {
  const sessions = record.sessions ?? [];
  const chosen = sessions.find((one) => one.id === wanted);
  const last = chosen ?? sessions.at(-1);
  const started = last === undefined ? Number.NaN : Date.parse(last.started);
  if (last !== undefined && Number.isFinite(started)) {
    const at = (now - started) / 1000;
    const latest = Math.max(
      0,
      ...record.log.flatMap((one) => (one.session === last.id && one.at !== undefined ? [one.at] : [])),
    );
    const notes =
      at < 0 ? ["the clock stands before the start of the session"] : at < latest - 1 ? ["the clock went back"] : [];
    if (chosen !== undefined || (at - latest <= PAUSE && at >= -PAUSE))
      return { session: last.id, at, edits: [], notes };
  }
  const taken = new Set(sessions.map((one) => one.id));
  let nth = sessions.length + 1;
  while (taken.has(`s${nth}`)) nth += 1;
  const item: Session = {
    id: `s${nth}`,
    started: new Date(now).toISOString(),
    kind: record.log.length === 0 ? "first-look" : "inspection",
  };
  return {
    session: item.id,
    at: 0,
    edits: [{ kind: "put", list: "sessions", item: { ...item } }],
    notes: [`begins session ${item.id}`],
  };
}
