/**
 * The shelf: records and a forecast -> what to keep of every part, cell, consumable and screw for a service level over its lead
 * time, what to order, and which tools open how many of the swaps asked for.
 *
 * Promised: whole numbers of parts; money exact and never added across currencies; an item without demand is kept at 0 and said
 * so. Parts that share a number are one item, whichever device they go into.
 */
import { InputError } from "../../errors.ts";
import type { Joint, Money, Part } from "../../record/index.ts";
import type { Control } from "../../route/problem.ts";
import { convert, valueIn } from "../../units/index.ts";
import { microsOf, moneyFrom, times } from "../money.ts";
import { gammaPoisson } from "../reckon/counts.ts";
import { type Swap, swapOf } from "../swap/index.ts";
import { type DemandSource, type ItemDemand, itemDemand, rateOf } from "./demand.ts";
import type { ForecastRow, ShelfRecord } from "./forecast.ts";
import { type ToolRow, toolsToOwn } from "./tools.ts";

export { type ForecastRow, readForecast, type ShelfRecord } from "./forecast.ts";
export { readOnHand } from "./on-hand.ts";
export type { ToolRow } from "./tools.ts";

export interface ShelfSettings {
  readonly service: number;
  /** Days between two orders, beside the lead time. */
  readonly review: number;
  /** Days, where a part or consumable states none. */
  readonly lead: number;
  /** Most cells on the shelf; null: no cap. */
  readonly cells: number | null;
  /** Days that a last buy has to cover; null: none asked. */
  readonly lastBuy: number | null;
  /** Share of handled screws that get lost. */
  readonly lost: number;
  readonly seed: number;
}

/** Own settings, no source, save that the service level is the caller's. */
export const SHELF_DEFAULTS: Omit<ShelfSettings, "service"> = {
  review: 0,
  lead: 10,
  cells: null,
  lastBuy: null,
  lost: 0.005,
  seed: 1,
};

export interface ShelfItem {
  readonly kind: "part" | "cell" | "consumable" | "screw";
  readonly id: string;
  readonly name: string;
  readonly numbers: readonly string[];
  /** Where it goes. */
  readonly for: readonly { readonly device: string; readonly id: string }[];
  readonly leadDays: number;
  readonly leadKnown: boolean;
  readonly unit: string;
  readonly demand: { readonly count: number; readonly mean: number; readonly sd: number };
  readonly keep: number;
  /** Share of cycles without a shortage. */
  readonly service: number;
  readonly onHand: number;
  /** In the unit of the item; packs where it comes in packs. */
  readonly order: number;
  readonly packs?: number;
  /** Of one, or of one pack; null: not known. */
  readonly price: Money | null;
  readonly value: Money | null;
  readonly shelf?: { readonly days: number; readonly used: number; readonly wasted: number };
  readonly wattHours?: number;
  readonly lastBuy?: number;
  readonly words: readonly string[];
}

export interface Shelf {
  readonly service: number;
  readonly devices: readonly { readonly id: string; readonly name: string; readonly file: string }[];
  readonly items: readonly ShelfItem[];
  /** The list to order, what is short first. */
  readonly order: readonly {
    readonly id: string;
    readonly name: string;
    readonly numbers: readonly string[];
    readonly amount: number;
    readonly unit: string;
    readonly price: Money | null;
  }[];
  readonly tools: readonly ToolRow[];
  /** What is kept is worth, by currency. */
  readonly value: readonly Money[];
  readonly assumptions: readonly string[];
  readonly warnings: readonly string[];
}

/** What the caller has already: by item id or by number. */
export type OnHand = ReadonlyMap<string, number>;

interface Draft {
  readonly kind: ShelfItem["kind"];
  readonly id: string;
  readonly name: string;
  readonly numbers: Set<string>;
  readonly for: { device: string; id: string }[];
  readonly sources: DemandSource[];
  readonly leads: number[];
  readonly prices: (Money | null)[];
  readonly unit: string;
  pack?: number;
  shelfDays?: number;
  wattHours?: number;
}

/** @throws InputError for settings out of their limits */
export function shelfOf(
  records: readonly ShelfRecord[],
  rows: readonly ForecastRow[],
  settings: ShelfSettings,
  control: Control,
  onHand: OnHand = new Map(),
  progress: (done: number, of: number) => void = () => {},
): Shelf {
  checkSettings(settings);
  const warnings: string[] = [];
  const swaps: { row: ForecastRow; swap: Swap }[] = [];
  rows.forEach((row, index) => {
    progress(index, rows.length);
    const answer = swapOf(
      row.device.record,
      { replace: [row.part.id], settings: { trials: 100 } },
      { ...control, deadline: control.now() + 3000 },
    );
    if ("unreachable" in answer)
      warnings.push(
        `${row.device.record.device.name}, ${row.part.name}: ${answer.unreachable[0]?.because ?? "cannot be reached"}; only the part itself is kept.`,
      );
    else swaps.push({ row, swap: answer });
  });
  progress(rows.length, rows.length);
  const drafts = draftsOf(rows, swaps, settings);
  const items = capCells(
    [...drafts.values()].map((draft) => itemOf(draft, settings, onHand)),
    drafts,
    settings,
    onHand,
  );
  if (rows.every(({ count }) => count === 0))
    warnings.push("No job at all in the forecast: nothing is kept on the strength of it.");
  if (items.some(({ kind }) => kind === "cell"))
    warnings.push(
      "Cells on a shelf are a fire load: charge about 30 %, cool, apart, no swollen ones; local rules and the insurer come first.",
    );
  return {
    service: settings.service,
    devices: records.map(({ file, record }) => ({ id: record.id, name: record.device.name, file })),
    items,
    order: items
      .filter(({ order }) => order > 0)
      .map(({ id, name, numbers, order, packs, unit, price }) => ({
        id,
        name,
        numbers,
        amount: packs ?? order,
        unit: packs === undefined ? unit : "pack",
        price,
      }))
      .sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)),
    tools: toolsToOwn(
      swaps.map(({ row, swap }) => ({
        device: row.device.record.device.name,
        part: row.part.id,
        count: row.count,
        tools: swap.tools,
      })),
    ),
    value: worthOf(items),
    assumptions: assumptionsOf(settings, items),
    warnings,
  };
}

function checkSettings({ service, review, lead, cells, lastBuy, lost }: ShelfSettings): void {
  const wrong = (path: string, found: unknown, expected: string): never => {
    throw new InputError({ path, found: String(found), expected });
  };
  if (!(service > 0 && service < 1))
    wrong("service", service, "a share between 0 and 1, such as 0.95: all demand is never met for certain");
  if (!(review >= 0 && review <= 3650)) wrong("review", review, "days, 0 or more");
  if (!(lead >= 0 && lead <= 3650)) wrong("lead", lead, "days, 0 or more");
  if (cells !== null && !(Number.isInteger(cells) && cells >= 0))
    wrong("cells", cells, "a whole number of cells, 0 or more");
  if (lastBuy !== null && !(lastBuy > 0 && lastBuy <= 36_500)) wrong("lastBuy", lastBuy, "days above 0");
  if (!(lost >= 0 && lost <= 1)) wrong("lost", lost, "a share from 0 to 1");
}

/** One draft for each item; parts that share a number are one. */
function draftsOf(
  rows: readonly ForecastRow[],
  swaps: readonly { row: ForecastRow; swap: Swap }[],
  settings: ShelfSettings,
): Map<string, Draft> {
  const drafts = new Map<string, Draft>();
  const numbered = new Map<string, string>();
  const partDraft = (row: ForecastRow, part: Part): Draft => {
    const numbers = part.spare?.numbers ?? [];
    const known = numbers.map((number) => numbered.get(number)).find((key) => key !== undefined);
    const key = known ?? numbers[0] ?? `${row.device.record.id}/${part.id}`;
    for (const number of numbers) numbered.set(number, key);
    const draft =
      drafts.get(key) ??
      newDraft(
        part.role === "battery" ? "cell" : "part",
        numbers[0] ?? `${row.device.file}:${part.id}`,
        part.name,
        "1",
      );
    drafts.set(key, draft);
    for (const number of numbers) draft.numbers.add(number);
    addPlace(draft, row, part.id);
    if (part.spare?.leadDays !== undefined) draft.leads.push(part.spare.leadDays);
    draft.prices.push(part.spare?.price ?? null);
    const { cell } = row.device.record.device;
    if (
      part.role === "battery" &&
      cell &&
      row.device.record.parts.filter(({ role }) => role === "battery").length === 1
    )
      draft.wattHours = (valueIn(cell.capacity, "mAh") * valueIn(cell.voltage, "V")) / 1000;
    return draft;
  };
  for (const row of rows)
    partDraft(row, row.part).sources.push({ count: row.count, days: row.days, amount: 1, chance: 1 });
  for (const { row, swap } of swaps) {
    const { record } = row.device;
    const source = { count: row.count, days: row.days };
    for (const need of swap.parts) {
      const part = record.parts.find(({ id }) => id === need.id);
      if (need.because === "destroyed" && part) partDraft(row, part).sources.push({ ...source, amount: 1, chance: 1 });
    }
    for (const { part: id, chance, replaced } of swap.risk.items) {
      const part = record.parts.find((one) => one.id === id);
      if (part && !replaced && chance > 0) partDraft(row, part).sources.push({ ...source, amount: 1, chance });
    }
    for (const need of swap.consumables) {
      const own = record.consumables?.find(({ id }) => id === need.id);
      if (!own) continue;
      const key = own.number ?? `consumable ${own.name.toLowerCase()} ${need.amount.unit}`;
      const draft = drafts.get(key) ?? newDraft("consumable", own.number ?? own.name, own.name, need.amount.unit);
      drafts.set(key, draft);
      if (own.number !== undefined) draft.numbers.add(own.number);
      addPlace(draft, row, own.id);
      draft.sources.push({
        ...source,
        amount: convert(need.amount.value, need.amount.unit, draft.unit as "1"),
        chance: 1,
      });
      draft.prices.push(own.price ?? null);
      if (own.pack) draft.pack = convert(own.pack.value, own.pack.unit, draft.unit as "1");
      if (own.shelfDays !== undefined)
        draft.shelfDays = Math.min(draft.shelfDays ?? Number.POSITIVE_INFINITY, own.shelfDays);
    }
    addScrews(drafts, row, swap, settings);
  }
  return drafts;
}

const newDraft = (kind: Draft["kind"], id: string, name: string, unit: string): Draft => ({
  kind,
  id,
  name,
  unit,
  numbers: new Set(),
  for: [],
  sources: [],
  leads: [],
  prices: [],
});

function addPlace(draft: Draft, row: ForecastRow, id: string): void {
  const device = row.device.record.device.name;
  if (!draft.for.some((one) => one.device === device && one.id === id)) draft.for.push({ device, id });
}

/** Screws by thread, length and drive: new ones where they are spent, and the share that gets lost of all that are handled. */
function addScrews(drafts: Map<string, Draft>, row: ForecastRow, swap: Swap, { lost }: ShelfSettings): void {
  const spent = new Set(swap.parts.filter(({ because }) => because === "spent").map(({ id }) => id));
  const out = new Set(swap.wayIn.operations.flatMap(({ joint }) => (joint === undefined ? [] : [joint])));
  for (const joint of row.device.record.joints) {
    if (joint.kind !== "screw" || !out.has(joint.id)) continue;
    for (const [length, count] of lengthsOf(joint)) {
      const { drive = "drive not recorded", thread = "thread not recorded" } = joint.screws ?? {};
      const name = `${thread}${length === undefined ? "" : ` × ${length} mm`}, ${drive}`;
      const key = `screw ${name.toLowerCase()}`;
      const draft = drafts.get(key) ?? newDraft("screw", name, `Screw ${name}`, "1");
      drafts.set(key, draft);
      addPlace(draft, row, joint.id);
      const chance = spent.has(joint.id) ? 1 : Math.min(1, lost * count);
      if (chance > 0)
        draft.sources.push({ count: row.count, days: row.days, amount: spent.has(joint.id) ? count : 1, chance });
      draft.prices.push(null);
    }
  }
}

function lengthsOf(joint: Joint): Map<number | undefined, number> {
  const count = joint.count ?? 1;
  const lengths = new Map<number | undefined, number>();
  for (let i = 0; i < count; i += 1) {
    const length = joint.screws?.each?.[i]?.length ?? joint.screws?.length;
    lengths.set(length, (lengths.get(length) ?? 0) + 1);
  }
  return lengths;
}

function itemOf(draft: Draft, settings: ShelfSettings, onHand: OnHand): ShelfItem {
  const leadDays = draft.leads.length > 0 ? Math.max(...draft.leads) : settings.lead;
  const horizon = leadDays + settings.review;
  const count = draft.sources.reduce((sum, one) => sum + one.count * one.chance, 0);
  const words: string[] = [];
  const none = draft.sources.every((one) => one.count === 0);
  let demand: ItemDemand = { mean: 0, sd: 0, keep: 0, served: 1 };
  if (none) words.push("No demand in the forecast: none is kept.");
  else demand = itemDemand(draft.sources, horizon, settings.service, settings.seed);
  if (horizon === 0 && !none) words.push("No lead time: what is asked for is there at once, so none is kept.");
  const price = priceOf(draft, words);
  const have = haveOf(draft, onHand);
  return {
    kind: draft.kind,
    id: draft.id,
    name: draft.name,
    numbers: [...draft.numbers],
    for: draft.for,
    leadDays,
    leadKnown: draft.leads.length > 0,
    unit: draft.unit,
    demand: { count, mean: demand.mean, sd: demand.sd },
    onHand: have,
    ...amounts(draft, demand.keep, demand.served, have, price, words),
    price,
    ...(draft.wattHours === undefined ? {} : { wattHours: draft.wattHours }),
    ...(settings.lastBuy === null || none
      ? {}
      : {
          lastBuy: Math.max(
            0,
            itemDemand(draft.sources, settings.lastBuy, settings.service, settings.seed).keep - have,
          ),
        }),
    words,
  };
}

function haveOf(draft: Draft, onHand: OnHand): number {
  const keys = new Set([draft.id, ...draft.numbers, draft.name]);
  return [...keys].reduce((sum, key) => sum + (onHand.get(key) ?? 0), 0);
}

/** What follows from how much is kept: order, packs, value, what of it is used before it expires. */
function amounts(draft: Draft, keep: number, service: number, have: number, price: Money | null, words: string[]) {
  const order = Math.max(0, Number((keep - have).toPrecision(12)));
  const packs = draft.pack === undefined || !(draft.pack > 0) ? undefined : Math.ceil(order / draft.pack - 1e-9);
  const kept = draft.pack === undefined || !(draft.pack > 0) ? keep : Math.ceil(keep / draft.pack - 1e-9);
  const shelf = shelfLife(draft, packs === undefined ? keep : kept * draft.pack!, words);
  return {
    keep,
    service,
    order,
    ...(packs === undefined ? {} : { packs }),
    value: price === null ? null : moneyFrom(times(microsOf(price), kept), price.currency),
    ...(shelf === undefined ? {} : { shelf }),
  };
}

function shelfLife(draft: Draft, kept: number, words: string[]): ShelfItem["shelf"] | undefined {
  if (draft.shelfDays === undefined || kept === 0) return undefined;
  const { shape, rate } = rateOf(draft.sources);
  const jobs = gammaPoisson(shape, rate, draft.shelfDays).mean;
  const mean =
    draft.sources.reduce((sum, { amount, count }) => sum + amount * count, 0) /
    Math.max(
      1,
      draft.sources.reduce((sum, { count }) => sum + count, 0),
    );
  const used = Math.min(kept, jobs * mean);
  const wasted = Math.max(0, 1 - used / kept);
  if (wasted > 0.2)
    words.push(
      `About ${Math.round(wasted * 100)} % of it would pass its shelf life of ${draft.shelfDays} days unused: keep smaller packs, or order by the job.`,
    );
  return { days: draft.shelfDays, used, wasted };
}

/** The dearest of equal parts, so that the stock is not valued too low; nothing where currencies differ. */
function priceOf(draft: Draft, words: string[]): Money | null {
  const known = draft.prices.filter((price) => price !== null);
  if (known.length === 0) return null;
  if (new Set(known.map(({ currency }) => currency)).size > 1) {
    words.push("Its prices stand in several currencies: none is taken.");
    return null;
  }
  return known.reduce((most, one) => (microsOf(one) > microsOf(most) ? one : most));
}

/** Where cells are capped, each next one goes where a shortage is likeliest. */
function capCells(
  items: readonly ShelfItem[],
  drafts: ReadonlyMap<string, Draft>,
  settings: ShelfSettings,
  onHand: OnHand,
): ShelfItem[] {
  const cells = items.filter(({ kind }) => kind === "cell");
  const wanted = cells.reduce((sum, { keep }) => sum + keep, 0);
  if (settings.cells === null || wanted <= settings.cells) return [...items];
  const byId = new Map([...drafts.values()].map((draft) => [draft.id, draft]));
  const counts = new Map(
    cells.map((item) => {
      const { shape, rate } = rateOf(byId.get(item.id)!.sources);
      return [item.id, gammaPoisson(shape, rate, item.leadDays + settings.review)];
    }),
  );
  const kept = new Map(cells.map(({ id }) => [id, 0]));
  for (let n = 0; n < settings.cells; n += 1) {
    const next = cells
      .filter(({ id, keep }) => kept.get(id)! < keep)
      .reduce<{ id: string; short: number } | undefined>((best, { id }) => {
        const short = counts.get(id)!.above(kept.get(id)!);
        return best === undefined || short > best.short ? { id, short } : best;
      }, undefined);
    if (next) kept.set(next.id, kept.get(next.id)! + 1);
  }
  return items.map((item) => {
    if (item.kind !== "cell") return item;
    const keep = kept.get(item.id)!;
    const draft = byId.get(item.id)!;
    const words =
      keep < item.keep
        ? [
            ...item.words,
            `${item.keep} would be kept for the service level; the storage cap of ${settings.cells} cells leaves ${keep}.`,
          ]
        : [...item.words];
    return {
      ...item,
      ...amounts(draft, keep, counts.get(item.id)!.cdf(keep), haveOf(draft, onHand), item.price, words),
      words,
    };
  });
}

function worthOf(items: readonly ShelfItem[]): Money[] {
  const sums = new Map<string, bigint>();
  for (const { value } of items)
    if (value) sums.set(value.currency, (sums.get(value.currency) ?? 0n) + microsOf(value));
  return [...sums].sort(([a], [b]) => (a < b ? -1 : 1)).map(([currency, micros]) => moneyFrom(micros, currency));
}

function assumptionsOf(settings: ShelfSettings, items: readonly ShelfItem[]): string[] {
  return [
    "Demand: a Poisson whose rate is known from the counts alone (gamma, Jeffreys prior), steady over the lead time.",
    ...(items.some(({ leadKnown }) => !leadKnown)
      ? [`Lead time taken as ${settings.lead} days where none is recorded (own setting, no source).`]
      : []),
    ...(settings.lost > 0
      ? [`${settings.lost * 100} % of handled screws taken to get lost (own setting, no source).`]
      : []),
    "Parts that may be damaged on the way are counted with their chance.",
    ...(items.some(({ value }) => value === null) ? ["What has no price is not in the value."] : []),
  ];
}
