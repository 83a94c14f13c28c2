/**
 * The log in a real browser: an afternoon of ninety lines, presses and figures with the server killed twice; a recording's
 * words reviewed by single keys beside a page that stays as it should at both sizes.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TeardownRecord } from "../../src/server/api.ts";
import { sticksOut, tooSmall } from "./page-checks.ts";
import { artifacts, RunningApp } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let app: RunningApp;
let browser: Browser;
let base = "";

const get = async <T>(path: string): Promise<T> => (await fetch(`${base}${path}`)).json() as Promise<T>;
const recordOf = async (id: string) => (await get<{ record: TeardownRecord }>(`/api/records/${id}`)).record;
const idOf = async (name: string) =>
  (await get<{ id: string; name: string }[]>("/api/records")).find((one) => one.name === name)!.id;

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
}, 60_000);

afterAll(() => app?.stop());

async function say(page: Page, line: string): Promise<void> {
  const input = page.locator(".line input");
  await input.fill(line);
  await input.press("Enter");
}
const answered = (page: Page, words: RegExp) => page.locator(".line-answer").filter({ hasText: words }).waitFor();
const says = (page: Page, words: RegExp) => page.locator(".line-kept").filter({ hasText: words }).waitFor();

describe("an afternoon at the line", () => {
  it("ninety lines, presses and figures are all there once, the server killed twice", async () => {
    const id = await idOf("Thrandle 4");
    const before = await recordOf(id);
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    await context.addInitScript("localStorage.setItem('unseam:line-key', 'F8')");
    const page = await context.newPage();
    await page.goto(`${base}/records/${id}/log?part=cell`);
    await page.locator("ol.talk").waitFor();
    for (let i = 0; i < 30; i += 1) {
      if (i === 8 || i === 19) await app.kill();
      await say(page, `two screws top shield, number ${i}, cup ${i + 1}`);
      await answered(page, new RegExp(`cup ${i + 1}(?!\\d)`));
      // The foot: one press, by time alone; the bound key types nothing.
      await page.keyboard.press("F8", { delay: 20 });
      await answered(page, /^mark/);
      // A caliper that acts as a keyboard.
      await page.locator(".line input").focus();
      await page.keyboard.type(`${(1 + i / 100).toFixed(2)} mm\n`);
      await answered(page, new RegExp(`${(1 + i / 100).toFixed(2)} mm`));
      if (i === 11 || i === 22) await app.serve();
    }
    await says(page, /all kept/);
    const after = await recordOf(id);
    const log = after.log.slice(before.log.length);
    expect(log.filter((one) => one.action === "unscrew").map((one) => one.lies)).toEqual(
      Array.from({ length: 30 }, (_, i) => `cup ${i + 1}`),
    );
    expect(log.filter((one) => one.action === "note" && one.text === undefined)).toHaveLength(30);
    expect(after.readings.slice(before.readings.length).map((one) => one.values[0])).toEqual(
      Array.from({ length: 30 }, (_, i) => Number((1 + i / 100).toFixed(2))),
    );
    await say(page, "where are the screws of the top shield?");
    await answered(page, /cup 30/);
    await page.screenshot({ path: join(artifacts, "log-line-390.png") });
    await context.close();
  }, 120_000);
});

describe("a recording's words", () => {
  it("are reviewed by single keys: the sure at once, the doubtful one by one, everything taken back", async () => {
    const id = await idOf("Halverim 11");
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on("console", (message) => {
      if (message.type() === "error") complaints.push(message.text());
    });
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.goto(`${base}/records/${id}/log`);
    await page.getByRole("button", { name: "words of a recording" }).click();
    await page
      .locator("textarea")
      .fill(
        [
          "0:05 We unscrew the three screws of the camera bracket.",
          "0:09 They go in cup four.",
          "0:14 I lift out the camera bracket.",
          "0:20 The weather is nice, is it not.",
          "0:26 I take off the gramophone horn.",
          "0:31 The battery weighs 190.5 grams.",
        ].join("\n"),
      );
    await page.getByRole("button", { name: "read it" }).click();
    await page.locator("ol.talk li").first().waitFor();
    const status = page.locator(".page p[role=status]");
    const start = await status.textContent();
    expect(start).toMatch(/0 in the record/);
    const logged = (await recordOf(id)).log.length;
    const list = page.locator("ol.talk");
    await list.focus();
    await page.keyboard.press("b");
    await status.filter({ hasText: / 0 sure/ }).waitFor();
    // The words in which nothing was read stay, and can become an entry.
    expect(await list.textContent()).toContain("weather");
    await page.keyboard.press("n");
    expect(await page.locator("li[aria-current=true] .doubt").count()).toBe(1);
    await page.keyboard.press("r");
    await status.filter({ hasText: /1 rejected/ }).waitFor();
    await page.keyboard.press("u");
    await status.filter({ hasText: /0 rejected/ }).waitFor();
    await says(page, /all kept/);
    expect((await recordOf(id)).log.length).toBeGreaterThan(logged);
    await list.focus();
    await page.keyboard.press("u");
    await status.filter({ hasText: /: 0 in the record/ }).waitFor();
    await page.keyboard.press("y");
    await status.filter({ hasText: /: [1-9]\d* in the record/ }).waitFor();
    expect(complaints).toEqual([]);
    for (const colorScheme of ["light", "dark"] as const)
      for (const size of [
        { width: 1280, height: 800 },
        { width: 390, height: 844 },
      ]) {
        await page.emulateMedia({ colorScheme });
        await page.setViewportSize(size);
        await page.screenshot({ path: join(artifacts, `log-talk-${size.width}-${colorScheme}.png`), fullPage: true });
        expect(await sticksOut(page)).toBeLessThanOrEqual(0);
      }
    await page.evaluate(axeSource);
    const found = (await page.evaluate(
      "axe.run(document).then((r) => r.violations.map((v) => v.id + ' ' + v.nodes.map((n) => n.target).join()))",
    )) as string[];
    expect(found).toEqual([]);
    await context.close();
  }, 90_000);
});

describe("every view of the page", () => {
  it("passes axe-core, fits a narrow window, and is pressed with a finger", async () => {
    const id = await idOf("Thrandle 5");
    const page = await browser.newPage({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
    await page.goto(`${base}/records/${id}/log`);
    await page.locator("ol.talk li").first().waitFor();
    await page.evaluate(axeSource);
    for (const view of ["what was done", "words of a recording", "open questions"]) {
      await page.getByRole("button", { name: view }).click();
      if (view === "what was done") {
        await page.getByRole("button", { name: "change" }).click();
        await page.locator("form.change").waitFor();
      }
      const found = await page.evaluate(
        "axe.run(document).then((r) => r.violations.map((v) => v.id + ' ' + v.nodes.map((n) => n.target).join()))",
      );
      expect(found, view).toEqual([]);
      const small = await tooSmall(
        page,
        "main button, main select, main input:not(.unseen), .line button, .line input",
      );
      expect(small, view).toEqual([]);
      expect(await sticksOut(page), view).toBeLessThanOrEqual(0);
      await page.screenshot({ path: join(artifacts, `log-${view.replaceAll(" ", "-")}-390.png`), fullPage: true });
    }
    await page.close();
  }, 60_000);
});
