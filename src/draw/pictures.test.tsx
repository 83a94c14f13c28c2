/**
 * The pictures as stored files: `baseline/NAME.svg`. A missing baseline fails; after a change that was meant, look at the
 * new pictures and store them with `UPDATE_PICTURES=1 npx vitest run src/draw`.
 */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { earlierPhone, measuredPhone } from "../../test/fixtures/small-figures.ts";
import { smallPhone } from "../../test/fixtures/small-phone.ts";
import { handWay } from "../../test/fixtures/small-way.ts";
import { compareRecords, figuresOf } from "../core/measure/index.ts";
import {
  closedView,
  drawBars,
  drawBudget,
  drawClaimStrip,
  drawDevice,
  drawDimensions,
  drawLadder,
  drawRibbon,
  drawWaterfall,
  drawWeights,
  massPicture,
  placeDevice,
  rungsTo,
  type Scene,
  thicknessPicture,
} from "../figures/index.ts";
import { SceneView } from "./scene-view.tsx";
import { svgText } from "./svg.ts";

const device = placeDevice(smallPhone)!;
const closed = closedView(device, 460, 640);
const picture = (view: typeof closed): Scene => drawDevice(device, view, "Study phone").scene;

const measured = figuresOf(measuredPhone, earlierPhone);
const beside = compareRecords(measuredPhone, earlierPhone);
const fall = { device: "Study phone", sibling: "Earlier phone", chosen: "battery" };

const pictures: Readonly<Record<string, () => Scene>> = {
  "plan-closed": () => picture(closed),
  "plan-way-in": () =>
    picture({
      ...closed,
      depth: 1.2,
      chosen: new Set(["battery"]),
      way: new Set(["back", "cover", "speaker", "coil"]),
      wayJoints: new Set(["cover-screws", "speaker-screws"]),
    }),
  "plan-from-display": () => picture({ ...closed, seen: "front", depth: 5.7, chosen: new Set(["port"]) }),
  "plan-step": () =>
    picture({
      ...closed,
      away: new Set(["back", "cover"]),
      released: new Set(["cover-screws"]),
      chosen: new Set(["coil"]),
    }),
  "plan-narrow": () => picture({ ...closed, width: 350, height: 430, depth: 0.8 }),
  ladder: () => drawLadder(rungsTo(smallPhone, "battery")!, "battery", 420),
  ribbon: () => drawRibbon(smallPhone, handWay, { width: 860 }),
  "ribbon-narrow": () => drawRibbon(smallPhone, handWay, { width: 360, chosen: 4 }),
  "waterfall-mass": () => drawWaterfall(beside.mass, { ...fall, width: 700, quantity: "Mass" })!,
  "waterfall-thickness": () => drawWaterfall(beside.thickness[0]!, { ...fall, width: 340, quantity: "Thickness" })!,
  "budget-mass": () => drawBudget(massPicture(measuredPhone, measured.mass), { width: 700, quantity: "Mass" }),
  "budget-thickness": () =>
    drawBudget(thicknessPicture(measuredPhone, measured.thickness[0]!), { width: 340, quantity: "Thickness" }),
  "claim-difference": () => drawClaimStrip(measured.claims[0]!, 320)!,
  "claim-share": () => drawClaimStrip(measured.claims[2]!, 320)!,
  dimensions: () => drawDimensions(measuredPhone, measured.thickness[0]!, { width: 700, chosen: "battery" })!,
  weights: () =>
    drawWeights(
      [
        {
          name: "depth",
          weight: 25,
          points: 2.5,
          words: "25 % of 2.50",
          parts: [
            { part: "battery", name: "battery", weight: 50, points: 3 },
            { name: "display", weight: 45, points: 2 },
            { name: "button", weight: 5, points: null },
          ],
        },
        { name: "updates", weight: 15, points: 3, words: "15 % of 3.00" },
        { name: "information", weight: 15, points: null, words: "no points" },
      ],
      {
        width: 480,
        index: { value: 2.64, words: "index 2.64" },
        before: { value: 2.34, words: "as found 2.34" },
        limits: [1, 1.75, 2.55, 3.35, 4],
        chosen: "battery",
      },
    ),
  "mass-bars": () =>
    drawBars(
      [
        {
          part: "battery",
          name: "Battery",
          figure: { value: 61.32, low: 61.29, high: 61.35 },
          sibling: { value: 58.1, low: 57.9, high: 58.3 },
          words: "61.32 ± 0.03 g",
        },
        { part: "display", name: "Display", figure: { value: 41.1, low: 39, high: 43.2 }, words: "41.1 ± 2.1 g" },
        { name: `<script>"name"</script> & 'more' that is far too long`, figure: { value: 0.4 }, words: "0.4 g" },
      ],
      { width: 620, unit: "g", quantity: "Mass", sibling: "Study phone 2", chosen: "battery" },
    ),
};

describe.each(Object.entries(pictures))("%s", (name, make) => {
  const file = new URL(`./baseline/${name}.svg`, import.meta.url);
  const svg = svgText(make(), { id: name, standalone: true });

  it("is the stored picture", () => {
    if (process.env.UPDATE_PICTURES) writeFileSync(file, `${svg}\n`);
    expect(existsSync(file), `no baseline ${file.pathname}: look at the picture, then UPDATE_PICTURES=1`).toBe(true);
    expect(`${svg}\n`).toBe(readFileSync(file, "utf8"));
  });

  it("is the same in React as in text", () => {
    expect(renderToStaticMarkup(<SceneView scene={make()} id={name} />)).toBe(svgText(make(), { id: name }));
  });

  it("holds no number that is not finite and stays on its sheet", () => {
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    const scene = make();
    expect(scene.width).toBeGreaterThan(0);
    expect(scene.height).toBeGreaterThan(0);
  });
});

describe("markup", () => {
  it("writes names as text, whatever is in them", () => {
    const svg = svgText(pictures["mass-bars"]!(), { id: "x" });
    expect(svg).not.toContain("<script");
    expect(svg).toContain("&lt;script&gt;");
  });

  it("gives two pictures on a page different ids", () => {
    const ids = (id: string) =>
      [...svgText(pictures["plan-way-in"]!(), { id }).matchAll(/ id="([^"]+)"/g)].map((m) => m[1]);
    expect(ids("a").length).toBeGreaterThan(1);
    expect(ids("a").filter((one) => ids("b").includes(one))).toEqual([]);
  });
});
