/**
 * From pieces of text as a serial port gives them to readings that may be kept.
 *
 * A value counts as at rest when the line says so, or, where the instrument does not tell, when it has been the same in
 * `SAME` lines in a row. It is given once; the next one only after it has moved (the pan was emptied, the jaws were
 * opened), so that a scale that repeats itself ten times a second gives one reading. Unstable values are never given.
 */
import type { UnitName } from "../../record/schema.ts";
import { LONGEST_LINE, type SerialLine, serialLine } from "./serial-line.ts";

export type SerialEvent =
  | {
      readonly kind: "reading";
      readonly value: number;
      readonly places: number;
      readonly unit: UnitName | null;
      /** A tare or an empty instrument: to be kept as a zero. */
      readonly zero: boolean;
    }
  | { readonly kind: "moving"; readonly value: number; readonly unit: UnitName | null }
  | { readonly kind: "refused"; readonly found: string; readonly expected: string };

/** Lines in a row that stand for rest where the instrument does not tell; setting of our own. */
export const SAME = 3;

export interface SerialReader {
  /** What the pieces, so far cut anywhere, come to. */
  readonly hear: (piece: string) => readonly SerialEvent[];
}

export function serialReader(): SerialReader {
  let rest = "";
  /** The line was given up as endless; everything up to its end is left out. */
  let deaf = false;
  let last: { text: string; times: number } = { text: "", times: 0 };
  let given: string | null = null;

  const judge = (line: SerialLine): SerialEvent | undefined => {
    if (line.kind === "fault") return { kind: "refused", found: line.found, expected: line.expected };
    if (line.kind !== "value") {
      given = null;
      const found = line.kind === "overload" ? "an overload" : "a load below the range";
      return { kind: "refused", found, expected: "a load within the instrument's range" };
    }
    const text = `${line.value.toFixed(line.places)} ${line.unit ?? ""} ${line.what ?? ""}`;
    last = last.text === text ? { text, times: last.times + 1 } : { text, times: 1 };
    const rests = line.stable ?? last.times >= SAME;
    if (!rests) {
      if (text !== given) given = null;
      return { kind: "moving", value: line.value, unit: line.unit };
    }
    if (given === text) return undefined;
    given = text;
    const zero = line.what === "tare" || line.value === 0;
    return { kind: "reading", value: line.value, places: line.places, unit: line.unit, zero };
  };

  const hear = (piece: string): SerialEvent[] => {
    const events: SerialEvent[] = [];
    const lines = (rest + piece).split(/\r\n|\r|\n/);
    rest = lines.pop()!;
    for (const line of lines) {
      if (deaf) {
        deaf = false;
        continue;
      }
      if (line.trim() === "") continue;
      const event = judge(serialLine(line));
      if (event !== undefined) events.push(event);
    }
    if (rest.length > LONGEST_LINE) {
      if (!deaf) {
        events.push({
          kind: "refused",
          found: `a line that has not ended after ${LONGEST_LINE} signs`,
          expected: "lines that end: check the speed and the format that the instrument is set to",
        });
      }
      rest = "";
      deaf = true;
    }
    return events;
  };
  return { hear };
}
