import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { paperPhone } from "../../checks/law-helpers.ts";
import { type TeardownRecord, writeRecord } from "../core/record/index.ts";
import { lawPack, lawPackFile } from "./law-pack-files.ts";

const phone: TeardownRecord = {
  ...paperPhone(),
  device: { name: "<b>Invented</b>", kind: "smartphone", foldable: false },
  market: { updateYears: 6, repairInformation: "free-for-professionals", endOfMarket: "2028-05-01" },
};
const options = { date: "2026-03-01", version: "0.0.0" } as const;

describe("the evidence pack", () => {
  it("is of one record: its hash is that of the record as it is written", async () => {
    const hash = createHash("sha256").update(writeRecord(phone)).digest("hex");
    expect(lawPack(phone, undefined).hash).toBe(hash);
    const { name, content } = await lawPackFile(phone, { ...options, format: "html" });
    expect(name).toBe(`law-${hash.slice(0, 12)}.html`);
    expect(content).toContain(hash);
  });

  it("gives the same bytes again", async () => {
    for (const format of ["html", "pdf", "csv"] as const) {
      const [a, b] = await Promise.all([0, 1].map(() => lawPackFile(phone, { ...options, format })));
      expect(a).toEqual(b);
    }
  });

  it("holds every step with its clause, the facts with their dates, what was not verified, and who signs", async () => {
    const { report } = lawPack(phone, undefined);
    const text = String((await lawPackFile(phone, { ...options, format: "html" })).content);
    for (const parts of Object.values(report.evidence))
      for (const { sentence, steps } of parts) {
        expect(text).toContain(sentence);
        for (const step of steps) expect(text).toContain(step.text);
      }
    for (const line of report.rules.notVerified.slice(0, 3))
      expect(text).toContain(line.replaceAll("&", "&amp;").slice(0, 40));
    expect(text).toContain("2028-05-01");
    expect(text).toContain("2023/1669 Annex I (20)");
    expect(text).toContain("Article 11");
    expect(text).toContain("assessor");
    expect(text).toContain("&lt;b&gt;Invented&lt;/b&gt;");
    expect(text).not.toContain("<b>Invented");
    expect(text).not.toMatch(/https?:\/\/(?!www\.w3\.org)/);
  });

  it("states the class in a sentence alone", async () => {
    const text = String((await lawPackFile(phone, { ...options, format: "html" })).content).replace(
      /<style>[\s\S]*?<\/style>/,
      "",
    );
    expect(text.match(/>\s*[A-E]\s*</g)).toBeNull();
  });
});
