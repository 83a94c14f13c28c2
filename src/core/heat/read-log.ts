/** A thermocouple log: CSV of time in s and temperature in degC. */
import { InputFaults } from "../errors.ts";
import { FaultList, quote } from "./fault-list.ts";

export interface Log {
  /** s */
  readonly time: readonly number[];
  readonly degC: readonly number[];
}

const MOST_ROWS = 100_000;

/**
 * Reads two columns separated by comma, semicolon, tab or spaces, with or without a line of headings; lines that begin
 * with # and empty lines are passed over; a decimal comma is understood where the comma does not separate.
 *
 * @throws InputFaults naming each line that is no pair of numbers
 */
export function readLog(text: string): Log {
  const list = new FaultList();
  const time: number[] = [];
  const degC: number[] = [];
  let headed = false;
  for (const [i, raw] of text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\n|\r/)
    .entries()) {
    const line = raw.trim();
    if (line === "" || line.startsWith("#")) continue;
    const cells = split(line);
    const t = number(cells[0]);
    const c = number(cells[1]);
    if (time.length === 0 && !headed && Number.isNaN(t) && Number.isNaN(c)) {
      headed = true;
      continue;
    }
    if (cells.length < 2) list.add(`line ${i + 1}`, quote(line), "two columns: seconds and degC");
    else if (Number.isNaN(t) || t < 0)
      list.add(`line ${i + 1}`, quote(cells[0]), "seconds from the beginning, zero or more");
    else if (Number.isNaN(c) || c < -100 || c > 1000)
      list.add(`line ${i + 1}`, quote(cells[1]), "a temperature in degC");
    else {
      time.push(t);
      degC.push(c);
    }
  }
  list.throwIfAny();
  if (time.length < 8 || time.length > MOST_ROWS)
    throw new InputFaults([
      { path: "", found: `a log of ${time.length} rows`, expected: `8 to ${MOST_ROWS} rows of seconds and degC` },
    ]);
  return { time, degC };
}

function split(line: string): string[] {
  for (const separator of [";", "\t"])
    if (line.includes(separator)) return line.split(separator).map((cell) => decimal(cell));
  if (line.includes(",")) return line.split(",").map((cell) => cell.trim());
  return line.split(/\s+/);
}

function decimal(cell: string): string {
  return cell.trim().replace(/^([+-]?\d*),(\d+)$/, "$1.$2");
}

function number(cell: string | undefined): number {
  const text = (cell ?? "").replace(/^"(.*)"$/, "$1").trim();
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(text) ? Number(text) : Number.NaN;
}
