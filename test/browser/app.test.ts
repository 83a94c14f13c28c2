/**
 * The app in a real browser: every page at two sizes, light and dark, without console errors, passing axe-core, and by
 * keyboard alone. Needs `npm run build` and a Chromium; screenshots go to test-artifacts/.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { sticksOut, tooSmall } from "./page-checks.ts";
import { artifacts, RunningApp } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const SIZES = [
  { width: 1280, height: 800 },
  { width: 390, height: 844 },
] as const;
const SCHEMES = ["light", "dark"] as const;

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

/** Opens an address; what the browser complains of is collected. */
async function open(
  address: string,
  options: Parameters<Browser["newPage"]>[0] = {},
): Promise<{ page: Page; complaints: string[] }> {
  const page = await browser.newPage({ viewport: SIZES[0], reducedMotion: "reduce", bypassCSP: true, ...options });
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.goto(base + address);
  return { page, complaints };
}

interface Violation {
  readonly id: string;
  readonly nodes: readonly { readonly target: readonly unknown[]; readonly failureSummary?: string }[];
}

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = (await page.evaluate(
    "axe.run(document, { resultTypes: ['violations'] }).then((r) => r.violations)",
  )) as Violation[];
  return found.map(
    ({ id, nodes }) =>
      `${id}: ${nodes.map((node) => `${node.target.join(" ")} ${node.failureSummary ?? ""}`).join(" | ")}`,
  );
}

/** Name of the picture, address, and what is there once the page has its answer. */
const pages = (): readonly (readonly [string, string, string])[] => [
  ["records", "/", ".card .drawing"],
  ["structure", `/records/${phone}/structure`, "table"],
  ["structure-part", `/records/${phone}/structure?part=cell`, ".picture .drawing"],
  ["ways-in", `/records/${phone}/ways-in?part=cell`, ".picture .drawing"],
  ["figures", `/records/${phone}/figures`, ".picture .drawing"],
  ["law", `/records/${phone}/law`, ".sentence"],
  ["fill-in", `/records/${phone}/structure?table=fill-in`, ".grid"],
  ["fill-in-part", `/records/${phone}/structure?table=fill-in&part=cell`, ".grid"],
  ["afternoon", `/records/${phone}/afternoon`, "table"],
  ["afternoon-open", `/records/${phone}/afternoon?when=while-open`, "table"],
  ["afternoon-done", `/records/${phone}/afternoon?when=done`, "table"],
  ["warmth", `/records/${phone}/warmth`, ".warmth .picture .drawing"],
  ["measuring", `/records/${phone}/measuring`, "main h1"],
  ["log", `/records/${phone}/log`, "main h1"],
  ["swaps", `/records/${phone}/swaps?part=cell`, "main h1"],
  ["shelf", `/records/${phone}/shelf`, "main h1"],
  ["paper", `/records/${phone}/paper`, "main h1"],
  ["parts-of-the-face", "/parts-of-the-face", ".picture .drawing"],
];

describe.each(SIZES)("at $width x $height", (viewport) => {
  describe.each(SCHEMES)("%s", (colorScheme) => {
    it("every page is without complaint and passes axe-core", async () => {
      const faults: string[] = [];
      for (const [name, address, ready] of pages()) {
        const { page, complaints } = await open(address, { viewport, colorScheme });
        await page.waitForSelector(ready, { timeout: 60_000 });
        await page.evaluate("document.fonts.ready");
        for (const one of await violations(page)) faults.push(`${name}: ${one}`);
        const wide = await sticksOut(page);
        if (Number(wide) > 0) faults.push(`${name} is ${wide} px wider than the window`);
        await page.screenshot({ path: join(artifacts, `${name}-${viewport.width}-${colorScheme}.png`) });
        for (const one of complaints) faults.push(`${name}: ${one}`);
        await page.close();
      }
      expect(faults).toEqual([]);
    }, 240_000);
  });
});

describe("by keyboard", () => {
  it("arrow keys choose a part in the plan, page keys open the device, and the page follows", async () => {
    const { page, complaints } = await open(`/records/${phone}/structure`);
    const plan = page.locator("svg[role=listbox]").first();
    await plan.waitFor();
    await plan.focus();
    await page.keyboard.press("ArrowDown");
    await page.waitForURL(/part=/);
    const first = new URL(page.url()).searchParams.get("part");
    expect(await page.locator("[role=option][aria-selected=true]").count()).toBe(1);
    const before = await plan.getAttribute("aria-label");
    for (let i = 0; i < 6; i++) await page.keyboard.press("PageDown");
    expect(await plan.getAttribute("aria-label")).not.toBe(before);
    await page.keyboard.press("End");
    await page.waitForFunction((part) => new URL(location.href).searchParams.get("part") !== part, first);
    await page.keyboard.press("Escape");
    await page.waitForFunction(() => !location.search.includes("part="));
    expect(complaints).toEqual([]);
    await page.close();
  });

  it("the grip is a slider", async () => {
    const { page } = await open(`/records/${phone}/structure`);
    const grip = page.locator("input[type=range]");
    await grip.focus();
    for (let i = 0; i < 40; i++) await page.keyboard.press("ArrowRight");
    expect(await grip.getAttribute("aria-valuetext")).toMatch(/^1\.2 mm|^\d\.\d mm/);
    await page.close();
  });

  it("the line finds a part and a page, and says what it did not understand", async () => {
    const { page } = await open(`/records/${phone}/structure`);
    await page.locator(".line input").fill("battery ways in frobnicate");
    await page.keyboard.press("Enter");
    await page.waitForURL(/ways-in\?.*part=cell/);
    expect(await page.locator(".line-answer").textContent()).toContain("frobnicate");
    await page.waitForSelector(".picture .drawing", { timeout: 20_000 });
    await page.close();
  });

  it("every control is reached by Tab and shows its focus", async () => {
    const { page } = await open(`/records/${phone}/ways-in?part=cell`);
    await page.waitForSelector(".picture .drawing", { timeout: 20_000 });
    const seen = new Set<string>();
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      const focus = (await page.evaluate(`(() => {
        const one = document.activeElement;
        if (!one || one === document.body) return null;
        const style = getComputedStyle(one);
        return { what: one.tagName + " " + (one.getAttribute("aria-label") ?? one.textContent ?? "").slice(0, 30), shown: style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 };
      })()`)) as { what: string; shown: boolean } | null;
      if (focus === null) break;
      expect(focus.shown, focus.what).toBe(true);
      seen.add(focus.what);
    }
    for (const wanted of ["least time", "damage allowed", "go through it", "Law"])
      expect(
        [...seen].some((what) => what.includes(wanted)),
        wanted,
      ).toBe(true);
    await page.close();
  });

  it("a way in is gone through while the drawing follows", async () => {
    const { page } = await open(`/records/${phone}/ways-in?part=cell`);
    await page.getByRole("button", { name: "go through it" }).press("Enter");
    for (let i = 0; i < 8; i++) await page.getByRole("button", { name: "on", exact: true }).press("Enter");
    expect(await page.locator(".sheet-note").textContent()).toContain("After 8 of");
    await page.screenshot({ path: join(artifacts, "ways-in-step.png") });
    await page.close();
  });

  it("an obstacle taken away shortens the way and nothing is saved", async () => {
    const { page } = await open(`/records/${phone}/ways-in?part=cell`);
    await page
      .getByRole("button", { name: /as not there/ })
      .first()
      .press("Enter");
    await page.waitForSelector(".what-if");
    await page.waitForFunction(
      () => /less|saved|more/.test(document.querySelector(".what-if")?.textContent ?? ""),
      null,
      { timeout: 20_000 },
    );
    const head = (await (await fetch(`${base}/api/records/${phone}`)).json()) as { revision: number };
    expect(head.revision).toBe(1);
    await page.close();
  });
});

describe("on touch", () => {
  it("what is pressed is at least 44 px high", async () => {
    for (const [name, address, ready] of pages()) {
      const { page } = await open(address, { viewport: SIZES[1], hasTouch: true, isMobile: true });
      await page.waitForSelector(ready, { timeout: 60_000 });
      const small = await tooSmall(page, "button, select, nav a, .line input");
      expect(small, name).toEqual([]);
      await page.close();
    }
  }, 60_000);
});

describe("bad addresses", () => {
  it("say what to do", async () => {
    for (const address of ["/records/00000000-0000-4000-8000-000000000000/law", "/nothing/here"]) {
      const { page } = await open(address);
      await page.waitForSelector("[role=alert]");
      expect(await page.locator("[role=alert]").textContent()).toContain("expected");
      await page.close();
    }
  });
});
