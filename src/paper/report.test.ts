import { describe, expect, it } from "vitest";
import { smallPhone } from "../../test/fixtures/small-phone.ts";
import { handWay } from "../../test/fixtures/small-way.ts";
import { cautionsFor } from "./cautions.ts";
import { html, made } from "./html.ts";
import { reportHtml } from "./report.ts";
import { reportAnswers } from "./report-answers.ts";

const answers = reportAnswers(smallPhone, undefined);
const text = reportHtml(answers, { madeAt: "2026-03-02 15:00 UTC", version: "0" });

describe("the report", () => {
  it("begins with what was found and what is unaccounted for, and ends with how it was made", () => {
    const heads = [...text.matchAll(/<h2>([^<]+)<\/h2>/g)].map((match) => match[1]);
    expect(heads.slice(0, 2)).toEqual(["What was found", "What is unaccounted for"]);
    expect(heads.at(-1)).toBe("How this was made");
  });
  it("needs nothing from anywhere else and runs nothing", () => {
    expect(text).not.toMatch(/<script|<link|<img|<iframe|@import|\son\w+=/i);
    expect(text.replaceAll("http://www.w3.org/2000/svg", "")).not.toMatch(/(?:src|href)\s*=|url\((?!#|data:)/i);
  });
  it("shows markup in names as text", () => {
    expect(text).toContain("&lt;b&gt;Name &amp; plate&lt;/b&gt;");
    expect(text).not.toContain("<b>Name");
  });
  it("gives every picture ids of its own", () => {
    const ids = [...text.matchAll(/\sid="([^"]+)"/g)].map((match) => match[1]);
    expect(ids.length).toBeGreaterThan(4);
    expect(new Set(ids).size).toBe(ids.length);
  });
  it("names the guess, the cautions and what stays open in the mass", () => {
    expect(text).toContain("A guess that nobody has tried: where Loudspeaker stands in the order");
    expect(text).toContain("swollen, hot or venting cell");
    expect(text).toMatch(/In no reading: [^<]*Cameras/);
  });
  it("is the same for the same answers", () => {
    expect(reportHtml(answers, { madeAt: "2026-03-02 15:00 UTC", version: "0" })).toBe(text);
  });
  it("says what the data do not allow instead of failing", () => {
    const broken = reportAnswers({ ...smallPhone, readings: [{ ...smallPhone.readings[0]!, values: [] }] }, undefined);
    expect(broken.figures.kind).toBe("not-told");
    expect(reportHtml(broken, { madeAt: "", version: "0" })).toContain("cannot be told");
  });
});

describe("html", () => {
  it("escapes what it is given and not what it made", () => {
    expect(html`<p title="${'"<'}">${["&", made("<i>")]}${null}${false}${0}</p>`.text).toBe(
      '<p title="&quot;&lt;">&amp;<i>0</p>',
    );
  });
});

describe("cautions", () => {
  it("stand where heat, glass and a cell make them necessary, with this unit's charge", () => {
    const titles = cautionsFor(smallPhone, handWay).map((one) => one.title);
    expect(titles).toEqual(["Heat beside a cell", "Glass", "A swollen, hot or venting cell"]);
    expect(cautionsFor(smallPhone, handWay)[0]!.text).toContain("last read: 24 %");
  });
  it("add solvent and puncture when that way out of the tabs is taken", () => {
    const pried = {
      ...handWay,
      operations: handWay.operations.map((one) => (one.joint === "tabs" ? { ...one, release: 1 } : one)),
    };
    expect(cautionsFor(smallPhone, pried).map((one) => one.title)).toEqual(
      expect.arrayContaining(["Solvent", "Prying at a cell"]),
    );
  });
});
