/**
 * An afternoon of ninety entries played through the line: typed shorthand, a caliper that types, a bound key; the server
 * killed twice. All there, once each; and what is left over named with its cup.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { TeardownRecord } from "../../src/server/api.ts";
import { sticksOut, tooSmall } from "./page-checks.ts";
import { RunningApp, root } from "./running-app.ts";

const phone: TeardownRecord = JSON.parse(readFileSync(join(root, "examples/thrandle-5.json"), "utf8"));
const ID = "5f0c1c2e-0000-4000-8000-0000000000aa";
const KEY = "F8";

let app: RunningApp;
let browser: Browser;
let base = "";

beforeAll(async () => {
  app = await RunningApp.start(false);
  ({ base, browser } = app);
}, 60_000);

afterAll(() => app?.stop());

const kept = (page: Page) =>
  page
    .locator(".line-kept")
    .filter({ hasText: /all kept/ })
    .waitFor();

/** The first session's work in the line's shorthand, in its order. */
function shorthand(): string[] {
  const name = (id: string) => phone.parts.find((part) => part.id === id)!.name;
  return phone.log
    .filter((entry) => entry.session === "s1" && entry.parts?.length === 1)
    .flatMap((entry) => {
      const [part] = entry.parts!;
      const joint = phone.joints.find((one) => one.id === entry.joints?.[0]);
      const cup = entry.lies === undefined ? "" : ` ${entry.lies}`;
      if (entry.action === "unscrew") return [`${joint?.count ?? 1} screws ${name(part!)}${cup}`];
      if (entry.action === "unplug") return [`unplug ${name(part!)}`];
      if (entry.action === "lift") return [`lift ${name(part!)}${cup}`];
      return [];
    });
}

it("ninety entries by hand, foot and caliper are all there, once each", async () => {
  const { log: _, readings: __, claims: ___, checks: ____, described: _____, media: ______, ...bare } = phone;
  const begun = { ...bare, id: ID, log: [], readings: [], claims: [], media: [], sessions: [] };
  const made = await app.add(begun);
  expect(made.status).toBe(201);
  const context = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true });
  await context.addInitScript((key) => localStorage.setItem("unseam:line-key", key), KEY);
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await page.goto(`${base}/records/${ID}/structure`);
  const line = page.locator(".line input");
  await line.waitFor();

  const lines = shorthand().slice(0, 54);
  expect(lines).toHaveLength(54);
  const weighed = phone.parts.filter((part) => !part.base).slice(0, 24);
  let typed = 0;
  const say = async (text: string) => {
    await line.focus();
    await page.keyboard.insertText(text);
    await page.keyboard.press("Enter");
    typed += 1;
    await page.waitForFunction(() => (document.activeElement as HTMLInputElement).value === "");
  };
  for (const [index, text] of lines.entries()) {
    if (index === 15 || index === 40) await app.kill();
    await say(text);
    if (index === 20 || index === 45) await app.serve();
  }
  for (const [index, part] of weighed.entries()) await say(`${part.name} ${(1 + index / 100).toFixed(2)} mm`);
  for (let i = 0; i < 12; i += 1) {
    await page.keyboard.press(KEY);
    // Two presses close together mean the last again.
    await page.waitForTimeout(700);
    typed += 1;
  }
  expect(typed).toBe(90);
  await kept(page);

  const { record } = (await (await fetch(`${base}/api/records/${ID}`)).json()) as { record: TeardownRecord };
  const texts = record.log.map((entry) => entry.text);
  for (const text of lines)
    expect(texts.filter((one) => one === text)).toHaveLength(lines.filter((one) => one === text).length);
  expect(record.readings).toHaveLength(weighed.length);
  expect(record.log.length + record.readings.length).toBe(90);
  expect(new Set([...record.log, ...record.readings].map((one) => one.id)).size).toBe(90);

  // One question away: where the screws lie.
  await line.focus();
  const asked = record.log.find((entry) => entry.action === "unscrew" && entry.lies !== undefined)!;
  const part = record.parts.find((one) => one.id === asked.parts?.[0])!;
  await page.keyboard.insertText(`where are the screws of the ${part.name.toLowerCase()}?`);
  await page.keyboard.press("Enter");
  await page.locator(".line-answer").filter({ hasText: asked.lies! }).waitFor();

  // Nothing went back: every cup is named.
  await page.goto(`${base}/records/${ID}/afternoon?when=done`);
  await page
    .locator("main")
    .filter({ hasText: /not to be called closed/ })
    .waitFor();
  await page.locator("main").filter({ hasText: asked.lies! }).waitFor();
  await context.close();
}, 240_000);

it.each([
  ["in one hand", { width: 390, height: 844 }],
  ["on a tablet", { width: 820, height: 1180 }],
])(
  "the whole afternoon works by touch and without the server, %s",
  async (_, viewport) => {
    const context = await browser.newContext({ viewport, hasTouch: true, isMobile: true });
    const page = await context.newPage();
    page.setDefaultTimeout(60_000);
    await page.goto(`${base}/records/${ID}/afternoon`);
    await kept(page);
    // The worker that keeps the page has it before the server goes.
    await page.evaluate("navigator.serviceWorker.ready.then(() => true)");
    await page.reload();
    await kept(page);
    await app.kill();
    await page.reload();
    for (const view of ["the evening before", "while it is open", "when it is done"]) {
      await page.getByRole("button", { name: view, exact: true }).tap();
      await page.locator("main h1").waitFor();
      const small = await tooSmall(
        page,
        "main button, main select, main input:not(.unseen), .line button, .line input",
      );
      expect(small, view).toEqual([]);
      expect(await sticksOut(page), view).toBeLessThanOrEqual(0);
    }
    const line = page.locator(".line input");
    await line.tap();
    await page.keyboard.insertText(`touched at ${viewport.width}`);
    await page.keyboard.press("Enter");
    await page
      .locator(".line-kept")
      .filter({ hasText: /server does not answer: 1 change kept in this browser/ })
      .waitFor();
    await app.serve();
    await kept(page);
    const { record } = (await (await fetch(`${base}/api/records/${ID}`)).json()) as { record: TeardownRecord };
    expect(record.log.filter((entry) => entry.text === `touched at ${viewport.width}`)).toHaveLength(1);
    await context.close();
  },
  240_000,
);
