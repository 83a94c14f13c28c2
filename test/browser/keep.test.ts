/**
 * Nothing lost, in a real browser: what is filled in by hand survives servers that are killed and pages that are loaded
 * anew, once each; two people on one record.
 */
import { join } from "node:path";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Revision, TeardownRecord } from "../../src/server/api.ts";
import { artifacts, RunningApp } from "./running-app.ts";

let app: RunningApp;
let browser: Browser;
let base = "";

const get = async <T>(path: string): Promise<T> => (await fetch(`${base}${path}`)).json() as Promise<T>;
const recordOf = async (id: string): Promise<TeardownRecord> =>
  (await get<{ record: TeardownRecord }>(`/api/records/${id}`)).record;
const idOf = async (name: string): Promise<string> =>
  (await get<{ id: string; name: string }[]>("/api/records")).find((one) => one.name === name)!.id;

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
}, 60_000);

afterAll(() => app?.stop());

async function open(context: BrowserContext, id: string, search = "?table=fill-in"): Promise<Page> {
  const page = await context.newPage();
  await page.goto(`${base}/records/${id}/structure${search}`);
  await page.locator(".grid").first().waitFor();
  return page;
}

/** By its attribute: the search by accessible name goes through a thousand fields. */
const cellOf = (page: Page, label: string) => page.locator(`input[aria-label="${label}"]`);

async function fill(page: Page, label: string, text: string): Promise<void> {
  const cell = cellOf(page, label);
  await cell.fill(text);
  await cell.press("Enter");
}

/** Until the line at the bottom says so. */
const says = (page: Page, words: RegExp) => page.locator(".line-kept").filter({ hasText: words }).waitFor();

describe("with the server killed and the page loaded anew", () => {
  it("thirty changes are all there, once each", async () => {
    const id = await idOf("Halverim 11");
    const parts = (await recordOf(id)).parts.filter((part) => !part.base).slice(0, 30);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    let page = await open(context, id);
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    for (const [index, part] of parts.entries()) {
      if (index % 6 === 2) await app.kill();
      await fill(page, `material of ${part.id}`, `try ${index}`);
      if (index % 6 === 2) await says(page, /server does not answer/);
      // Loaded anew while nothing answers.
      if (index === 8 || index === 20) {
        await page.close();
        page = await open(context, id);
        await says(page, /kept in this browser|on the way/);
        expect(await cellOf(page, `material of ${part.id}`).inputValue()).toBe(`try ${index}`);
      }
      if (index % 6 === 4) await app.serve();
    }
    await says(page, /all kept/);
    const kept = await recordOf(id);
    for (const [index, part] of parts.entries())
      expect(kept.parts.find((one) => one.id === part.id)?.material).toBe(`try ${index}`);
    const edits = (await get<Revision[]>(`/api/records/${id}/history`)).flatMap((one) => one.edits);
    expect(edits).toHaveLength(parts.length);
    // Taken back without end, also what was done before the page was loaded anew.
    const back = page.locator(".line-kept button", { hasText: "take back" });
    for (let i = parts.length; i > 0; i--) {
      await back.filter({ hasText: `material of ${parts[i - 1]!.name}` }).click();
    }
    await back.waitFor({ state: "detached" });
    await says(page, /all kept/);
    expect((await recordOf(id)).parts.map((one) => one.material)).toEqual(
      (await get<{ record: TeardownRecord }>(`/api/records/${id}?revision=1`)).record.parts.map((one) => one.material),
    );
    await context.close();
  }, 120_000);
});

describe("two people on one record", () => {
  it("merge what is about different things, and are asked about the same", async () => {
    const id = await idOf("Thrandle 4");
    const [one, two] = (await recordOf(id)).parts.filter((part) => !part.base);
    const contexts = [await browser.newContext(), await browser.newContext()] as const;
    const [here, there] = [await open(contexts[0], id), await open(contexts[1], id)];
    await fill(here, `material of ${one!.id}`, "here");
    await says(here, /all kept, revision 2/);
    await fill(there, `material of ${two!.id}`, "there");
    await says(there, /all kept, revision 3/);
    // What is drawn may be a moment behind what is kept.
    await expect.poll(() => cellOf(there, `material of ${one!.id}`).inputValue(), { timeout: 10_000 }).toBe("here");
    // `here` has not seen revision 3 yet.
    await fill(here, `material of ${two!.id}`, "mine");
    await says(here, /choose/);
    expect((await recordOf(id)).parts.find((part) => part.id === two!.id)?.material).toBe("there");
    await here.screenshot({ path: join(artifacts, "keep-differs-1280.png") });
    await here.getByLabel(/^here:/).check();
    await here.getByRole("button", { name: "let these stand" }).click();
    await says(here, /all kept, revision 4/);
    expect((await recordOf(id)).parts.find((part) => part.id === two!.id)?.material).toBe("mine");
    await Promise.all(contexts.map((context) => context.close()));
  }, 60_000);
});
