/** The state of keeping in words, for the line at the bottom and wherever something was just done. */
import type { Kept } from "./keeper.ts";

const changes = (count: number): string => `${count} ${count === 1 ? "change" : "changes"}`;

export function keptWords(kept: Kept): string {
  const aside = kept.refused.length === 0 ? "" : `, ${changes(kept.refused.length)} set aside`;
  const where = kept.lasts ? "in this browser" : "in this page alone, do not close it";
  if (kept.taking > 0) return `${changes(kept.taking)} being written down${aside}`;
  switch (kept.state) {
    case "kept":
      return `all kept, revision ${kept.shown.revision}${aside}`;
    case "waiting":
      return `${changes(kept.waiting)} on the way${aside}`;
    case "cut-off":
      return `server does not answer: ${changes(kept.waiting)} kept ${where}${aside}`;
    case "differs":
      return `somebody else changed the same: choose; ${changes(kept.waiting)} kept ${where}${aside}`;
  }
}
