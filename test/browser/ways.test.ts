/**
 * The page of a way in in a real browser: an operation chosen says why it is there and what it would spare, another way in is
 * laid beside, at two sizes, light and dark, without complaints and passing axe-core.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { artifacts, RunningApp } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let app: RunningApp;
let browser: Browser;
let base = "";
let phone = "";

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
  const heads = (await (await fetch(`${base}/api/records`)).json()) as { id: string; parts: number }[];
  phone = heads.sort((a, b) => b.parts - a.parts)[0]!.id;
}, 60_000);

afterAll(() => app?.stop());

const complaints: string[] = [];

async function open(options: Parameters<Browser["newPage"]>[0] = {}, part = "cell"): Promise<Page> {
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
  await page.goto(`${base}/records/${phone}/ways-in?part=${part}`);
  await page.waitForSelector(".walk", { timeout: 20_000 });
  return page;
}

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = (await page.evaluate(
    "axe.run(document, { resultTypes: ['violations'] }).then((r) => r.violations)",
  )) as {
    readonly id: string;
    readonly nodes: readonly { readonly failureSummary?: string }[];
  }[];
  return found.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.failureSummary ?? "").join(" | ")}`);
}

describe("an operation that is looked at", () => {
  it.each([
    ["wide, light", { viewport: { width: 1280, height: 800 }, colorScheme: "light" }],
    ["narrow, dark", { viewport: { width: 390, height: 844 }, colorScheme: "dark" }],
  ] as const)("says why it is there: %s", async (name, options) => {
    const page = await open(options);
    await page.getByRole("button", { name: "go through it" }).press("Enter");
    await page.waitForSelector(".why", { timeout: 20_000 });
    const first = (await page.locator(".why").textContent()) ?? "";
    expect(first).toContain("Why:");
    const links = page.locator(".why ol button");
    const many = await links.count();
    expect(many).toBeGreaterThan(1);
    expect(first).toMatch(/were not there: .*(less|more|saved)/);
    await page.screenshot({ path: join(artifacts, `ways-why-${name.replace(/\W+/g, "-")}.png`), fullPage: true });
    expect(await violations(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await links.last().press("Enter");
    await page.waitForFunction((text) => document.querySelector(".why")?.textContent !== text, first, {
      timeout: 20_000,
    });
    expect(await page.locator(".why").textContent()).toContain("brings");
    await page.close();
  });

  it("another way in is laid beside on one scale of time", async () => {
    const page = await open({}, "earpiece");
    const button = page.getByRole("button", { name: /^Lay beside/ }).first();
    await button.waitFor({ timeout: 30_000 });
    await button.press("Enter");
    await page.waitForSelector(".stacked .drawing");
    expect(await page.locator(".stacked figcaption").allTextContents()).toHaveLength(2);
    await page.locator(".stacked").scrollIntoViewIfNeeded();
    await page.screenshot({ path: join(artifacts, "ways-beside.png"), fullPage: true });
    expect(await violations(page)).toEqual([]);
    await page.close();
  });
});
