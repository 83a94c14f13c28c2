import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { TeardownRecord } from "../core/record/index.ts";
import { countingClock } from "../core/route/counting-clock.ts";
import { briefOf } from "../core/service/afternoon/index.ts";
import { briefSections } from "./brief-lines.ts";
import { briefPdf } from "./brief-pdf.ts";
import { measurer, writePdf } from "./pdf-writer.ts";

const tablet: TeardownRecord = JSON.parse(
  readFileSync(new URL("../../examples/halverim-11.json", import.meta.url), "utf8"),
);
const brief = briefOf(tablet, { control: { now: countingClock() }, limit: 400, questions: [], plan: [] });
const terms = { minutes: 30, begunFrom: null };

describe("the brief", () => {
  it("begins with what it leads to, and has the cautions beside the heat", () => {
    const sections = briefSections(tablet, brief, terms);
    expect(sections[0]!.lines[0]!.text).toContain("Battery");
    const heat = sections.find((one) => one.title === "Heat")!;
    expect(heat.lines.filter((one) => one.kind === "caution").length).toBeGreaterThan(2);
  });
  it("says that all of it is copied where it is", () => {
    expect(briefSections(tablet, brief, { ...terms, begunFrom: "Halverim 10" })[0]!.lines[1]!.text).toMatch(
      /Halverim 10/,
    );
  });
  it("is the same on paper every time", async () => {
    const imprint = {
      device: "x",
      revision: "0".repeat(12),
      edition: 1,
      date: "2026-03-02",
      replaces: null,
      recalls: [],
    };
    const make = () => writePdf(briefPdf(tablet, brief, terms, imprint, measurer(), "a4"));
    expect(Buffer.compare(Buffer.from(await make()), Buffer.from(await make()))).toBe(0);
  });
});
