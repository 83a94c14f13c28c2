/** What the shelf is worked out from: kept in this browser as typed. */
import { useCallback, useState } from "react";
import { SHELF_DEFAULTS, type ShelfSettings } from "../../../core/service/shelf/index.ts";

export interface ShelfSheet {
  readonly forecast: string;
  readonly onHand: string;
  /** Percent. */
  readonly service: string;
  readonly review: string;
  readonly lead: string;
  readonly cells: string;
  readonly lastBuy: string;
  /** Percent. */
  readonly lost: string;
}

export const EMPTY_SHEET: ShelfSheet = {
  forecast: "",
  onHand: "",
  service: "95",
  review: "",
  lead: "",
  cells: "",
  lastBuy: "",
  lost: "",
};

const PLACE = "unseam:shelf";

/** What another version of the app has left is taken as far as it fits. */
export function sheetFrom(text: string | null): ShelfSheet {
  try {
    const found = JSON.parse(text ?? "{}") as Readonly<Record<string, unknown>> | null;
    const taken = Object.entries(EMPTY_SHEET).map(([key, value]) => [
      key,
      typeof found?.[key] === "string" ? found[key] : value,
    ]);
    return Object.fromEntries(taken) as unknown as ShelfSheet;
  } catch {
    return EMPTY_SHEET;
  }
}

export function useShelfSheet(): readonly [ShelfSheet, (change: Partial<ShelfSheet>) => void] {
  const [sheet, setSheet] = useState(() => sheetFrom(localStorage.getItem(PLACE)));
  const change = useCallback(
    (part: Partial<ShelfSheet>) =>
      setSheet((before) => {
        const next = { ...before, ...part };
        localStorage.setItem(PLACE, JSON.stringify(next));
        return next;
      }),
    [],
  );
  return [sheet, change];
}

/** As the core takes it. What is no number goes on as it was typed, and the core refuses it by name. */
export function shelfSettings(sheet: ShelfSheet): ShelfSettings {
  const number = <T>(text: string, empty: T, scale = 1): number | T => {
    if (text.trim() === "") return empty;
    const value = Number(text.trim().replace(",", ".")) / scale;
    return Number.isFinite(value) ? Number(value.toPrecision(12)) : (text as unknown as number);
  };
  return {
    ...SHELF_DEFAULTS,
    service: number(sheet.service, 0.95, 100),
    review: number(sheet.review, SHELF_DEFAULTS.review),
    lead: number(sheet.lead, SHELF_DEFAULTS.lead),
    cells: number(sheet.cells, SHELF_DEFAULTS.cells),
    lastBuy: number(sheet.lastBuy, SHELF_DEFAULTS.lastBuy),
    lost: number(sheet.lost, SHELF_DEFAULTS.lost, 100),
  };
}
