/**
 * A forecast: which parts of which devices were asked for, how often, in how many days. Columns `device` (record id, file, name
 * or model), `part` (id, or a role that one part of the device has), `count` and `days`; in place of the last two one column a
 * month, headed 2026-09 and so on, with the count of that month.
 */
import { type Fault, InputError, InputFaults } from "../../errors.ts";
import { nearest, type Part, type TeardownRecord } from "../../record/index.ts";
import { readTable, type Table } from "./table.ts";

export interface ShelfRecord {
  /** File name without its folder. */
  readonly file: string;
  readonly record: TeardownRecord;
}

export interface ForecastRow {
  readonly line: number;
  readonly device: ShelfRecord;
  readonly part: Part;
  readonly count: number;
  readonly days: number;
}

const COLUMNS: Readonly<Record<"device" | "part" | "count" | "days" | "weeks" | "months", readonly string[]>> = {
  device: ["device", "record", "model", "file"],
  part: ["part", "replace"],
  count: ["count", "jobs", "swaps", "events", "demand", "quantity"],
  days: ["days", "day", "period", "exposure"],
  weeks: ["weeks"],
  months: ["months"],
};
/** Mean month of the Gregorian calendar, days. */
const MONTH = 365.2425 / 12;

/** @throws InputFaults naming each line and column at fault */
export function readForecast(text: string, records: readonly ShelfRecord[]): ForecastRow[] {
  const table = readTable(text);
  const at = (name: keyof typeof COLUMNS): number =>
    table.heads.findIndex((head) => COLUMNS[name].includes(head.toLowerCase()));
  const columns = {
    device: at("device"),
    part: at("part"),
    count: at("count"),
    days: at("days"),
    weeks: at("weeks"),
    months: at("months"),
  };
  const monthly = monthsOf(table);
  checkHeads(table, columns, monthly);
  const faults: Fault[] = [];
  const seen = new Map<string, number>();
  const rows = table.rows.flatMap(({ line, cells }): ForecastRow[] => {
    const cell = (index: number): string => (index < 0 ? "" : (cells[index] ?? ""));
    const amount =
      monthly.length > 0
        ? monthlyAmount(line, cells, monthly, table, faults)
        : plainAmount(line, cell, columns, faults);
    const device = findDevice(cell(columns.device), records);
    if (!device) {
      faults.push(
        fault(
          line,
          "device",
          cell(columns.device),
          "a record of the folder: its id, file, name or model",
          namesOf(records),
        ),
      );
      return [];
    }
    const part = findPart(cell(columns.part), device.record);
    if (!part || part.base) {
      faults.push(
        fault(
          line,
          "part",
          cell(columns.part),
          `a part of ${device.record.device.name} that comes off`,
          device.record.parts.filter((one) => !one.base).map(({ id }) => id),
        ),
      );
      return [];
    }
    const before = seen.get(`${device.record.id} ${part.id}`);
    if (before !== undefined) {
      faults.push({
        path: `line ${line}`,
        found: `${part.id} again, as in line ${before}`,
        expected: "one line for each part of a device",
      });
      return [];
    }
    seen.set(`${device.record.id} ${part.id}`, line);
    return amount === undefined ? [] : [{ line, device, part, ...amount }];
  });
  if (faults.length > 0) throw new InputFaults(faults);
  if (rows.length === 0)
    throw new InputError({
      path: "",
      found: "a forecast without rows",
      expected: "a line for each part that was asked for",
    });
  return rows;
}

const namesOf = (records: readonly ShelfRecord[]): string[] =>
  records.flatMap(({ file, record }) => [file, record.device.name]);

function fault(line: number, column: string, found: string, expected: string, known: readonly string[]): Fault {
  const near = nearest(found, known);
  return {
    path: `line ${line}, ${column}`,
    found: JSON.stringify(found),
    expected,
    ...(near === undefined ? {} : { nearest: near }),
  };
}

const monthsOf = (table: Table): number[] =>
  table.heads.flatMap((head, index) => (/^\d{4}-(0[1-9]|1[0-2])$/.test(head) ? [index] : []));

function checkHeads(table: Table, columns: Readonly<Record<string, number>>, monthly: readonly number[]): void {
  const faults: Fault[] = [];
  for (const name of ["device", "part"])
    if (columns[name]! < 0)
      faults.push({ path: "heading", found: table.heads.join(", "), expected: `a column ${name}` });
  const periods = ["days", "weeks", "months"].filter((name) => columns[name]! >= 0);
  if (monthly.length === 0) {
    if (columns.count! < 0)
      faults.push({
        path: "heading",
        found: table.heads.join(", "),
        expected: "a column count, or one column a month headed as 2026-09",
      });
    if (periods.length !== 1)
      faults.push({
        path: "heading",
        found: table.heads.join(", "),
        expected: "one column days (or weeks, or months): in how long the jobs were counted",
      });
  } else if (columns.count! >= 0 || periods.length > 0)
    faults.push({ path: "heading", found: "columns for months beside count or days", expected: "one of the two" });
  table.heads.forEach((head, index) => {
    if (monthly.includes(index) || Object.values(columns).includes(index) || /^(note|notes|remark)$/i.test(head))
      return;
    const near = nearest(head.toLowerCase(), ["device", "part", "count", "days", "weeks", "months", "note"]);
    faults.push({
      path: "heading",
      found: JSON.stringify(head),
      expected: "device, part, count, days, or months such as 2026-09",
      ...(near === undefined ? {} : { nearest: near }),
    });
  });
  if (faults.length > 0) throw new InputFaults(faults);
}

function plainAmount(
  line: number,
  cell: (index: number) => string,
  columns: Readonly<Record<string, number>>,
  faults: Fault[],
): { count: number; days: number } | undefined {
  const count = wholeOf(cell(columns.count!));
  if (count === undefined)
    faults.push({
      path: `line ${line}, count`,
      found: JSON.stringify(cell(columns.count!)),
      expected: "a whole number of jobs, 0 or more",
    });
  const [name, factor] = columns.days! >= 0 ? ["days", 1] : columns.weeks! >= 0 ? ["weeks", 7] : ["months", MONTH];
  const text = cell(columns[name]!);
  const time = /^\d+(\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  if (!(time > 0 && time <= 100_000)) {
    faults.push({ path: `line ${line}, ${name}`, found: JSON.stringify(text), expected: `${name} above 0` });
    return undefined;
  }
  return count === undefined ? undefined : { count, days: time * (factor as number) };
}

function monthlyAmount(
  line: number,
  cells: readonly string[],
  monthly: readonly number[],
  table: Table,
  faults: Fault[],
) {
  let count = 0;
  let months = 0;
  for (const index of monthly) {
    const text = cells[index] ?? "";
    // An empty cell is a month that was not counted, not one without a job.
    if (text === "") continue;
    const value = wholeOf(text);
    if (value === undefined)
      faults.push({
        path: `line ${line}, ${table.heads[index]}`,
        found: JSON.stringify(text),
        expected: "a whole number of jobs, 0 or more",
      });
    else {
      count += value;
      months += 1;
    }
  }
  if (months === 0) {
    faults.push({ path: `line ${line}`, found: "no month with a count", expected: "at least one" });
    return undefined;
  }
  return { count, days: months * MONTH };
}

const wholeOf = (text: string): number | undefined => (/^\d{1,9}$/.test(text) ? Number(text) : undefined);

function findDevice(text: string, records: readonly ShelfRecord[]): ShelfRecord | undefined {
  const wanted = text.toLowerCase();
  return records.find(({ file, record }) =>
    [record.id, file, file.replace(/\.(json|ya?ml)$/i, ""), record.device.name, record.device.model].some(
      (name) => name?.toLowerCase() === wanted,
    ),
  );
}

function findPart(text: string, record: TeardownRecord): Part | undefined {
  const own = record.parts.find(({ id }) => id === text);
  if (own) return own;
  const byRole = record.parts.filter(({ role, name }) => role === text || name.toLowerCase() === text.toLowerCase());
  return byRole.length === 1 ? byRole[0] : undefined;
}
