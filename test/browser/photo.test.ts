/**
 * Measuring in a real browser: a photograph is added, its board set by clicks and by the card, screws placed by pointer
 * and keyboard and nudged, an outline traced, readings typed and sent over a simulated serial line; all of it kept.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Point } from "../../src/core/photo/index.ts";
import type { TeardownRecord } from "../../src/core/record/index.ts";
import { sticksOut } from "./page-checks.ts";
import { bodyPicture, pixelAt, SIZE } from "./photo-picture.ts";
import { artifacts, RunningApp } from "./running-app.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const JOINT = "top-shield-screws";

let app: RunningApp;
let browser: Browser;
let base = "";
let phone = "";
let screws: Point[] = [];

const recordNow = async (): Promise<TeardownRecord> =>
  ((await (await fetch(`${base}/api/records/${phone}`)).json()) as { record: TeardownRecord }).record;

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
  const heads = (await (await fetch(`${base}/api/records`)).json()) as { id: string; parts: number }[];
  for (const head of heads) {
    phone = head.id;
    const joint = (await recordNow()).joints.find((one) => one.id === JOINT);
    if (joint !== undefined) {
      screws = joint.screws!.each!.map((one) => one.at!);
      break;
    }
  }
  // The places are known; they are taken away, to be found again on the photograph.
  const edits = [{ kind: "set", list: "joints", id: JOINT, path: ["screws", "each"] }];
  const revision = heads.find((one) => one.id === phone) as unknown as { revision: number };
  await fetch(`${base}/api/records/${phone}/edits`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ on: revision.revision, edits }),
  });
}, 60_000);

afterAll(() => app?.stop());

async function open(address: string, before?: string): Promise<{ page: Page; complaints: string[] }> {
  const page = await browser.newPage({
    viewport: { width: 1280, height: 800 },
    reducedMotion: "reduce",
    bypassCSP: true,
  });
  const complaints: string[] = [];
  page.on("console", (message) => {
    if (message.type() === "error" || message.type() === "warning") complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(error.message));
  if (before !== undefined) await page.addInitScript(before);
  await page.goto(base + address);
  return { page, complaints };
}

async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axeSource);
  const found = (await page.evaluate(
    "axe.run(document, { resultTypes: ['violations'] }).then((r) => r.violations)",
  )) as { id: string; nodes: { target: unknown[]; failureSummary?: string }[] }[];
  return found.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => `${node.target.join(" ")} ${node.failureSummary}`)}`,
  );
}

async function click(page: Page, place: Point): Promise<void> {
  const board = page.locator(".board-picture");
  await board.scrollIntoViewIfNeeded();
  const box = (await board.boundingBox())!;
  const [x, y] = pixelAt(place);
  await board.click({ position: { x: (x / SIZE[0]) * box.width, y: (y / SIZE[1]) * box.height } });
}

/** Until the record says so: an edit is on its way for a moment. */
async function until<T>(look: (record: TeardownRecord) => T | undefined | false): Promise<T> {
  const end = Date.now() + 15_000;
  for (;;) {
    const found = look(await recordNow());
    if (found !== undefined && found !== false) return found;
    if (Date.now() > end) throw new Error("the record never came to say so");
    await new Promise((done) => setTimeout(done, 100));
  }
}

const jointOf = (record: TeardownRecord) => record.joints.find((one) => one.id === JOINT)!;

describe("measuring", () => {
  it("from a photograph: board, card, screws by pointer and keyboard, outline", async () => {
    const { page, complaints } = await open(`/records/${phone}/measuring?part=top-shield`);
    await page.waitForSelector(".photo-strip");
    const file = page.locator("input[type=file]").first();
    await file.setInputFiles({ name: "photo.jpg", mimeType: "image/jpeg", buffer: Buffer.from("MZ\x90\0 a program") });
    await page.getByText("a program for Windows").waitFor();
    const buffer = await bodyPicture(72.4, 152, screws);
    await file.setInputFiles({ name: "from above.jpg", mimeType: "image/jpeg", buffer });
    await page.getByText("position data removed").waitFor();
    await page.waitForSelector(".board-picture");
    const photo = await until((record) => record.media.find((one) => one.hash !== undefined));
    expect((await recordNow()).log.at(-1)).toMatchObject({ media: photo.id, parts: ["top-shield"] });
    expect(photo.view?.focal).toBe(60);

    // Two marks on each edge; the next edge is offered by itself.
    const marks: Point[] = [
      [0, 20],
      [0, 130],
      [72.4, 20],
      [72.4, 130],
      [14, 152],
      [58, 152],
      [14, 0],
      [58, 0],
    ];
    // One click after the other, none waited for: all are kept, two on each edge.
    for (const place of marks) await click(page, place);
    await until((record) => {
      const edges = record.media.find((one) => one.id === photo.id)?.view?.edges ?? [];
      return edges.length === 4 && edges.every((one) => one.at.length === 2);
    });
    await page.getByText("px a mm").waitFor();
    // A click lands on a px of the screen; the picture knows better.
    await page.getByRole("button", { name: "bring marks onto the edges" }).click();
    await page.getByText("On the edge now: left, right, top, bottom").waitFor();
    await until((record) => {
      const left = record.media.find((one) => one.id === photo.id)?.view?.edges?.find((one) => one.edge === "left");
      return left?.at.every(([x]) => Math.abs(x - pixelAt([0, 0])[0]) < 0.3);
    });
    await page.getByRole("button", { name: "find the scale card" }).click();
    await page.getByText("24 of 24 spots").waitFor();
    await until((record) => record.media.find((one) => one.id === photo.id)?.view?.card?.points.length === 24);
    expect(await violations(page)).toEqual([]);
    await page.screenshot({ path: join(artifacts, "measuring-board-1280-light.png") });

    await page.getByRole("button", { name: "place screws" }).click();
    await page.getByRole("combobox", { name: "screws" }).selectOption(JOINT);
    for (const [i, place] of screws.slice(0, -1).entries()) {
      await click(page, place);
      await until((record) => (jointOf(record).screws?.each ?? []).length === i + 1);
    }
    // The last by keyboard: leave the mark, move the free cross, set, nudge.
    const board = page.locator(".board-picture");
    await board.focus();
    await page.keyboard.press("Escape");
    await page.keyboard.press("Enter");
    const before = await until((record) => jointOf(record).screws?.each?.[screws.length - 1]?.at);
    await page.getByText("all placed").waitFor();
    // Ten presses of a key, as fast as it repeats: none is lost.
    for (let i = 0; i < 10; i++) await page.keyboard.press("ArrowRight");
    await until((record) => Math.abs(jointOf(record).screws!.each!.at(-1)!.at![0] - before[0] - 0.5) < 0.03);
    const each = jointOf(await recordNow()).screws!.each!;
    screws.slice(0, -1).forEach((truth, i) => {
      const [x, y] = each[i]!.at!;
      // A click lands on a px of the screen, a third of a millimetre here.
      expect(Math.hypot(x - truth[0], y - truth[1]), `screw ${i + 1}`).toBeLessThan(0.5);
    });
    expect(await violations(page)).toEqual([]);
    await page.screenshot({ path: join(artifacts, "measuring-screws-1280-light.png") });

    // The first screw, placed just now, refines the view as a point of known place; another is typed.
    await page.getByRole("button", { name: "set the board" }).click();
    await page.getByRole("button", { name: /points of known place/ }).click();
    const next = page.getByRole("combobox", { name: "the next mark is" });
    await next.selectOption(`${JOINT} 1`);
    await click(page, screws[0]!);
    const viewNow = (record: TeardownRecord) => record.media.find((one) => one.id === photo.id)?.view;
    const point = await until((record) => viewNow(record)?.points?.[0]);
    expect(Math.hypot(point.is[0] - screws[0]![0], point.is[1] - screws[0]![1])).toBeLessThan(0.5);
    expect(point.level).toBeTypeOf("number");
    await next.selectOption("a place of your own");
    for (const [field, text] of [
      ["to the right", "36.2"],
      ["up", "7.6cm"],
      ["below the back face by", "0"],
    ]) {
      await page.getByRole("textbox", { name: `Known point, ${field}, in mm` }).fill(text!);
      await page.keyboard.press("Enter");
    }
    await click(page, [36.2, 76]);
    await until((record) => viewNow(record)?.points?.[1]?.is[1] === 76);
    await page.getByRole("button", { name: "take away point 2" }).waitFor();
    expect(await violations(page)).toEqual([]);
    await page.screenshot({ path: join(artifacts, "measuring-points-1280-light.png"), fullPage: true });
    await page.getByRole("button", { name: "take away point 2" }).click();
    await until((record) => viewNow(record)?.points?.length === 1);

    await page.getByRole("button", { name: "trace outlines" }).click();
    await page.getByText("area, 95 %").waitFor();
    const level = async () => (await recordNow()).parts.find((one) => one.id === "top-shield")!.level!;
    const stood = await level();
    await page.getByRole("slider", { name: "to", exact: true }).focus();
    await page.keyboard.press("ArrowRight");
    await until((record) => {
      const now = record.parts.find((one) => one.id === "top-shield")!.level!;
      return now[0] === stood[0] && Math.abs(now[1] - stood[1] - 0.01) < 0.001;
    });
    await page.getByRole("button", { name: "trace anew" }).click();
    for (const corner of [
      [10, 20],
      [50, 20],
      [50, 60],
      [10, 60],
    ] as const) {
      await click(page, corner);
    }
    const outline = await until((record) => {
      const ring = record.parts.find((one) => one.id === "top-shield")?.outline?.[0];
      return ring?.length === 4 && ring.some(([x, y]) => Math.hypot(x - 10, y - 60) < 1) && ring;
    });
    const area = outline.reduce((sum, [x, y], i) => {
      const [u, v] = outline[(i + 1) % outline.length]!;
      return sum + (x * v - u * y) / 2;
    }, 0);
    expect(Math.abs(area / 1600 - 1)).toBeLessThan(0.03);
    await page.screenshot({ path: join(artifacts, "measuring-outline-1280-light.png"), fullPage: true });
    await page.getByRole("button", { name: "take back" }).click();
    await until((record) => record.parts.find((one) => one.id === "top-shield")?.outline?.[0]?.length !== 4);
    expect(complaints.filter((one) => !/422/.test(one))).toEqual([]);
    await page.close();
  }, 90_000);

  it("with instruments: typed in any way, and over a serial line", async () => {
    const fake = `Object.defineProperty(navigator, "serial", { value: { requestPort: async () => ({
      open: async () => {}, close: async () => {},
      readable: new ReadableStream({ start(c) { const say = (t) => c.enqueue(new TextEncoder().encode(t));
        globalThis.say = say; say("US,GS,  3.1 g\\r\\n"); } }) }) } });`;
    const { page, complaints } = await open(`/records/${phone}/measuring?with=instruments`, fake);
    const field = page.locator(".next-reading input");
    await page.getByRole("button", { name: "measure it next" }).waitFor();
    const choose = async (quantity: string, of: string) => {
      await page.getByRole("combobox", { name: "or the" }).selectOption(quantity);
      await page.getByRole("combobox", { name: "of", exact: true }).selectOption(of);
      await page.getByRole("button", { name: "measure it next" }).click();
      await field.waitFor();
    };
    await choose("mass", "top-shield");
    await field.fill("1,234 g");
    await page.keyboard.press("Enter");
    await page.getByText("two things").waitFor();
    const before = (await recordNow()).readings;
    await field.fill("27,3 g");
    await page.keyboard.press("Enter");
    await page.getByText("Kept:").waitFor();
    const values = (record: TeardownRecord) =>
      record.readings
        .filter((one) => one.quantity === "mass" && one.of.length === 1 && one.of[0] === "top-shield")
        .flatMap((one) => one.values);
    await until((record) => values(record).includes(27.3));
    expect(values(await recordNow())).toHaveLength(values({ readings: before } as TeardownRecord).length + 1);

    await page.getByRole("button", { name: "connect an instrument" }).click();
    await page.getByText("still moving").waitFor();
    await choose("thickness", "top-shield");
    const scale = (await recordNow()).instruments.find((one) => one.kind === "scale")!.id;
    await page.getByRole("combobox", { name: "with", exact: true }).selectOption(scale);
    const kept = (await recordNow()).readings.length;
    const say = (text: string) =>
      page.evaluate((line) => (globalThis as unknown as { say(t: string): void }).say(line), text);
    await say("ST,GS, 0.0 g\r\n");
    const zero = await until((record) => (record.readings.length > kept ? record.readings.at(-1) : undefined));
    expect(zero).toMatchObject({ of: ["zero"], values: [0], unit: "g", instrument: scale });
    await say("9".repeat(500));
    await page.getByText("has not ended").waitFor();
    expect((await recordNow()).readings).toHaveLength(kept + 1);
    expect(await violations(page)).toEqual([]);
    await page.screenshot({ path: join(artifacts, "measuring-instruments-1280-light.png") });
    await page.setViewportSize({ width: 390, height: 844 });
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      for (const address of ["measuring?with=instruments", "measuring?photo=photo-7&part=top-shield"]) {
        await page.goto(`${base}/records/${phone}/${address}`);
        await page.waitForSelector(address.includes("photo=") ? ".board-picture" : ".board-fields");
        expect(await violations(page), `${address} ${colorScheme}`).toEqual([]);
        const wide = await sticksOut(page);
        expect(wide, `${address} ${colorScheme}`).toBeLessThanOrEqual(0);
        await page.screenshot({
          path: join(artifacts, `measuring-${address.length}-390-${colorScheme}.png`),
          fullPage: true,
        });
      }
    }
    expect(complaints).toEqual([]);
    await page.close();
  }, 60_000);
});
