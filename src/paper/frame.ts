/** What stands on every sheet: its edition at the foot, the page of how many, and the recalls at the head of the first. */

import type { Recall } from "./edition.ts";
import type { Measure, Page, PageItem, Tag } from "./page.ts";
import { leading } from "./page.ts";
import type { Say } from "./words/index.ts";

export interface Imprint {
  readonly device: string;
  readonly revision: string;
  readonly edition: number;
  readonly date: string;
  readonly replaces: { readonly edition: number; readonly date: string } | null;
  readonly recalls: readonly Recall[];
}

export function editionLine({ revision, edition, date, replaces }: Imprint, say: Say): string {
  const old = replaces === null ? say("edition.first") : say("edition.replaces", replaces);
  return `${say("edition", { revision, edition, date })} · ${old}`;
}

export function recallLines(imprint: Imprint, say: Say): string[] {
  return imprint.recalls.map(({ editions, number, before, now }) => {
    const key = before === null ? "recall.new" : now === null ? "recall.gone" : "recall.length";
    return say("recall", {
      editions: editions.join(", "),
      change: say(key, { number, before: before ?? "", now: now ?? "" }),
    });
  });
}

export const MARGIN = 10;

/** The pages with their feet; called last, because only then is their number known. */
export function withFeet(
  pages: readonly { readonly width: number; readonly height: number; readonly items: readonly PageItem[] }[],
  imprint: Imprint,
  sheet: string,
  say: Say,
): Page[] {
  return pages.map((page, index) => ({
    ...page,
    items: [
      ...page.items,
      {
        kind: "line",
        x1: MARGIN,
        y1: page.height - 9,
        x2: page.width - MARGIN,
        y2: page.height - 9,
        stroke: { tone: "hair", width: 0.12 },
      },
      {
        kind: "tagged",
        tag: "P",
        items: [
          {
            kind: "text",
            x: MARGIN,
            y: page.height - 5.4,
            text: `${imprint.device} · ${sheet} · ${editionLine(imprint, say)}`,
            size: 7.5,
            tone: "soft",
          },
          {
            kind: "text",
            x: page.width - MARGIN,
            y: page.height - 5.4,
            text: say("page", { page: index + 1, pages: pages.length }),
            size: 7.5,
            tone: "soft",
            anchor: "end",
          },
        ],
      },
    ],
  }));
}

export interface Block {
  readonly items: PageItem[];
  /** mm down from where it began. */
  readonly height: number;
}

/** A paragraph at a place. */
export function paragraph(
  measure: Measure,
  text: string,
  at: { readonly x: number; readonly y: number; readonly width: number },
  look: {
    readonly size: number;
    readonly bold?: true;
    readonly tone?: "ink" | "soft" | "accent";
    readonly tag?: Tag;
  } = { size: 10 },
): Block {
  const { size, bold, tone, tag = "P" } = look;
  const step = leading(size);
  const lines = measure.lines(text, at.width, size, bold);
  const items = lines.map(
    (line, i): PageItem => ({
      kind: "text",
      x: at.x,
      y: at.y + step * (i + 0.78),
      text: line,
      size,
      ...(bold ? { bold } : {}),
      ...(tone === undefined ? {} : { tone }),
    }),
  );
  return { items: [{ kind: "tagged", tag, items }], height: step * lines.length };
}

/** A caution: a bar at its left, plain words. */
export function caution(
  measure: Measure,
  text: string,
  at: { readonly x: number; readonly y: number; readonly width: number },
  size = 9,
): Block {
  const inner = paragraph(measure, text, { x: at.x + 3, y: at.y, width: at.width - 3 }, { size });
  return {
    items: [
      {
        kind: "line",
        x1: at.x + 0.6,
        y1: at.y + 0.6,
        x2: at.x + 0.6,
        y2: at.y + inner.height - 0.2,
        stroke: { tone: "accent", width: 0.9 },
      },
      ...inner.items,
    ],
    height: inner.height + 1,
  };
}
