/**
 * What holds for the shop and not for a record: rates, shares, whose times, how practised the hands are. Kept in this
 * browser, as typed; the core judges it and says what it expected.
 */
import { useSyncExternalStore } from "react";
import type { SwapSettings } from "../../core/service/swap/index.ts";

/** As typed; an empty text leaves the setting at its default. */
export interface Shop {
  readonly times: "own" | "A" | "B";
  readonly hands: "first" | "practised";
  readonly labour: string;
  readonly currency: string;
  /** Percent. */
  readonly overhead: string;
  readonly warranty: string;
  readonly margin: string;
  readonly tax: string;
  readonly jobsAMonth: string;
  readonly repeat: string;
  /** Percent: what a doubling of repeats leaves of the time. */
  readonly learningRate: string;
  readonly learningModel: "unit" | "cumulative";
  /** Percent. */
  readonly success: string;
  readonly successJobs: string;
  readonly lifeNew: string;
  readonly lifeRepaired: string;
  readonly interest: string;
}

export const NEW_SHOP: Shop = {
  times: "own",
  hands: "first",
  labour: "",
  currency: "",
  overhead: "",
  warranty: "",
  margin: "",
  tax: "",
  jobsAMonth: "",
  repeat: "",
  learningRate: "",
  learningModel: "unit",
  success: "",
  successJobs: "",
  lifeNew: "",
  lifeRepaired: "",
  interest: "",
};

const PLACE = "unseam:shop";
const CHANGED = "unseam:shop-changed";
let read: { readonly text: string | null; readonly shop: Shop } = { text: null, shop: NEW_SHOP };

function current(): Shop {
  const text = localStorage.getItem(PLACE);
  if (text !== read.text) read = { text, shop: shopFrom(text) };
  return read.shop;
}

/** What another version of the app has left is taken as far as it fits. */
export function shopFrom(text: string | null): Shop {
  let found: unknown;
  try {
    found = JSON.parse(text ?? "{}");
  } catch {
    return NEW_SHOP;
  }
  if (found === null || typeof found !== "object") return NEW_SHOP;
  const known = found as Readonly<Record<string, unknown>>;
  const taken = Object.fromEntries(
    Object.entries(NEW_SHOP).map(([key, value]) => [key, typeof known[key] === "string" ? known[key] : value]),
  );
  return taken as unknown as Shop;
}

function subscribe(listener: () => void): () => void {
  window.addEventListener("storage", listener);
  window.addEventListener(CHANGED, listener);
  return () => {
    window.removeEventListener("storage", listener);
    window.removeEventListener(CHANGED, listener);
  };
}

export function useShop(): readonly [Shop, (change: Partial<Shop>) => void] {
  const shop = useSyncExternalStore(subscribe, current);
  return [
    shop,
    (change) => {
      localStorage.setItem(PLACE, JSON.stringify({ ...current(), ...change }));
      window.dispatchEvent(new Event(CHANGED));
    },
  ];
}

/** As the core takes it. What is no number goes on as it was typed, and the core refuses it by name. */
export function settingsFrom(shop: Shop): Partial<SwapSettings> {
  const number = (text: string, scale = 1): number | undefined => {
    if (text.trim() === "") return undefined;
    const value = Number(text.trim().replace(",", ".")) / scale;
    return Number.isFinite(value) ? Number(value.toPrecision(12)) : (text as unknown as number);
  };
  const text = (value: string): string | undefined => (value.trim() === "" ? undefined : value.trim());
  const learningRate = number(shop.learningRate, 100);
  const all: { [K in keyof SwapSettings]?: SwapSettings[K] | undefined } = {
    times: shop.times,
    hands: shop.hands,
    labour: text(shop.labour)?.replace(",", "."),
    currency: text(shop.currency)?.toUpperCase(),
    overhead: number(shop.overhead, 100),
    warranty: number(shop.warranty, 100),
    margin: number(shop.margin, 100),
    tax: number(shop.tax, 100),
    jobsAMonth: number(shop.jobsAMonth),
    repeat: learningRate === undefined ? undefined : number(shop.repeat),
    learningRate,
    learningModel: shop.learningModel,
    success: number(shop.success, 100),
    successJobs: number(shop.successJobs),
    lifeNew: number(shop.lifeNew),
    lifeRepaired: number(shop.lifeRepaired),
    interest: number(shop.interest, 100),
  };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
}
