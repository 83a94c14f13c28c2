/** What the pictures of figures show agrees with the figures: lengths on the axis, order, the band against zero. */
import { describe, expect, it } from "vitest";
import { earlierPhone, measuredPhone } from "../../test/fixtures/small-figures.ts";
import { compareRecords, figuresOf } from "../core/measure/index.ts";
import {
  drawBudget,
  drawClaimStrip,
  drawDimensions,
  drawWaterfall,
  fallsOf,
  massPicture,
  type Shape,
  thicknessPicture,
} from "./index.ts";

const figures = figuresOf(measuredPhone, earlierPhone);
const compared = compareRecords(measuredPhone, earlierPhone);
const options = { width: 700, device: "Study phone", sibling: "Earlier phone", quantity: "Mass" };
const flat = (shapes: readonly Shape[]): readonly Shape[] =>
  shapes.flatMap((one) => (one.kind === "group" ? flat(one.children) : [one]));
const words = (shapes: readonly Shape[]) => flat(shapes).flatMap((one) => (one.kind === "text" ? [one.text] : []));

describe("the waterfall", () => {
  it("goes from the sibling's total to the device's, each bar from where the last one ended", () => {
    for (const whole of [false, true])
      for (const explained of [compared.mass, ...compared.thickness]) {
        const falls = fallsOf(explained, whole);
        expect(falls[0]!.from).toBe(explained.total!.b);
        expect(falls.at(-1)!.to).toBeCloseTo(explained.total!.a, 9);
        for (let i = 1; i < falls.length; i++) expect(falls[i]!.from).toBe(falls[i - 1]!.to);
      }
  });
  it("draws lengths in proportion to the changes", () => {
    const scene = drawWaterfall(compared.mass, options)!;
    const bars = flat(scene.shapes).flatMap((one) => (one.kind === "polygon" ? [one.rings[0]!] : []));
    const falls = fallsOf(compared.mass);
    expect(bars.length).toBe(falls.length);
    const perGram = (bars[0]![2]![0] - bars[0]![0]![0]) / (falls[0]!.to - falls[0]!.from);
    bars.forEach((bar, i) => expect(bar[2]![0] - bar[0]![0]).toBeCloseTo(perGram * (falls[i]!.to - falls[i]!.from), 6));
  });
  it("says what each is, with its interval, and that the axis does not begin at zero", () => {
    const said = words(drawWaterfall(compared.mass, options)!.shapes);
    expect(said).toContain("−9.100 ± 0.085 g");
    expect(said.some((one) => one.includes("does not begin at zero"))).toBe(true);
  });
  it("is none where a whole was not measured", () => {
    expect(drawWaterfall({ ...compared.mass, total: null }, options)).toBeNull();
  });
  it("keeps everything on a narrow sheet", () => {
    for (const one of flat(drawWaterfall(compared.mass, { ...options, width: 340 })!.shapes))
      if (one.kind === "polygon") for (const [x] of one.rings[0]!) expect(x > 0 && x < 340, String(x)).toBe(true);
  });
});

describe("the budget", () => {
  it("lays the parts end to end, as long as their sum, and shows the band that holds zero just where it closes", () => {
    const picture = massPicture(measuredPhone, figures.mass);
    const scene = drawBudget(picture, { width: 640, quantity: "Mass" });
    const sum = picture.pieces.reduce((total, one) => total + one.value, 0);
    expect(sum).toBeCloseTo(figures.mass.sum!, 9);
    const rects = flat(scene.shapes).flatMap((one) => (one.kind === "rect" ? [one] : []));
    const row = rects.filter((one) => one.height === 26 && one.y < 40);
    const laid = row.reduce((total, one) => total + one.width, 0);
    expect(laid / rects[0]!.width).toBeCloseTo(sum / figures.mass.device!, 9);
    const band = rects.find((one) => one.look.fill === "wash")!;
    const zero = flat(scene.shapes).find((one) => one.kind === "line" && one.look.weight === "line")!;
    const holds = zero.kind === "line" && zero.x1 >= band.x && zero.x1 <= band.x + band.width;
    expect(holds).toBe(figures.mass.closes);
  });
  it("lists layers from the back downwards and the gaps as stated", () => {
    const { pieces, residual } = thicknessPicture(measuredPhone, figures.thickness[0]!);
    expect(pieces.map((one) => one.name)).toEqual([
      "Back glass",
      "Frame",
      "Charging coil",
      "Battery",
      "Display",
      "gap: air under the back",
      "gap: pull tabs",
    ]);
    expect(residual!.words).toBe("0.100 ± 0.087 mm unaccounted for");
  });
  it("says so where nothing was weighed", () => {
    const empty = figuresOf({ ...measuredPhone, readings: [], claims: [] });
    expect(words(drawBudget(massPicture(measuredPhone, empty.mass), { width: 300, quantity: "Mass" }).shapes)[0]).toBe(
      "Mass: the whole was not measured",
    );
  });
});

describe("a claim's strip", () => {
  it("stands on the ground where it holds just where it is supported", () => {
    for (const claim of figures.claims) {
      const scene = drawClaimStrip(claim, 300)!;
      const ground = flat(scene.shapes).find((one) => one.kind === "rect" && one.look.fill === "warm");
      const dot = flat(scene.shapes).find((one) => one.kind === "circle");
      if (ground?.kind !== "rect" || dot?.kind !== "circle") throw new Error(`${claim.id} is not drawn whole`);
      const on = dot.cx >= ground.x && dot.cx <= ground.x + ground.width;
      if (claim.verdict !== "cannot-tell") expect(on, claim.id).toBe(claim.verdict === "supported");
    }
    expect(figures.claims.map((one) => one.verdict)).toEqual([
      "supported",
      "supported",
      "not-supported",
      "not-supported",
    ]);
  });
  it("reads a share in per cent and names its limit", () => {
    const share = figures.claims.find((one) => one.id === "share")!;
    expect(drawClaimStrip(share, 300)!.title).toMatch(/^Measured 27\.8\d+ ± 0\.0\d+ %; as claimed it lies above 25 %$/);
    const under = figures.claims.find((one) => one.id === "under")!;
    expect(drawClaimStrip(under, 300)!.title).toContain("below 20 %");
  });
  it("is none where nothing was measured", () => {
    const bare = figuresOf({ ...measuredPhone, readings: [] }, earlierPhone);
    expect(bare.claims.map((one) => drawClaimStrip(one, 300))).toEqual([null, null, null, null]);
  });
});

describe("the section with dimensions", () => {
  it("names each layer under the place with what was measured, and the body", () => {
    const scene = drawDimensions(measuredPhone, figures.thickness[0]!, { width: 700 })!;
    const said = words(scene.shapes);
    for (const wanted of ["Battery 3.800 ± 0.025 mm", "7.150 ± 0.025 mm"])
      expect(
        said.some((one) => one.includes(wanted)),
        `${wanted} in ${said.join(" | ")}`,
      ).toBe(true);
  });
  it("draws thickness to one scale: the battery as thick as its levels say", () => {
    const scene = drawDimensions(measuredPhone, figures.thickness[0]!, { width: 700 })!;
    const height = (part: string) => {
      const found = scene.shapes.find((one) => one.kind === "group" && one.of?.part === part);
      const box = found?.kind === "group" ? found.children[0]! : undefined;
      if (box?.kind !== "polygon") throw new Error(part);
      const ys = box.rings[0]!.map(([, y]) => y);
      return Math.max(...ys) - Math.min(...ys);
    };
    expect(height("battery") / height("display")).toBeCloseTo(3.8 / 1.4, 6);
  });
  it("is none without an outline", () => {
    const bare = { ...measuredPhone, parts: measuredPhone.parts.map(({ outline: _, ...part }) => part) };
    expect(drawDimensions(bare, figures.thickness[0]!, { width: 300 })).toBeNull();
  });
});
