/**
 * Swaps, Shelf and Paper in a real browser: a job is worked out and its terms are changed, a forecast becomes a list to
 * order, sheets are laid out, issued and taken, and a changed screw length names what to take back. Needs `npm run build`
 * and a Chromium.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TeardownRecord } from "../../src/core/record/index.ts";
import { sticksOut } from "./page-checks.ts";
import { artifacts, RunningApp, root } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const RECORD = JSON.parse(readFileSync(join(root, "examples/thrandle-5.json"), "utf8")) as TeardownRecord;
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

async function open(room: string, size = { width: 1280, height: 800 }): Promise<{ page: Page; complaints: string[] }> {
  const page = await browser.newPage({
    viewport: size,
    reducedMotion: "reduce",
    bypassCSP: true,
    acceptDownloads: true,
  });
  page.setDefaultTimeout(SLOW);
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  await page.goto(`${base}/records/${RECORD.id}/${room}`);
  return { page, complaints };
}

/** What axe finds, what is too wide, and what is too small for a finger. */
async function faultsOf(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = (await page.evaluate(
    "axe.run(document, { resultTypes: ['violations'] }).then((r) => r.violations.map((v) => v.id + ': ' + v.nodes.map((n) => n.target.join(' ')).join(' | ')))",
  )) as string[];
  const wide = Number(await sticksOut(page));
  const small = (await page.evaluate(
    "innerWidth > 900 ? [] : [...document.querySelectorAll('main :is(button, select, summary, textarea, a, input:not([type=checkbox], [type=file]))')].filter((e) => { const b = e.getBoundingClientRect(); return b.width > 0 && b.height < 43.5; }).map((e) => 'small: ' + e.tagName + ' ' + e.textContent.slice(0, 30))",
  )) as string[];
  return [...found, ...(wide > 0 ? [`${wide} px too wide`] : []), ...small];
}

describe("Swaps", () => {
  it("works a job out, and again when its terms change", async () => {
    const { page, complaints } = await open("swaps?part=cell");
    await page.waitForSelector(".ledger .do");
    const large = page.locator(".figure b.large");
    const before = await large.textContent();
    expect(before).toMatch(/^\d+ to \d+ min$/);
    expect(await page.locator(".ledger tr.part th").allTextContents()).toEqual(["In", "Back"]);
    await page.getByRole("button", { name: "published sheet" }).click();
    await page.waitForFunction((text) => document.querySelector(".figure b.large")?.textContent !== text, before);
    await page.getByText("this shop's rates").click();
    const price = page.locator(".figure", { hasText: "8 of 10 jobs" }).locator("b").first();
    const cheap = await price.textContent();
    const labour = page.getByLabel("labour an hour");
    await labour.fill("110");
    await labour.press("Enter");
    await page.waitForFunction(
      (text) => ![...document.querySelectorAll(".figure b")].some((one) => one.textContent === text),
      cheap,
    );
    const margin = page.getByLabel("margin of the price %");
    await margin.fill("-5");
    await margin.press("Enter");
    await page.getByText(/a margin is never negative/).waitFor();
    await margin.fill("");
    await margin.press("Enter");
    await page.waitForSelector(".ledger .do");
    await page.getByLabel("Replace in the same job").selectOption("loudspeaker");
    await page.getByRole("heading", { name: "Replace Battery, Loudspeaker" }).waitFor();
    await page.getByText("at intake", { exact: true }).click();
    await page.getByLabel("cell swollen").check();
    await page
      .getByText(/cannot be replaced under these terms/)
      .first()
      .waitFor();
    expect(complaints).toEqual([]);
    await page.close();
  }, 120_000);
});

describe("Shelf", () => {
  it("makes a list to order of a forecast, and says what is wrong with one", async () => {
    const { page, complaints } = await open("shelf");
    const forecast = page.getByLabel("Forecast, as a table");
    await forecast.fill("device,part,count,days\nThrandle 5,celle,24,90\n");
    await page.getByRole("button", { name: "work out the shelf" }).click();
    await page.getByText(/nearest: cell/).waitFor();
    await page.getByRole("button", { name: "a sheet to fill in" }).click();
    await page.waitForFunction(() =>
      document.querySelector("textarea")?.value.includes("Halverim 11,charge-port,0,90"),
    );
    await forecast.fill("device,part,count,days\nThrandle 5,cell,24,90\nHalverim 11,cell,6,90\n");
    await page.getByLabel("last buy, to last days").fill("700");
    await page.getByLabel("last buy, to last days").press("Enter");
    await page.getByRole("button", { name: "work out the shelf" }).click();
    await page.getByRole("heading", { name: "Tools to own" }).waitFor();
    expect(await page.locator("th", { hasText: "last buy" }).count()).toBeGreaterThan(0);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("link", { name: "the list as a table" }).click(),
    ]);
    const csv = readFileSync(await download.path(), "utf8");
    expect(csv).toMatch(/^id,name,numbers,amount,unit,price,currency\r\n/);
    expect(csv).toContain("PW5-0501,Battery,PW5-0501,");
    await page.screenshot({ path: join(artifacts, "shelf-1280-light.png"), fullPage: true });
    expect([...(await faultsOf(page)), ...complaints]).toEqual([]);
    await page.close();
  }, 120_000);
});

describe("Paper", () => {
  it("lays sheets out, issues them, and names what to take back when a screw's length changes", async () => {
    const { page, complaints } = await open("paper");
    await page.waitForSelector(".button.strong");
    for (const box of await page.getByRole("group", { name: "Sheets for" }).getByRole("checkbox").all())
      await box.uncheck();
    expect(await page.getByRole("button", { name: "lay the sheets out" }).isDisabled()).toBe(true);
    await page.getByLabel("Charging port", { exact: true }).check();
    await page.getByRole("button", { name: "Deutsch" }).click();
    await page.getByRole("button", { name: "lay the sheets out" }).click();
    await page.getByRole("button", { name: "issue as edition 1" }).waitFor();
    await page.waitForFunction(() => {
      const [picture] = document.querySelectorAll<HTMLImageElement>(".preview img");
      return picture?.complete === true && picture.naturalWidth > 100;
    });
    expect(await page.getByRole("link", { name: "all files (ZIP)" }).count()).toBe(0);
    await page.getByRole("button", { name: "issue as edition 1" }).click();
    for (const [name, begins] of [
      ["all files (ZIP)", "PK"],
      ["Thrandle 5: Charging port ersetzen, work sheet, PDF", "%PDF"],
    ] as const) {
      const [download] = await Promise.all([
        page.waitForEvent("download"),
        page
          .getByRole("link", { name: name.startsWith("all") ? name : /work sheet, PDF$/ })
          .first()
          .click(),
      ]);
      expect(readFileSync(await download.path(), "latin1").startsWith(begins), name).toBe(true);
    }
    const longer = {
      ...RECORD,
      joints: RECORD.joints.map((joint) =>
        joint.id === "port-screws"
          ? {
              ...joint,
              screws: { ...joint.screws!, each: joint.screws!.each!.map((one) => ({ ...one, length: 9.9 })) },
            }
          : joint,
      ),
    };
    const saved = await fetch(`${base}/api/records?on=1`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(longer),
    });
    expect(saved.status).toBe(200);
    await page.getByRole("button", { name: "lay the sheets out" }).click();
    await page
      .getByText(/Take back edition 1 of/)
      .first()
      .waitFor();
    await page.getByRole("button", { name: "issue as edition 2" }).waitFor();
    expect([...(await faultsOf(page)), ...complaints]).toEqual([]);
    await page.close();
  }, 180_000);
});

describe.each(["swaps?part=cell", "shelf", "paper"])("%s on a narrow screen", (room) => {
  it("fits, passes axe-core, and everything can be hit with a glove", async () => {
    const { page, complaints } = await open(room, { width: 390, height: 844 });
    await page.waitForSelector(room.startsWith("swaps") ? ".ledger .do" : ".button.strong");
    expect([...(await faultsOf(page)), ...complaints]).toEqual([]);
    await page.screenshot({ path: join(artifacts, `${room.split("?")[0]}-390-light.png`) });
    await page.close();
  }, 120_000);
});
