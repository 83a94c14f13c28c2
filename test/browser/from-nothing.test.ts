/** A phone of the size of the slim one entered from nothing, by keyboard alone, ending with ways in, a class and a report. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { groupsText, levelText, listText, releasesText, screwsText } from "../../src/core/record/written/index.ts";
import type { TeardownRecord } from "../../src/server/api.ts";
import { RunningApp, root } from "./running-app.ts";

const phone: TeardownRecord = JSON.parse(readFileSync(join(root, "examples/thrandle-5.json"), "utf8"));

let app: RunningApp;
let browser: Browser;
let base = "";

beforeAll(async () => {
  app = await RunningApp.start(false);
  ({ base, browser } = app);
}, 60_000);

afterAll(() => app?.stop());

/** Parts in an order in which what one speaks of is there already. */
function inOrder(record: TeardownRecord): TeardownRecord["parts"] {
  const done = new Set(record.parts.filter((part) => part.base).map((part) => part.id));
  const out: TeardownRecord["parts"] = [];
  let left = record.parts.filter((part) => !part.base);
  while (left.length > 0) {
    const ready = left.filter((part) =>
      [...(part.under ?? []).flat(), ...(part.within ? [part.within] : [])].every((id) => done.has(id)),
    );
    expect(ready.length).toBeGreaterThan(0);
    out.push(...ready);
    for (const part of ready) done.add(part.id);
    left = left.filter((part) => !ready.includes(part));
  }
  return out;
}

/** Types into the field that has the focus, and waits until it has been taken. */
async function type(page: Page, text: string): Promise<void> {
  await page.keyboard.insertText(text);
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => (document.activeElement as HTMLInputElement).value === "");
}

it("a phone of 47 parts is typed in, and answers", async () => {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await page.goto(base);
  const name = page.locator(".new-record input").first();
  await name.waitFor();
  await name.focus();
  await page.keyboard.insertText("Typed phone");
  await page.keyboard.press("Enter");
  await page.locator(".grid").first().waitFor();
  const id = new URL(page.url()).pathname.split("/")[2]!;

  // Ids are made of names: the same names give other ids than the example's, so words are looked up by name.
  const words = new Map(phone.parts.map((part) => [part.id, part.base ? "frame" : part.name]));
  const named = (text: string) =>
    text
      .split(/( \+ | or )/)
      .map((word) => words.get(word) ?? word)
      .join("");
  const add = (label: string) => page.locator(`.new-row label:has-text("${label}") input`);
  await add("a tool more").focus();
  for (const tool of phone.tools)
    await type(page, `${tool.id}: ${tool.name.replaceAll(",", "")}, ${tool.kind.replaceAll("-", " ")}`);
  await add("a part more").focus();
  for (const part of inOrder(phone))
    await type(
      page,
      [
        part.name,
        part.role?.replaceAll("-", " "),
        part.under?.length ? `under ${named(groupsText(part.under))}` : undefined,
        levelText(part.level),
        part.material === undefined ? undefined : `of ${part.material}`,
        part.within === undefined ? undefined : `within ${words.get(part.within)}`,
        part.side === undefined ? undefined : `from ${part.side}`,
        part.live ? "live" : undefined,
      ]
        .filter((one) => one !== undefined && one !== "")
        .join("; "),
    );
  await add("a joint more").focus();
  for (const joint of phone.joints)
    await type(
      page,
      [
        `${joint.count ?? 1} ${joint.kind}: ${named(listText(joint.holds))}`,
        joint.kind === "screw" ? screwsText(joint.screws) : undefined,
        joint.reach?.length ? `after ${named(groupsText(joint.reach))}` : undefined,
        joint.side === undefined ? undefined : `from ${joint.side}`,
        joint.power ? "isolates the cell" : undefined,
        releasesText(joint.releases),
      ]
        .filter((one) => one !== undefined && one !== "")
        .join("; "),
    );
  await page
    .locator(".line-kept")
    .filter({ hasText: /all kept/ })
    .waitFor();
  await page.locator(".effect").filter({ hasText: /class/i }).waitFor();

  const { record } = (await (await fetch(`${base}/api/records/${id}`)).json()) as { record: TeardownRecord };
  expect(record.parts).toHaveLength(phone.parts.length);
  expect(record.joints).toHaveLength(phone.joints.length);
  const battery = record.parts.find((part) => part.role === "battery")!;
  const ask = async (path: string, body?: unknown) => {
    const answer = await fetch(`${base}/api/records/${id}/${path}`, {
      ...(body === undefined
        ? {}
        : { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) }),
    });
    return { status: answer.status, text: await answer.text() };
  };
  const way = JSON.parse((await ask("ways", { to: [battery.id], least: "steps" })).text) as {
    steps: number;
    proved: boolean;
  };
  expect(way.proved).toBe(true);
  expect(way.steps).toBeGreaterThan(3);
  expect(JSON.parse((await ask("law?basis=least")).text)).toHaveProperty("index");
  const report = await ask("report");
  expect(report.status).toBe(200);
  expect(report.text).toContain("Typed phone");
  await page.goto(`${base}/records/${id}/law`);
  await page
    .locator("main")
    .filter({ hasText: /index|class/i })
    .waitFor();
  await context.close();
}, 240_000);
