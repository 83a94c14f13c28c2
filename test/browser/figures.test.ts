/**
 * The page Figures in a real browser: each view at two sizes, light and dark, without complaints and passing axe-core; a
 * reading opened to the budget of its uncertainty; a match corrected and taken back; long planning that can be stopped.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Figures } from "../../src/core/measure/index.ts";
import { sticksOut, tooSmall } from "./page-checks.ts";
import { artifacts, RunningApp } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let app: RunningApp;
let browser: Browser;
let base = "";
let phone = "";

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
  const heads = (await (await fetch(`${base}/api/records`)).json()) as { id: string; sibling: string | null }[];
  phone = heads.find((one) => heads.some((other) => other.id === one.sibling))!.id;
}, 60_000);

afterAll(() => app?.stop());

const complaints: string[] = [];

async function open(search: string, options: Parameters<Browser["newPage"]>[0] = {}): Promise<Page> {
  const page = await browser.newPage({
    viewport: { width: 1280, height: 800 },
    reducedMotion: "reduce",
    bypassCSP: true,
    ...options,
  });
  complaints.length = 0;
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.goto(`${base}/records/${phone}/figures${search}`);
  await page.locator("main .picture .drawing").first().waitFor({ timeout: 30_000 });
  return page;
}

const VIEWS = ["", "?view=claims", "?view=beside", "?view=readings"];

describe.each([
  { width: 1280, height: 800, colorScheme: "light" },
  { width: 390, height: 844, colorScheme: "dark" },
] as const)("at $width, $colorScheme", ({ width, height, colorScheme }) => {
  it("every view is without complaint, fits its window and passes axe-core", async () => {
    for (const search of VIEWS) {
      const page = await open(search, { viewport: { width, height }, colorScheme, hasTouch: width < 800 });
      await page.evaluate(axeSource);
      const violations = await page.evaluate(
        "axe.run(document, { resultTypes: ['violations'] }).then((r) => r.violations.map((v) => v.id + ' ' + v.nodes.map((n) => n.target.join(' ')).join(', ')))",
      );
      expect(violations, search).toEqual([]);
      const wide = await sticksOut(page);
      expect(wide, search).toBe(0);
      if (width < 800) {
        const small = await tooSmall(page, "main button, main select, main summary");
        expect(small, search).toEqual([]);
      }
      await page.screenshot({
        path: join(artifacts, `figures${search.replace("?view=", "-") || "-whole"}-${width}-${colorScheme}.png`),
      });
      expect(complaints, search).toEqual([]);
      await page.close();
    }
  }, 120_000);
});

describe("figures", () => {
  it("are those of the interface, each claim with its verdict and its strip", async () => {
    const figures = (await (await fetch(`${base}/api/records/${phone}/figures`)).json()) as Figures;
    const page = await open("?view=claims");
    const claims = page.locator("article.claim");
    expect(await claims.count()).toBe(figures.claims.length);
    const words = { supported: "supported", "not-supported": "not supported", "cannot-tell": "cannot tell" };
    for (const [i, claim] of figures.claims.entries()) {
      const one = claims.nth(i);
      expect(await one.locator(".verdict").textContent()).toBe(words[claim.verdict]);
      expect(await one.textContent()).toContain(claim.wording);
      expect(await one.locator("svg").count()).toBe(claim.value === null ? 0 : 1);
    }
    await page.close();
  }, 90_000);

  it("open to how they were measured, with a budget whose shares make up the whole", async () => {
    const page = await open("?view=readings&part=cell");
    const mass = page
      .locator(".readings > li")
      .filter({ has: page.locator("span.soft", { hasText: /^mass$/ }) })
      .first();
    await mass.locator("summary").focus();
    await page.keyboard.press("Enter");
    const opened = mass.locator(".opened");
    await opened.waitFor();
    expect(await opened.textContent()).toMatch(/standard uncertainty .* g, degrees of freedom .*, coverage factor/);
    const shares = await opened.locator("tbody tr td:last-child").allTextContents();
    expect(shares.length).toBeGreaterThan(1);
    const sum = shares.reduce((total, one) => total + Number(one), 0);
    expect(Math.abs(sum - 100)).toBeLessThanOrEqual(shares.length);
    await page.close();
  }, 90_000);

  it("are of the part that is pointed at in a picture", async () => {
    const page = await open("");
    await page.locator("main .picture g[data-part=cell]").first().click();
    await page.waitForURL(/part=cell/);
    await page.locator("main h2", { hasText: /^Battery$/ }).waitFor();
    await page.locator("main .picture g[data-part=cell]").first().click();
    await page.waitForFunction(() => !location.search.includes("part="));
    expect(complaints).toEqual([]);
    await page.close();
  }, 90_000);

  it("speak of the chosen part alone until all are asked for", async () => {
    const page = await open("?view=claims&part=cell");
    const some = await page.locator("article.claim").count();
    await page.getByRole("button", { name: /all claims/ }).press("Enter");
    await page.waitForFunction((n) => document.querySelectorAll("article.claim").length > n, some);
    await page.close();
  }, 90_000);
});

describe("beside another device", () => {
  it("a match is corrected, stands in the address, changes the answer, and is taken back", async () => {
    const page = await open("?view=beside");
    const before = await page.locator("main svg").first().getAttribute("aria-label");
    await page.locator("summary", { hasText: "Every part beside" }).press("Enter");
    const battery = page.locator('select[aria-label="Counterpart of Battery"]');
    await battery.selectOption("-");
    await page.waitForURL(/match=cell%3D-/);
    await page.waitForFunction(
      (words) => document.querySelector("main svg")?.getAttribute("aria-label") !== words,
      before,
    );
    expect(await page.locator("main").textContent()).toMatch(/New: [^.]*Battery/);
    expect(await battery.inputValue()).toBe("-");
    await page.getByRole("button", { name: "take the corrections back" }).press("Enter");
    await page.waitForFunction(
      (words) => document.querySelector("main svg")?.getAttribute("aria-label") === words,
      before,
    );
    expect(new URL(page.url()).searchParams.get("match")).toBeNull();
    expect(complaints).toEqual([]);
    await page.close();
  }, 90_000);

  it("a correction that fits no part is refused in words and can be taken back", async () => {
    const page = await browser.newPage();
    await page.goto(`${base}/records/${phone}/figures?view=beside&match=cell%3Dno-such-part`);
    await page.locator("[role=alert]").waitFor({ timeout: 30_000 });
    expect(await page.locator("[role=alert]").textContent()).toContain("no-such-part");
    await page.getByRole("button", { name: "take the corrections back" }).press("Enter");
    await page.locator("main .picture .drawing").first().waitFor({ timeout: 30_000 });
    await page.close();
  }, 90_000);

  it("ways in are planned on demand and can be stopped", async () => {
    const page = await open("?view=beside");
    await page.getByRole("button", { name: /plan the ways/ }).press("Enter");
    const stop = page.getByRole("button", { name: "stop" });
    await stop.press("Enter");
    await page.getByRole("button", { name: "plan again" }).waitFor();
    await page.close();
  }, 90_000);
});
