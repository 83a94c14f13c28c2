/** What the pages Swaps and Shelf ask of the worker. Records of the workspace are fetched here, by what it says of them. */
import type { TeardownRecord } from "../../core/record/index.ts";
import { countingClock } from "../../core/route/counting-clock.ts";
import type { Control } from "../../core/route/problem.ts";
import type { Unreachable } from "../../core/route/ways/types.ts";
import {
  readForecast,
  readOnHand,
  type Shelf,
  type ShelfRecord,
  type ShelfSettings,
  shelfOf,
} from "../../core/service/shelf/index.ts";
import { type Swap, type SwapQuestion, swapOf } from "../../core/service/swap/index.ts";
import { warmOf } from "../../paper/warm-words.ts";
import { LANGUAGES, sayer } from "../../paper/words/index.ts";
import { type WorkSheet, workSheet } from "../../paper/work-rows.ts";
import type { KeptRecord } from "../../server/api.ts";
import { ask } from "../data/client.ts";

export interface ShopTasks {
  /** A job in and back, and its ledger as a sheet has it; the warm window is computed apart, because it takes longest. */
  readonly swap: {
    readonly asks: { readonly question: SwapQuestion; readonly seconds: number };
    readonly gets: { readonly swap: Swap; readonly sheet: WorkSheet } | Unreachable;
  };
  /** The same ledger with what the warm window says about its heatings. */
  readonly warmSheet: {
    readonly asks: { readonly swap: Swap };
    readonly gets: WorkSheet;
  };
  /** Over all records of the workspace; the one that is open is taken as it is on the bench. */
  readonly shelf: {
    readonly asks: {
      readonly heads: readonly { readonly id: string; readonly revision: number }[];
      readonly forecast: string;
      readonly onHand: string;
      readonly settings: ShelfSettings;
    };
    readonly gets: Shelf;
  };
}

const english = sayer(LANGUAGES.en!);

export function swapTask(
  record: TeardownRecord,
  { question }: ShopTasks["swap"]["asks"],
  control: Control,
): ShopTasks["swap"]["gets"] {
  const swap = swapOf(record, question, control);
  if ("unreachable" in swap) return swap;
  return { swap, sheet: workSheet({ record, swap, say: english, warm: new Map() }) };
}

export const warmSheetTask = (record: TeardownRecord, { swap }: ShopTasks["warmSheet"]["asks"]): WorkSheet =>
  workSheet({ record, swap, say: english, warm: warmOf(record, swap) });

export async function shelfTask(
  record: TeardownRecord,
  { heads, forecast, onHand, settings }: ShopTasks["shelf"]["asks"],
  progress: (done: number, of: number) => void,
): Promise<Shelf> {
  const records: ShelfRecord[] = [];
  for (const { id, revision } of heads) {
    const address = `/api/records/${encodeURIComponent(id)}?revision=${revision}`;
    records.push({ file: id, record: id === record.id ? record : (await ask<KeptRecord>(address)).record });
  }
  const rows = readForecast(forecast, records);
  return shelfOf(records, rows, settings, { now: countingClock() }, readOnHand(onHand), progress);
}
