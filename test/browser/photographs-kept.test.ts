/**
 * An hour at the bench with a server that keeps dying: thirty entries with a reading each and two photographs, five
 * kills, two pages loaded anew. All of it is there, once each; a photograph is looked at before any server has it.
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import type { Browser, Page } from "playwright-core";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TeardownRecord } from "../../src/server/api.ts";
import { RunningApp, root } from "./running-app.ts";

const ID = "00000000-0000-4000-8000-00000000f0f0";
const example = JSON.parse(readFileSync(`${root}examples/thrandle-5.json`, "utf8")) as TeardownRecord;

let app: RunningApp;
let browser: Browser;
let base = "";

beforeAll(async () => {
  app = await RunningApp.start();
  ({ base, browser } = app);
  const { log: _, readings: __, claims: ___, checks: ____, described: _____, media: ______, ...bare } = example;
  const begun = { ...bare, id: ID, log: [], readings: [], claims: [], media: [], sessions: [] };
  const made = await app.add(begun);
  expect(made.status).toBe(201);
}, 60_000);

afterAll(() => app?.stop());

const recordNow = async (): Promise<TeardownRecord> =>
  ((await (await fetch(`${base}/api/records/${ID}`)).json()) as { record: TeardownRecord }).record;

const says = (page: Page, words: RegExp) => page.locator(".line-kept").filter({ hasText: words }).waitFor();

/** A photograph of its own for each number; one that lies on its side comes to another name with the server. */
const photograph = (red: number, orientation: number): Promise<Buffer> =>
  sharp({ create: { width: 900, height: 600, channels: 3, background: { r: red, g: 120, b: 90 } } })
    .jpeg()
    .withExif({ IFD0: { Copyright: "nobody" }, IFD3: { GPSLatitudeRef: "N", GPSLatitude: "10/1 0/1 0/1" } })
    .withMetadata({ orientation })
    .toBuffer();

async function add(page: Page, name: string, buffer: Buffer): Promise<void> {
  await page.locator("input[type=file]").first().setInputFiles({ name, mimeType: "image/jpeg", buffer });
}

/** The picture that is chosen is drawn, wherever it is. */
const drawn = (page: Page, count: number) =>
  page.waitForFunction((wanted) => {
    const pictures = [...document.querySelectorAll<HTMLImageElement>(".photo-strip img")];
    return pictures.length === wanted && pictures.every((one) => one.complete && one.naturalWidth > 0);
  }, count);

describe("with the server killed five times and the page loaded anew twice", () => {
  it("thirty entries with readings and two photographs are all there, once each", async () => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const open = async () => {
      const page = await context.newPage();
      page.setDefaultTimeout(60_000);
      await page.goto(`${base}/records/${ID}/measuring`);
      await page.locator(".line input").waitFor();
      return page;
    };
    let page = await open();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    const parts = example.parts.filter((part) => !part.base).slice(0, 30);
    expect(parts).toHaveLength(30);
    const say = async (text: string) => {
      const line = page.locator(".line input");
      await line.focus();
      await page.keyboard.insertText(text);
      await page.keyboard.press("Enter");
      await page.waitForFunction(() => document.querySelector<HTMLInputElement>(".line input")!.value === "");
    };
    let photographs = 0;
    for (const [index, part] of parts.entries()) {
      if (index % 6 === 2) await app.kill();
      await say(`lift ${part.name} cup ${index + 1}`);
      await say(`${part.name} ${(1 + index / 100).toFixed(2)} mm`);
      if (index === 8 || index === 20) {
        await says(page, /server does not answer/);
        photographs += 1;
        await add(page, `above ${photographs}.jpg`, await photograph(60 * photographs, index === 8 ? 1 : 6));
        await page.getByText(/^Added/).waitFor();
        await drawn(page, photographs);
        // Loaded anew while nothing answers: it is drawn from what lies in the browser.
        await page.close();
        page = await open();
        await says(page, /kept in this browser|on the way/);
        await drawn(page, photographs);
      }
      if (index % 6 === 4) await app.serve();
    }
    await says(page, /all kept/);
    await drawn(page, 2);
    const record = await recordNow();
    for (const [index, part] of parts.entries()) {
      const text = `lift ${part.name} cup ${index + 1}`;
      expect(
        record.log.filter((one) => one.text === text),
        text,
      ).toHaveLength(1);
      const value = Number((1 + index / 100).toFixed(2));
      expect(
        record.readings.filter((one) => one.values.includes(value)),
        `${value} mm`,
      ).toHaveLength(1);
    }
    expect(record.readings.reduce((sum, one) => sum + one.values.length, 0)).toBe(30);
    expect(record.log.filter((one) => one.media !== undefined)).toHaveLength(2);
    expect(record.log).toHaveLength(32);
    expect(record.media).toHaveLength(2);
    for (const one of record.media) {
      const answer = await fetch(`${base}/api/media/${one.file}`);
      expect(answer.status).toBe(200);
      const bytes = Buffer.from(await answer.arrayBuffer());
      expect(one.hash).toBe(`sha256:${createHash("sha256").update(bytes).digest("hex")}`);
      expect((await sharp(bytes).metadata()).exif).toBeUndefined();
    }
    // The one that lay on its side stands.
    const second = await fetch(`${base}/api/media/${record.media[1]!.file}`);
    expect(await sharp(Buffer.from(await second.arrayBuffer())).metadata()).toMatchObject({ width: 600, height: 900 });
    await context.close();
  }, 150_000);
});

/** Two seconds of a film made in the page itself: a picture that is green from first to last. */
const filmed = (page: Page): Promise<string> =>
  page.evaluate(async () => {
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [640, 360];
    const pen = canvas.getContext("2d")!;
    const recorder = new MediaRecorder(canvas.captureStream(25), { mimeType: "video/webm" });
    const pieces: Blob[] = [];
    recorder.ondataavailable = (event) => pieces.push(event.data);
    const ended = new Promise((done) => {
      recorder.onstop = done;
    });
    recorder.start();
    for (let i = 0; i < 50; i++) {
      pen.fillStyle = "#00a040";
      pen.fillRect(0, 0, 640, 360);
      pen.fillStyle = "#ffffff";
      pen.fillRect(10 * i, 10, 8, 8);
      await new Promise((go) => setTimeout(go, 40));
    }
    recorder.stop();
    await ended;
    const bytes = new Uint8Array(await new Blob(pieces).arrayBuffer());
    return btoa(bytes.reduce((text, byte) => text + String.fromCharCode(byte), ""));
  });

it("a picture of a playing film is kept with one key, tied to its moment and to the part", async () => {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  page.setDefaultTimeout(30_000);
  const part = example.parts.find((one) => !one.base)!;
  await page.goto(`${base}/records/${ID}/log?part=${part.id}`);
  await page.getByRole("button", { name: "words of a recording" }).click();
  await page.locator(".player input[type=file]").waitFor({ state: "attached" });
  const before = await recordNow();
  const buffer = Buffer.from(await filmed(page), "base64");
  await page.locator(".player input[type=file]").setInputFiles({ name: "bench.webm", mimeType: "video/webm", buffer });
  const video = page.locator(".player video");
  await video.waitFor();
  await page.waitForFunction(() => (document.querySelector("video")?.readyState ?? 0) >= 2);
  await video.evaluate(async (one: HTMLVideoElement) => {
    one.muted = true;
    one.loop = true;
    await one.play();
  });
  await page.keyboard.press("Alt+s");
  await page.getByText(/^Added/).waitFor();
  await says(page, /all kept/);
  const record = await recordNow();
  const photos = record.media.filter((one) => one.kind === "photo");
  expect(photos).toHaveLength(before.media.filter((one) => one.kind === "photo").length + 1);
  const still = photos.at(-1)!;
  const entry = record.log.find((one) => one.media === still.id)!;
  expect(entry).toMatchObject({ action: "note", parts: [part.id] });
  expect(entry.at).toBeGreaterThanOrEqual(0);
  const answer = await fetch(`${base}/api/media/${still.file}`);
  const { data, info } = await sharp(Buffer.from(await answer.arrayBuffer()))
    .raw()
    .toBuffer({ resolveWithObject: true });
  expect([info.width, info.height]).toEqual([640, 360]);
  const middle = 3 * (200 * 640 + 320);
  for (const [i, value] of [0, 160, 64].entries()) expect(Math.abs(data[middle + i]! - value)).toBeLessThan(30);
  // A mark while the film runs has its picture too, and no name yet.
  await page.locator(".line-switch").click();
  await page.locator(".line-answer").filter({ hasText: "with the picture of the film" }).waitFor();
  await says(page, /all kept/);
  const marked = (await recordNow()).log.at(-1)!;
  expect(marked).toMatchObject({ action: "note", draft: true });
  expect([marked.text, marked.parts]).toEqual([undefined, undefined]);
  expect((await recordNow()).media.find((one) => one.id === marked.media)).toMatchObject({ kind: "photo" });
  // And it can be measured in.
  await page.getByRole("link", { name: "measure in it" }).click();
  await page.locator(".board-picture").waitFor();
  await page.close();
}, 60_000);

describe("refused in the browser, with nothing stored and nothing sent", () => {
  it.each<readonly [string, string, () => Buffer, RegExp]>([
    ["300 megapixels", "big.png", () => header(20_000, 15_000), /300 megapixels/],
    ["a renamed program", "photo.jpg", () => Buffer.from(`MZ${"\0".repeat(300)}`), /a program for Windows/],
    ["a script in its notes", "note.png", () => header(40, 30, "<script>1</script>"), /a script in the picture's/],
    ["half a picture", "half.png", () => header(40, 30), /a damaged PNG picture/],
  ])("%s", async (_, name, bytes, words) => {
    const page = await browser.newPage();
    page.setDefaultTimeout(30_000);
    const sent: string[] = [];
    page.on("request", (request) => {
      if (request.method() === "POST") sent.push(new URL(request.url()).pathname);
    });
    await page.goto(`${base}/records/${ID}/measuring`);
    const before = (await recordNow()).media;
    await add(page, name, bytes());
    await page.getByText(words).waitFor();
    await says(page, /all kept/);
    expect(sent).not.toContain("/api/media");
    expect((await recordNow()).media).toEqual(before);
    await page.close();
  });
});

/** A PNG that is nothing but its header, of any size, with a note where one is given. */
function header(width: number, height: number, note = ""): Buffer {
  const chunk = (kind: string, data: Buffer) => {
    const frame = Buffer.alloc(8);
    frame.writeUInt32BE(data.length, 0);
    frame.write(kind, 4, "latin1");
    return Buffer.concat([frame, data, Buffer.alloc(4)]);
  };
  const size = Buffer.alloc(13);
  size.writeUInt32BE(width, 0);
  size.writeUInt32BE(height, 4);
  size.set([8, 0], 8);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", size),
    ...(note === "" ? [] : [chunk("tEXt", Buffer.from(`Comment\0${note}`))]),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}
