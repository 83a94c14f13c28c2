/** The address bar as state: a path of segments and its search words. No more than the app needs. */
import { useSyncExternalStore } from "react";

export interface Place {
  readonly segments: readonly string[];
  readonly search: URLSearchParams;
}

const CHANGED = "unseam:place";

function subscribe(listener: () => void): () => void {
  window.addEventListener("popstate", listener);
  window.addEventListener(CHANGED, listener);
  return () => {
    window.removeEventListener("popstate", listener);
    window.removeEventListener(CHANGED, listener);
  };
}

export function usePlace(): Place {
  const address = useSyncExternalStore(subscribe, () => window.location.pathname + window.location.search);
  return parsePlace(address);
}

export function parsePlace(address: string): Place {
  const url = new URL(address, "http://place.invalid");
  const segments = url.pathname.split("/").filter((one) => one !== "");
  return { segments: segments.map(decoded), search: url.searchParams };
}

function decoded(segment: string): string {
  try {
    return decodeURIComponent(segment);
  } catch {
    return segment;
  }
}

/** Goes to an address of the app; `keep`: without a new entry in the history. */
export function go(address: string, keep = false): void {
  if (address === window.location.pathname + window.location.search) return;
  if (keep) window.history.replaceState(null, "", address);
  else window.history.pushState(null, "", address);
  window.dispatchEvent(new Event(CHANGED));
}

export function addressOf(segments: readonly string[], search?: URLSearchParams): string {
  const words = search?.toString() ?? "";
  return `/${segments.map(encodeURIComponent).join("/")}${words === "" ? "" : `?${words}`}`;
}

/** Sets (or with null removes) search words and leaves the rest of the address alone. */
export function setSearch(changes: Readonly<Record<string, string | null>>): void {
  const url = new URL(window.location.href);
  for (const [name, value] of Object.entries(changes)) {
    if (value === null) url.searchParams.delete(name);
    else url.searchParams.set(name, value);
  }
  go(url.pathname + url.search, true);
}
