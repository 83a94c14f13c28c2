/**
 * Reads a TSPLIB file of type SOP (Reinelt, "TSPLIB 95", sections 1 and 2.1: keywords, then EDGE_WEIGHT_SECTION as a full matrix
 * that begins with its own dimension). An entry of -1 in row i, column j means that j must come before i.
 */
import { type Fault, InputFaults } from "../../errors.ts";

export interface SopFile {
  readonly name: string;
  readonly n: number;
  /** n x n, row by row; -1 where the column's node must come before the row's. */
  readonly matrix: Int32Array;
}

/** Does the text declare itself as a sequential ordering problem? */
export function isSopText(text: string): boolean {
  return /^\s*TYPE\s*:\s*SOP\s*$/im.test(text.slice(0, 100_000));
}

const MOST_NODES = 2000;

/** @throws InputFaults that name the line */
export function readSop(text: string): SopFile {
  const lines = text.split(/\r\n|\r|\n/);
  const head = new Map<string, { value: string; line: number }>();
  let section = -1;
  for (let i = 0; i < lines.length; i += 1) {
    const line = lines[i].trim();
    if (line === "") continue;
    if (/^EDGE_WEIGHT_SECTION\s*:?$/i.test(line)) {
      section = i;
      break;
    }
    const keyword = /^([A-Z_]+)\s*:\s*(.*)$/i.exec(line);
    if (!keyword) refuse(`line ${i + 1}`, short(line), "a line KEYWORD : VALUE, or EDGE_WEIGHT_SECTION");
    else head.set(keyword[1].toUpperCase(), { value: keyword[2].trim(), line: i + 1 });
  }
  expect(head, "TYPE", "SOP");
  if (head.has("EDGE_WEIGHT_TYPE")) expect(head, "EDGE_WEIGHT_TYPE", "EXPLICIT");
  if (head.has("EDGE_WEIGHT_FORMAT")) expect(head, "EDGE_WEIGHT_FORMAT", "FULL_MATRIX");
  if (section < 0) refuse("EDGE_WEIGHT_SECTION", "nothing", "a section with the matrix of costs");
  const declared = head.get("DIMENSION");
  const { n, matrix } = readMatrix(lines, section + 1);
  if (declared && Number(declared.value) !== n) {
    // Public files count the nodes in DIMENSION with or without the two ends; anything else is a slip.
    if (Number(declared.value) + 2 !== n)
      refuse(`line ${declared.line}`, `DIMENSION ${short(declared.value)}`, `${n}, the first number of the matrix`);
  }
  return { name: head.get("NAME")?.value ?? "", n, matrix };
}

function readMatrix(lines: readonly string[], from: number): { n: number; matrix: Int32Array } {
  let n = -1;
  let at = 0;
  let matrix = new Int32Array(0);
  for (let i = from; i < lines.length; i += 1) {
    const line = lines[i].trim();
    if (line === "") continue;
    if (/^EOF$/i.test(line)) break;
    for (const word of line.split(/\s+/)) {
      const value = /^-?\d{1,10}$/.test(word) ? Number(word) : Number.NaN;
      if (n < 0) {
        if (!(value >= 2 && value <= MOST_NODES))
          refuse(`line ${i + 1}`, short(word), `the number of nodes, 2 to ${MOST_NODES}`);
        n = value;
        matrix = new Int32Array(n * n);
        continue;
      }
      if (!(value >= -1 && value <= 1_000_000_000))
        refuse(`line ${i + 1}`, short(word), "a whole number of at least -1");
      if (at >= n * n) refuse(`line ${i + 1}`, short(word), `EOF: the ${n} x ${n} numbers of the matrix are complete`);
      matrix[at] = value;
      at += 1;
    }
  }
  if (n < 0) refuse("EDGE_WEIGHT_SECTION", "no numbers", "the number of nodes and the matrix of costs");
  if (at < n * n)
    refuse("EDGE_WEIGHT_SECTION", `${at} numbers`, `${n} x ${n} = ${n * n}: the file may have been cut off`);
  return { n, matrix };
}

function expect(head: ReadonlyMap<string, { value: string; line: number }>, key: string, wanted: string): void {
  const found = head.get(key);
  if (found?.value.toUpperCase() === wanted) return;
  refuse(found ? `line ${found.line}` : key, found ? `${key} ${short(found.value)}` : "nothing", wanted);
}

function short(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 37)}...` : text);
}

function refuse(path: string, found: string, expected: string): never {
  const fault: Fault = { path, found, expected };
  throw new InputFaults([fault]);
}
