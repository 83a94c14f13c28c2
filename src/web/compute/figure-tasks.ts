/** What the page Figures asks of the worker. The other device is fetched here, by what the workspace says of it. */
import { deviceFacts } from "../../core/measure/device-facts.ts";
import {
  compareRecords,
  type DeviceFacts,
  type Figures,
  figuresOf,
  type RecordComparison,
} from "../../core/measure/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { KeptRecord } from "../../server/api.ts";
import { ask, Failed } from "../data/client.ts";

/** A record of the workspace, as it was when it was named. */
export interface Other {
  readonly id: string;
  readonly revision: number;
}

export interface FigureTasks {
  readonly figures: {
    readonly asks: { readonly sibling: Other | null };
    readonly gets: Figures;
  };
  readonly beside: {
    readonly asks: { readonly other: Other; readonly match: Readonly<Record<string, string | null>> };
    readonly gets: { readonly comparison: RecordComparison; readonly other: TeardownRecord };
  };
  /** Ways and index of both devices; takes seconds. */
  readonly facts: {
    readonly asks: { readonly other: Other };
    readonly gets: { readonly a: DeviceFacts; readonly b: DeviceFacts; readonly said: readonly string[] };
  };
}

/** Milliseconds for each plan: two a priority part of either device, and the law's. */
const PLAN_LIMIT = 1000;

const fetchOther = async ({ id, revision }: Other): Promise<TeardownRecord> =>
  (await ask<KeptRecord>(`/api/records/${encodeURIComponent(id)}?revision=${revision}`)).record;

export async function figuresTask(
  record: TeardownRecord,
  { sibling }: FigureTasks["figures"]["asks"],
): Promise<Figures> {
  if (sibling === null) return figuresOf(record);
  const there = await fetchOther(sibling).catch((error: unknown) => {
    // Cut off from the server, the bench goes on: the answer says that the sibling is not at hand.
    if (error instanceof Failed && error.status === 0) return undefined;
    throw error;
  });
  return figuresOf(record, there);
}

export async function besideTask(
  record: TeardownRecord,
  { other, match }: FigureTasks["beside"]["asks"],
): Promise<FigureTasks["beside"]["gets"]> {
  const there = await fetchOther(other);
  return { comparison: compareRecords(record, there, { match }), other: there };
}

export async function factsTask(
  record: TeardownRecord,
  { other }: FigureTasks["facts"]["asks"],
  progress: (done: number, of: number) => void,
): Promise<FigureTasks["facts"]["gets"]> {
  const there = await fetchOther(other);
  const said: string[] = [];
  const shares = [0, 0];
  const [a, b] = [record, there].map((one, i) =>
    deviceFacts(one, {
      now: () => performance.now(),
      limit: PLAN_LIMIT,
      warn: (text) => said.push(text),
      done: (done, of) => {
        shares[i] = done / of;
        progress(Math.round((shares[0]! + shares[1]!) * 50), 100);
      },
    }),
  );
  return { a: a!, b: b!, said };
}
