/** What this browser remembers of the line, record by record: the session gone on with, the instrument in hand; and the bound key. */
import { useSyncExternalStore } from "react";

export interface LineSettings {
  readonly session: string | null;
  readonly instrument: string | null;
  /** `KeyboardEvent.code` of the foot switch or any other key; null: none is bound. */
  readonly key: string | null;
}

const NONE: LineSettings = { session: null, instrument: null, key: null };
const listeners = new Set<() => void>();
const known = new Map<string, LineSettings>();
const KEY = "unseam:line-key";
const nameOf = (record: string) => `unseam:line:${record}`;

function read(name: string): string | null {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}

function write(name: string, value: string): void {
  try {
    localStorage.setItem(name, value);
  } catch {
    // A browser that keeps nothing: the setting lasts as long as the page.
  }
}

function settingsOf(record: string): LineSettings {
  const before = known.get(record);
  if (before !== undefined) return before;
  let kept: Partial<LineSettings> = {};
  try {
    kept = JSON.parse(read(nameOf(record)) ?? "{}") as Partial<LineSettings>;
  } catch {
    // Something else wrote there: nothing is set.
  }
  const settings: LineSettings = {
    session: typeof kept.session === "string" ? kept.session : null,
    instrument: typeof kept.instrument === "string" ? kept.instrument : null,
    key: read(KEY) || null,
  };
  known.set(record, settings);
  return settings;
}

export function useLineSettings(record: string): readonly [LineSettings, (change: Partial<LineSettings>) => void] {
  const settings = useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => settingsOf(record),
    () => NONE,
  );
  const change = (some: Partial<LineSettings>) => {
    const next = { ...settingsOf(record), ...some };
    known.clear();
    known.set(record, next);
    write(nameOf(record), JSON.stringify({ session: next.session, instrument: next.instrument }));
    write(KEY, next.key ?? "");
    for (const listener of listeners) listener();
  };
  return [settings, change];
}
