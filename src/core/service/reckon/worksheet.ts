/**
 * Worksheet of service operations: time of a row = tool + repeat * (operation + aside), cost = time * rate / 36 in
 * hundredths of the currency.
 *
 * Form of the disassembly worksheet in Yang and El-Haik, "Design for Six Sigma", McGraw-Hill 2003, Table 10.5; for assembly
 * sheets handling + insertion take the place of operation + aside and efficiency = 3 * necessary / total (Boothroyd and
 * Dewhurst).
 */
import { tidy } from "./tidy.ts";

export interface WorksheetRow {
  readonly task?: string;
  readonly repeat?: number;
  /** Seconds to take up the tool, once for the row. */
  readonly tool?: number;
  /** Seconds, each. */
  readonly operation?: number;
  readonly aside?: number;
  readonly handling?: number;
  readonly insertion?: number;
  /** How many items of the row are necessary (theoretical minimum). */
  readonly necessary?: number;
  /** Seconds as the source prints them, to find its misprints. */
  readonly printed?: number;
}

export interface Worksheet {
  readonly rows: readonly { readonly task: string; readonly seconds: number; readonly cents?: number }[];
  readonly seconds: number;
  /** Hundredths of the currency of the hourly rate. */
  readonly cents?: number;
  readonly necessary: number;
  /** 3 s for each necessary item over the total; null where no item is necessary or the total is 0. */
  readonly efficiency: number | null;
  /** Sum of the printed times, where each row has one. */
  readonly printedSeconds?: number;
  readonly misprints: readonly { readonly task: string; readonly printed: number; readonly seconds: number }[];
}

/** @param rate hourly rate in the currency's main unit */
export function worksheet(rows: readonly WorksheetRow[], rate?: number): Worksheet {
  const timed = rows.map((row, index) => ({
    task: row.task ?? `row ${index + 1}`,
    seconds: tidy(
      (row.tool ?? 0) +
        (row.repeat ?? 1) * ((row.operation ?? 0) + (row.aside ?? 0) + (row.handling ?? 0) + (row.insertion ?? 0)),
    ),
    printed: row.printed,
  }));
  const seconds = tidy(timed.reduce((sum, row) => sum + row.seconds, 0));
  const necessary = rows.reduce((sum, row) => sum + (row.necessary ?? 0), 0);
  const cents = (time: number): { cents?: number } => (rate === undefined ? {} : { cents: tidy((time * rate) / 36) });
  return {
    rows: timed.map((row) => ({ task: row.task, seconds: row.seconds, ...cents(row.seconds) })),
    seconds,
    ...cents(seconds),
    necessary,
    efficiency: necessary > 0 && seconds > 0 ? (3 * necessary) / seconds : null,
    ...(timed.length > 0 && timed.every((row) => row.printed !== undefined)
      ? { printedSeconds: tidy(timed.reduce((sum, row) => sum + (row.printed ?? 0), 0)) }
      : {}),
    misprints: timed.flatMap(({ task, printed, seconds: own }) =>
      // Half a unit of the third digit after the point: sources print to hundredths at best.
      printed === undefined || Math.abs(printed - own) < 0.005 ? [] : [{ task, printed, seconds: own }],
    ),
  };
}
