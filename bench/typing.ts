/**
 * A hundred edits a second typed into a record of sixty parts, in Chromium: how long the page stands still meanwhile.
 * `node --import tsx bench/typing.ts [SECONDS]` prints Markdown. It wants a build (`npm run build`) and Chromium.
 *
 * A letter more and Enter every 10 ms, as keys of the keyboard, and to the next field after each tenth: three hundred
 * changes of the record. Told are how long after a key the page shows what it did (Event Timing, W3C: from the moment
 * of the key to the next picture, in steps of 8 ms), the tasks of 50 ms and more (Long Tasks, W3C), and when all was kept.
 */
import { readFileSync } from "node:fs";
import { cpus, loadavg } from "node:os";
import type { TeardownRecord } from "../src/core/record/index.ts";
import { RunningApp, root } from "../test/browser/running-app.ts";

const ID = "00000000-0000-4000-8000-00000000aaaa";
const EDITS = 100 * Number(process.argv[2] ?? 3);

/** The largest example, with bare parts more until there are sixty. */
function sixtyParts(): TeardownRecord {
  const record = JSON.parse(readFileSync(`${root}examples/thrandle-5.json`, "utf8")) as TeardownRecord;
  const more = Array.from({ length: 60 - record.parts.length }, (_, i) => ({ id: `more-${i}`, name: `Part ${i}` }));
  return { ...record, id: ID, parts: [...record.parts, ...more] } as TeardownRecord;
}

interface Told {
  readonly long: number[];
  readonly keys: number[];
}

const example = sixtyParts();
const app = await RunningApp.start();
try {
  const made = await app.add(example);
  if (made.status !== 201) throw new Error(await made.text());
  const page = await app.browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.goto(`${app.base}/records/${ID}/structure?table=fill-in`);
  await page.locator(".grid").first().waitFor();
  await page
    .locator(".line-kept")
    .filter({ hasText: /all kept/ })
    .waitFor();
  // What the page works out on being opened is over.
  await page.locator(".effect").filter({ hasNotText: "Working out" }).waitFor({ timeout: 30_000 });
  if (process.env.UNSEAM_PROFILE) {
    const client = await page.context().newCDPSession(page);
    await client.send("Profiler.enable");
    await client.send("Profiler.setSamplingInterval", { interval: 1000 });
    await client.send("Profiler.start");
    setTimeout(async () => {
      const { profile } = (await client.send("Profiler.stop")) as { profile: unknown };
      const { writeFileSync } = await import("node:fs");
      writeFileSync(process.env.UNSEAM_PROFILE!, JSON.stringify(profile));
    }, 4000);
  }
  const client = await page.context().newCDPSession(page);
  await page.evaluate(() => {
    const told: Told = { long: [], keys: [] };
    Object.assign(globalThis, { told });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) told.long.push(entry.duration);
    }).observe({ type: "longtask" });
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) if (entry.name === "keydown") told.keys.push(entry.duration);
    }).observe({ type: "event", durationThreshold: 16 } as PerformanceObserverInit);
  });
  const fields = example.parts
    .slice(0, Math.ceil(EDITS / 10))
    .map((part) => `input[aria-label="material of ${part.id}"]`);
  await page.locator(fields[0]!).focus();
  await client.send("Performance.enable", { timeDomain: "threadTicks" });
  const metric = async (name: string) =>
    (await client.send("Performance.getMetrics")).metrics.find((one) => one.name === name)?.value ?? Number.NaN;
  const before = await metric("ThreadTime");
  const begun = performance.now();
  const sent: Promise<unknown>[] = [];
  for (let i = 0; i < EDITS; i++) {
    const wait = begun + 10 * i - performance.now();
    if (wait > 0) await new Promise((go) => setTimeout(go, wait));
    if (i > 0 && i % 10 === 0)
      sent.push(page.evaluate((field) => document.querySelector<HTMLElement>(field)?.focus(), fields[i / 10]!));
    sent.push(client.send("Input.insertText", { text: String.fromCharCode(97 + (i % 26)) }));
    const key = { key: "Enter", code: "Enter", windowsVirtualKeyCode: 13 };
    sent.push(client.send("Input.dispatchKeyEvent", { type: "rawKeyDown", ...key }));
    sent.push(client.send("Input.dispatchKeyEvent", { type: "keyUp", ...key }));
  }
  await Promise.all(sent);
  const typed = performance.now() - begun;
  await page
    .locator(".line-kept")
    .filter({ hasText: /all kept/ })
    .waitFor();
  const took = performance.now() - begun;
  const busy = 1000 * ((await metric("ThreadTime")) - before);
  const told = await page.evaluate(() => (globalThis as unknown as { told: Told }).told);
  const answer = (await (await fetch(`${app.base}/api/records/${ID}`)).json()) as { record: TeardownRecord };
  const letters = answer.record.parts.reduce(
    (sum, part, i) => sum + (part.material ?? "").length - (example.parts[i]!.material ?? "").length,
    0,
  );
  const sorted = [...told.keys].sort((a, b) => a - b);
  // What is shown within 16 ms is not told by the browser.
  const share = (p: number) => {
    const at = Math.ceil(p * EDITS) - 1 - (EDITS - sorted.length);
    return at < 0 ? "under 16" : (sorted[Math.min(sorted.length - 1, at)] ?? 0).toFixed(0);
  };
  const rows: readonly (readonly [string, string | number])[] = [
    ["key until it is shown: middle of all", share(0.5)],
    ["the same, 95 of 100", share(0.95)],
    ["the same, the longest", share(1)],
    ["tasks of 50 ms and more: how many", told.long.length],
    ["the longest of them", Math.max(0, ...told.long).toFixed(0)],
    ["processor's time of the page, a key", (busy / EDITS).toFixed(1)],
    ["first key until the last was taken by the page", typed.toFixed(0)],
    ["first key until all was kept", took.toFixed(0)],
  ];
  console.log("# A hundred edits a second typed into a record of sixty parts\n");
  console.log(
    `${cpus().length} x ${cpus()[0]?.model ?? "processor"}, load ${loadavg()[0]!.toFixed(1)}, ${EDITS} edits.\n`,
  );
  console.log("| what | ms |");
  console.log("| --- | --- |");
  for (const [what, ms] of rows) console.log(`| ${what} | ${ms} |`);
  console.log(`\n${letters} of ${EDITS} letters are on the server.`);
} finally {
  await app.stop();
}
