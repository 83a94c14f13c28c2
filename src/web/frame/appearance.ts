/** Light, dark or as the system: kept in this browser. */
import { useState } from "react";

export const APPEARANCES = ["system", "light", "dark"] as const;
export type Appearance = (typeof APPEARANCES)[number];
const KEY = "unseam.appearance";

export function keptAppearance(): Appearance {
  try {
    const kept = localStorage.getItem(KEY);
    return APPEARANCES.find((one) => one === kept) ?? "system";
  } catch {
    return "system";
  }
}

export function applyAppearance(appearance: Appearance): void {
  if (appearance === "system") delete document.documentElement.dataset.appearance;
  else document.documentElement.dataset.appearance = appearance;
}

export function useAppearance(): readonly [Appearance, (next: Appearance) => void] {
  const [appearance, set] = useState(keptAppearance);
  const change = (next: Appearance) => {
    set(next);
    applyAppearance(next);
    try {
      localStorage.setItem(KEY, next);
    } catch {
      // Storage can be switched off: the choice then lasts as long as the page.
    }
  };
  return [appearance, change];
}
