/**
 * The page Warmth in a real browser: a log is fitted and kept with the tool, the slider goes through time, the clock
 * counts and can be silenced, a board is heated with progress and can be stopped. Needs `npm run build` and a Chromium.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { sticksOut } from "./page-checks.ts";
import { artifacts, RunningApp, root } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const THRANDLE = (JSON.parse(readFileSync(join(root, "examples/thrandle-5.json"), "utf8")) as { id: string }).id;
/** Generous: the machine may be busy with other things. */
const SLOW = 60_000;

let app: RunningApp;
let browser: Browser;
let base = "";

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
}, SLOW);

afterAll(() => app?.stop());

async function open(search = "", size = { width: 1280, height: 800 }): Promise<{ page: Page; complaints: string[] }> {
  const page = await browser.newPage({ viewport: size, reducedMotion: "reduce", bypassCSP: true });
  page.setDefaultTimeout(SLOW);
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.goto(`${base}/records/${THRANDLE}/warmth${search}`);
  await page.waitForSelector(".warmth .picture .drawing");
  return { page, complaints };
}

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = (await page.evaluate(
    "axe.run(document, { resultTypes: ['violations'] }).then((r) => r.violations)",
  )) as { id: string; nodes: { target: unknown[]; failureSummary?: string }[] }[];
  return found.map(({ id, nodes }) => `${id}: ${nodes.map((n) => `${n.target.join(" ")} ${n.failureSummary}`).join()}`);
}

const words = async (page: Page, selector: string): Promise<string> => (await page.textContent(selector)) ?? "";

describe("calibration", () => {
  it("fits a log, keeps the contact with the tool through a reload, and forgets it again", async () => {
    const { page, complaints } = await open();
    expect(await words(page, ".warmth")).toContain("300 W/(m²·K) is an assumption");
    const before = await words(page, ".figure .large");
    await page.getByRole("button", { name: "measure it" }).click();
    await page.getByRole("button", { name: "an example log" }).click();
    await page.getByRole("button", { name: "fit the contact" }).click();
    await page.waitForSelector("text=left over, 91 readings");
    // The log was drawn with 236.
    const [low, high] = /(\d+) to (\d+) W/
      .exec(await words(page, ".opened .figures"))!
      .slice(1)
      .map(Number);
    expect(low).toBeLessThan(236);
    expect(high).toBeGreaterThan(236);
    expect(await violations(page)).toEqual([]);
    await page.getByRole("button", { name: "keep it with Heating plate" }).click();
    await page.waitForFunction((was) => document.querySelector(".figure .large")?.textContent !== was, before);
    await page.reload();
    await page.waitForSelector("text=kept in this browser with the tool");
    await page.waitForSelector(".figure .large");
    expect(await words(page, ".figure .large")).not.toBe(before);
    await page.getByRole("button", { name: "forget it" }).click();
    await page.waitForFunction((was) => document.querySelector(".figure .large")?.textContent === was, before);
    expect(complaints).toEqual([]);
    await page.close();
  }, 120_000);

  it(
    "says what is wrong with a log",
    async () => {
      const { page } = await open();
      await page.getByRole("button", { name: "measure it" }).click();
      await page.getByLabel("The log: seconds and °C, a row each").fill("0, 22\n1, warm");
      await page.getByRole("button", { name: "fit the contact" }).click();
      await page.waitForSelector(".fault");
      expect(await words(page, ".fault")).toContain("line 2");
      await page.close();
    },
    SLOW,
  );
});

describe("a heating", () => {
  it(
    "the slider goes through time by keyboard: section, counted minutes and the course follow",
    async () => {
      const { page } = await open();
      const slider = page.getByRole("slider", { name: "Time that is looked at" });
      await slider.focus();
      await page.keyboard.press("Home");
      expect(await slider.getAttribute("aria-valuetext")).toBe("0 s");
      const cold = await page.getByRole("img", { name: /^Section after 0 s/ }).getAttribute("aria-label");
      expect(cold).toMatch(/cell face 2[23] °C/);
      await page.keyboard.press("End");
      await page.waitForFunction(() => !document.querySelector('[aria-label^="Section after 0 s"]'));
      expect(await page.getByRole("img", { name: /of 15 min counted above 45 °C/ }).count()).toBe(1);
      await page.close();
    },
    SLOW,
  );

  it(
    "a source that is too hot leaves no window, and what would make one is said",
    async () => {
      const { page } = await open();
      await page.getByLabel("Heating plate, setting").fill("200");
      await page.waitForSelector("text=there is none");
      await page.waitForSelector(".helps li");
      await page.getByRole("button", { name: "as recorded" }).click();
      await page.waitForSelector("text=from the first contact");
      await page.close();
    },
    SLOW,
  );

  it(
    "a lift-off that is too late is looked at, and said not to be done",
    async () => {
      const { page } = await open();
      await page.getByLabel("lift off at").fill("260");
      await page.waitForSelector("text=it is not to be done");
      await page.close();
    },
    SLOW,
  );

  it(
    "plans the whole cut, and another one when it is asked",
    async () => {
      const { page } = await open();
      await page.waitForSelector("text=to the end of the cut");
      const first = await words(page, "section:has(> h2:text('The whole cut')) .figures");
      await page.getByLabel("time with the blade in the bond").fill("40");
      await page.waitForFunction(
        (was) => ![...document.querySelectorAll(".figures")].some((one) => one.textContent === was),
        first,
      );
      await page.waitForSelector("text=1 heating");
      // What was counted before is taken from what is allowed: nothing is left here.
      await page.getByLabel("counted on this unit before").fill("15");
      await page.waitForSelector("text=No sequence of heatings keeps every limit");
      await page.close();
    },
    SLOW,
  );

  it(
    "the clock counts down, waits at the end of a piece, and its sound can be turned off",
    async () => {
      const { page, complaints } = await open();
      await page.waitForSelector("text=to the end of the cut");
      await page.getByRole("button", { name: "sound is on" }).click();
      await page.getByRole("button", { name: "sound is off" }).waitFor();
      const full = await words(page, ".digits");
      expect(full).toMatch(/^\d+:\d\d$/);
      await page.getByRole("button", { name: "start at the first contact" }).click();
      await page.waitForFunction((was) => document.querySelector(".digits")?.textContent !== was, full);
      expect(await words(page, ".clock .what")).toContain("heat");
      await page.getByRole("button", { name: "lifted off" }).click();
      expect(await words(page, ".clock .what")).toContain("cut while it is soft");
      await page.getByRole("button", { name: "break off" }).click();
      expect(await words(page, ".digits")).toBe(full);
      expect(complaints).toEqual([]);
      await page.close();
    },
    SLOW,
  );
});

describe("board heating", () => {
  it("asks for the solder first, then heats the example board and shows it against the classification", async () => {
    const { page, complaints } = await open();
    await page.getByRole("button", { name: "an example board" }).click();
    expect(await page.getByRole("button", { name: "heat it on paper" }).isDisabled()).toBe(true);
    await page.getByRole("button", { name: "tin-bismuth" }).click();
    await page.getByRole("button", { name: "heat it on paper" }).click();
    await page.waitForSelector("text=A profile to begin with");
    const table = await words(page, "section[aria-label='Parts of the board']");
    expect(table).toContain("charging controller");
    expect(table).toContain("above 138 °C");
    expect(await violations(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await page.screenshot({ path: join(artifacts, "warmth-board.png"), fullPage: true });
    await page.close();
  }, 120_000);

  it(
    "a long run can be stopped while the page goes on",
    async () => {
      const { page } = await open();
      const board = JSON.parse(readFileSync(join(root, "examples/heat/stacked-board.json"), "utf8")) as {
        cell: number;
        heat: { seconds: number }[];
      };
      const fine = { ...board, cell: 0.3, heat: board.heat.map((stage) => ({ ...stage, seconds: stage.seconds * 3 })) };
      await page.getByLabel(/^The board \(unseam-board\/1\)/).fill(JSON.stringify({ ...fine, report: [] }));
      await page.getByRole("button", { name: "lead-free" }).click();
      await page.getByRole("button", { name: "heat it on paper" }).click();
      const stop = page.locator(".second-part").getByRole("button", { name: "stop" });
      await stop.waitFor();
      // The page answers while the worker computes.
      await page.getByRole("slider", { name: "Time that is looked at" }).press("Home");
      await page.waitForSelector('[aria-label^="Section after 0 s"]');
      await stop.click();
      await page.waitForSelector("text=compute it after all");
      await page.close();
    },
    SLOW,
  );
});

it(
  "passes axe-core in the dark on a narrow screen, where everything that is pressed is 44 px high",
  async () => {
    const { page } = await open("?zone=front", { width: 390, height: 844 });
    await page.emulateMedia({ colorScheme: "dark" });
    await page.getByRole("button", { name: "measure it" }).click();
    const wide = await sticksOut(page);
    expect(wide).toBe(0);
    const small = (await page.evaluate(`[...document.querySelectorAll("button, select, .warmth input:not([type=file])")]
    .map((one) => ({ what: one.textContent.slice(0, 30) || one.type, box: (one.closest("label") ?? one).getBoundingClientRect() }))
    .filter(({ box }) => box.width > 0 && box.height < 43.5).map(({ what, box }) => what + " " + box.height)`)) as string[];
    expect(small).toEqual([]);
    expect(await violations(page)).toEqual([]);
    await page.close();
  },
  SLOW,
);
