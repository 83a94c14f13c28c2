/**
 * The page Law in a real browser: what its views say, that they fit a small screen, that switches answer at once, that a
 * declared sheet is compared, and that the evidence pack comes as files. Needs `npm run build` and a Chromium.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { artifacts, RunningApp, root } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const VIEWS = ["parts", "checks", "change", "doubt", "rules"] as const;
const WAIT = 45_000;

let app: RunningApp;
let browser: Browser;
let base = "";
let phone = "";

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
  const heads = (await (await fetch(`${base}/api/records`)).json()) as { id: string; name: string }[];
  phone = heads.find(({ name }) => name === "Thrandle 5")!.id;
}, 60_000);

afterAll(() => app?.stop());

async function open(search: string, width = 1280, height = 800, colorScheme: "light" | "dark" = "light") {
  const page = await browser.newPage({ viewport: { width, height }, colorScheme });
  const errors: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  page.on("pageerror", (error) => errors.push(error.message));
  await page.goto(`${base}/records/${phone}/law?${search}`);
  await page.waitForSelector(".law .notice", { timeout: WAIT });
  return { page, errors };
}

async function faults(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  return page.evaluate(async () => {
    // biome-ignore lint/suspicious/noExplicitAny: axe puts itself on the window
    const { violations } = await (window as any).axe.run();
    return violations.map((one: { id: string; nodes: { html: string }[] }) => `${one.id}: ${one.nodes[0]?.html}`);
  });
}

describe("the page Law", () => {
  it.each(VIEWS)(
    "%s: without faults, and on a small screen nothing sticks out",
    async (view) => {
      const { page, errors } = await open(`view=${view}`, 390, 844, view === "checks" ? "dark" : "light");
      expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(
        0,
      );
      expect(await faults(page)).toEqual([]);
      const text = await page.locator("main").textContent();
      expect(text).toContain("Official Journal");
      // The class stands in a sentence with its clause, and nowhere by itself but where a question has two answers.
      expect(text).toMatch(/class [A-E] \(2023\/1669 Annex II C, Table 4\)/);
      const bare = await page
        .locator("main *")
        .evaluateAll(
          (all) => all.filter((one) => /^[A-E]$/.test(one.textContent ?? "") && one.tagName !== "TD").length,
        );
      expect(bare).toBe(0);
      await page.screenshot({ path: join(artifacts, `law-${view}-390.png`), fullPage: true });
      expect(errors).toEqual([]);
      await page.close();
    },
    60_000,
  );

  it("opens a sentence into its steps, with what ended each and the clause", async () => {
    const { page } = await open("part=cell");
    const steps = page.locator(".evidence[open] ol.order li");
    expect(await steps.count()).toBeGreaterThan(5);
    expect(await steps.first().textContent()).toContain("2023/1669 Annex I (20)");
    expect(await page.locator(".evidence[open] table tbody tr").count()).toBeGreaterThan(3);
    await page.close();
  }, 60_000);

  it("answers a switch at once, and goes back", async () => {
    const { page } = await open("view=change");
    const says = page.locator(".sentence[role=status]");
    expect(await says.textContent()).toContain("As found: 2.64");
    const updates = page.getByRole("group", { name: "Updates" });
    await updates.getByRole("button", { name: "7 years" }).click();
    // 2.6350 + 0.15 × (5 − 3) = 2.9350, worked by hand: half up, 2.94.
    expect(await says.textContent()).toContain("the index would be 2.94");
    // Before the click has returned the sentence has followed: nothing is waited for.
    const followed = await page.evaluate(() => {
      const button = [...document.querySelectorAll<HTMLButtonElement>(".choice button")].find(
        ({ textContent }) => textContent === "5 years",
      )!;
      button.click();
      return new Promise<string | null>((resolve) => {
        queueMicrotask(() => resolve(document.querySelector(".sentence[role=status]")?.textContent ?? null));
      });
    });
    // 2.6350 + 0.15 × (1 − 3) = 2.3350.
    expect(followed).toContain("the index would be 2.34");
    await page.getByRole("button", { name: "all as found" }).click();
    expect(await says.textContent()).toContain("As found: 2.64");
    await page.close();
  }, 60_000);

  it("finds the fewest changes to a class in the worker", async () => {
    const { page } = await open("view=change");
    await page.getByRole("group", { name: "Reach" }).getByRole("button", { name: "class D" }).click();
    await page.getByText("Nothing need be changed for class D.").waitFor({ timeout: WAIT });
    await page.close();
  }, 60_000);

  it("compares a declared sheet, and says what is wrong with one that is none", async () => {
    const { page } = await open("view=checks");
    const sheet = page.getByLabel("Sheet", { exact: true });
    await sheet.fill("{");
    await page.getByRole("button", { name: "compare" }).click();
    await page.getByText("text that is no JSON").waitFor({ timeout: WAIT });
    await sheet.fill(readFileSync(join(root, "examples/declared/thrandle-5.json"), "utf8"));
    await page.getByRole("button", { name: "compare" }).click();
    await page.getByText(/The declared index (passes|fails|cannot be told)/).waitFor({ timeout: WAIT });
    await page.close();
  }, 60_000);

  it("gives the evidence as a PDF, a page and a grid, of the revision that is shown", async () => {
    const { page } = await open("");
    const links = await page
      .locator("a[href*='law-pack']")
      .evaluateAll((all) => all.map((one) => (one as HTMLAnchorElement).href));
    expect(links).toHaveLength(3);
    const got = await Promise.all(links.map(async (link) => (await fetch(link)).text()));
    expect(got[0]!.slice(0, 5)).toBe("%PDF-");
    expect(got[1]).toMatch(/SHA-256 [0-9a-f]{64}/);
    expect(got[1]).toContain("Official Journal");
    expect(got[2]!.split("\r\n")[0]).toContain("part,steps");
    await page.close();
  }, 60_000);
});
