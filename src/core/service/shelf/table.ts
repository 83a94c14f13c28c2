/**
 * Tables as comma-separated values (RFC 4180): quoted cells, a doubled quote for one, either line ending; a byte order mark is
 * passed over. The separator is what the heading uses most of comma, semicolon and tab. Lines that begin with # are remarks.
 */
import { InputError } from "../../errors.ts";

export interface Table {
  readonly heads: readonly string[];
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[];
}

const MOST_ROWS = 100_000;

/** @throws InputError for a quote that is not closed, or a row with more cells than there are heads */
export function readTable(text: string): Table {
  const clean = text.replace(/^\uFEFF/, "");
  const heading = clean.split(/\r\n|\n|\r/).find((line) => line.trim() !== "" && !line.trim().startsWith("#")) ?? "";
  const separator = [",", ";", "\t"].reduce((best, one) =>
    heading.split(one).length > heading.split(best).length ? one : best,
  );
  const all = records(clean, separator);
  const [first, ...rest] = all;
  if (!first)
    throw new InputError({ path: "", found: "an empty table", expected: "a line of headings and a line for each row" });
  const heads = first.cells.map((cell) => cell.trim());
  if (rest.length > MOST_ROWS)
    throw new InputError({ path: "", found: `${rest.length} rows`, expected: `at most ${MOST_ROWS}` });
  for (const { line, cells } of rest)
    if (cells.length > heads.length)
      throw new InputError({
        path: `line ${line}`,
        found: `${cells.length} cells`,
        expected: `at most ${heads.length}, as in the heading`,
      });
  return { heads, rows: rest.map(({ line, cells }) => ({ line, cells: cells.map((cell) => cell.trim()) })) };
}

function records(text: string, separator: string): { line: number; cells: string[] }[] {
  const out: { line: number; cells: string[] }[] = [];
  let cells: string[] = [];
  let cell = "";
  let quoted = false;
  let line = 1;
  let started = 1;
  const end = (): void => {
    cells.push(cell);
    cell = "";
    if (cells.some((one) => one.trim() !== "") && !cells[0]!.trim().startsWith("#")) out.push({ line: started, cells });
    cells = [];
  };
  for (let i = 0; i < text.length; i += 1) {
    const sign = text[i]!;
    if (quoted) {
      if (sign === '"' && text[i + 1] === '"') {
        cell += '"';
        i += 1;
      } else if (sign === '"') quoted = false;
      else {
        if (sign === "\n") line += 1;
        cell += sign;
      }
    } else if (sign === '"' && cell.trim() === "") {
      quoted = true;
      cell = "";
    } else if (sign === separator) {
      cells.push(cell);
      cell = "";
    } else if (sign === "\n" || sign === "\r") {
      if (sign === "\r" && text[i + 1] === "\n") i += 1;
      end();
      line += 1;
      started = line;
    } else cell += sign;
  }
  if (quoted)
    throw new InputError({ path: `line ${started}`, found: "a quote that is not closed", expected: 'a closing "' });
  end();
  return out;
}

/** A cell as it may stand in a table: quoted where it has to be; what a spreadsheet would run as a formula is kept text. */
export function cellText(value: string | number | null | undefined): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "number") return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",;\n\r]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

export function writeTable(
  heads: readonly string[],
  rows: readonly (readonly (string | number | null | undefined)[])[],
): string {
  return [heads, ...rows].map((row) => `${row.map(cellText).join(",")}\r\n`).join("");
}
