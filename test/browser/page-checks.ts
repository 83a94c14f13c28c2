/** What every page keeps to, looked at in a browser. */
import type { Page } from "playwright-core";

/** What can be pressed and is less than 44 px high (WCAG 2.2, 2.5.5), with its words. @param what CSS selector */
export const tooSmall = (page: Page, what: string): Promise<string[]> =>
  page.evaluate(`[...document.querySelectorAll(${JSON.stringify(what)})]
    .map((one) => ({ what: one.textContent.slice(0, 30), box: one.getBoundingClientRect() }))
    .filter(({ box }) => box.width > 0 && box.height < 43.5).map(({ what, box }) => what + " " + box.height)`);

/** Pixels by which the page is wider than its window. */
export const sticksOut = (page: Page): Promise<number> =>
  page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth");
