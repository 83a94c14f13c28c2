/**
 * The reader against labelled talk. The labels were made by hand from the words, by the rules of the draft's form; the
 * devices and the narrators are invented. `a-phone` and `b-laptop` were labelled by somebody else; the others were
 * written for this check, in voices that the first two do not have. `narration-wide` was written and labelled by others, who
 * had not seen the reader: hurried, hesitant and joking voices among them, on purpose as people talk.
 */
import { readdirSync, readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../src/core/errors.ts";
import {
  chapters,
  figureCaptions,
  mergeDraft,
  parseTranscript,
  readNarration,
  readTranscript,
  trySay,
  webVtt,
} from "../src/core/narration/index.ts";
import { checkRecord, type TeardownRecord } from "../src/core/record/index.ts";
import { type Labels, score } from "./narration-score.ts";

const talkIn = (path: string) => {
  const folder = new URL(path, import.meta.url);
  return {
    files: readdirSync(folder).filter((name) => !name.endsWith(".json")),
    bytes: (name: string) => new Uint8Array(readFileSync(new URL(name, folder))),
    labels: (name: string) =>
      JSON.parse(readFileSync(new URL(name.replace(/\.\w+$/, ".gold.json"), folder), "utf8")) as Labels,
  };
};
const ours = talkIn("./data/narration/");
const wide = talkIn("./data/narration-wide/");
const { files, bytes } = ours;

const scored = ({ files, bytes, labels }: ReturnType<typeof talkIn>) =>
  files.map((name) => {
    const transcript = readTranscript(bytes(name));
    const at = transcript.cues.map((cue) => cue.at);
    return { name, scores: score(readNarration(transcript).draft, labels(name), at) };
  });
const means = (all: ReturnType<typeof scored>) => {
  const mean = (key: "actions" | "counts" | "readings" | "claims") =>
    all.reduce((sum, one) => sum + one.scores[key], 0) / all.length;
  return { actions: mean("actions"), counts: mean("counts"), readings: mean("readings"), claims: mean("claims") };
};

const empty: TeardownRecord = {
  format: "unseam/1",
  id: "00000000-0000-4000-8000-000000000001",
  device: { name: "An invented phone", kind: "smartphone", foldable: false },
  parts: [{ id: "frame", name: "Frame", role: "frame", base: true }],
  joints: [],
  tools: [],
  instruments: [],
  log: [],
  readings: [],
  claims: [],
  media: [],
};

describe("labelled talk", () => {
  const all = scored(ours);
  it.each(all)("$name is read", ({ scores }) => {
    expect(scores.actions).toBeGreaterThanOrEqual(0.85);
    expect(scores.counts).toBeGreaterThanOrEqual(0.8);
    expect(scores.readings).toBeGreaterThanOrEqual(0.9);
    expect(scores.claims).toBeGreaterThanOrEqual(0.8);
  });
  it("on the whole", () => {
    const mean = means(all);
    expect(mean.actions).toBeGreaterThanOrEqual(0.93);
    expect(mean.counts).toBeGreaterThanOrEqual(0.93);
    expect(mean.readings).toBeGreaterThanOrEqual(0.97);
    expect(mean.claims).toBeGreaterThanOrEqual(0.95);
  });
});

describe("talk written and labelled by others", () => {
  const all = scored(wide);
  it("plain bench talk", () => {
    const mean = means(all.filter(({ name }) => /^[g-p]/.test(name) && !/^(?:g2|j1)/.test(name)));
    expect(mean.actions).toBeGreaterThanOrEqual(0.85);
    expect(mean.counts).toBeGreaterThanOrEqual(0.85);
    expect(mean.readings).toBeGreaterThanOrEqual(0.9);
    expect(mean.claims).toBeGreaterThanOrEqual(0.93);
  });
  it("all of it, jokes, slang and second thoughts with it", () => {
    const mean = means(all);
    expect(mean.actions).toBeGreaterThanOrEqual(0.74);
    expect(mean.counts).toBeGreaterThanOrEqual(0.7);
    expect(mean.readings).toBeGreaterThanOrEqual(0.85);
    expect(mean.claims).toBeGreaterThanOrEqual(0.87);
  });
});

describe("a draft into a record", () => {
  const both = [...files.map((name) => ({ name, bytes })), ...wide.files.map((name) => ({ name, bytes: wide.bytes }))];
  it.each(both)("$name: valid, nothing dropped, and nothing new the second time", ({ name, bytes }) => {
    const { draft } = readNarration(readTranscript(bytes(name)));
    const merged = mergeDraft(empty, draft);
    const check = checkRecord(merged.record);
    expect(check.faults).toEqual([]);
    const held =
      merged.record.log.length +
      merged.record.readings.length +
      merged.record.claims.length +
      (merged.record.checks?.length ?? 0) +
      merged.leftOver.length;
    const said =
      draft.entries.length + draft.claims.length + draft.back.length + draft.proofs.length + draft.questions.length;
    expect(held + merged.matched).toBeGreaterThanOrEqual(said);
    const again = mergeDraft(merged.record, draft);
    expect(again.added).toBe(0);
    for (const joint of merged.record.joints)
      if (joint.reach !== undefined) expect(["inferred", "stated"]).toContain(joint.basis);
  });
});

describe("guesses and rules", () => {
  const merged = (text: string) => mergeDraft(empty, readNarration(parseTranscript(text)).draft).record;
  it("an order of work alone makes no obstacle", () => {
    const record = merged(
      "0:01 Unscrew the speaker. Lift the speaker out. 0:09 Unscrew the motor. Lift the motor out.",
    );
    expect(record.joints.every((joint) => joint.reach === undefined)).toBe(true);
    expect(record.parts.every((part) => part.under === undefined)).toBe(true);
  });
  it("a cover that is off is a guess with its rule; what was said is stated", () => {
    const record = merged(
      "0:01 Lift the back cover off.\n0:05 Disconnect the rear camera. The rear camera sits under a metal lid.\n0:10 Take three screws out of the metal lid and lift the lid off. Lift the rear camera out.\n",
    );
    const joint = (id: string) => record.joints.find((one) => one.id === id);
    expect(joint("screw-metal-lid")).toMatchObject({ count: 3, reach: [["back-cover"]], basis: "inferred" });
    expect(record.parts.find((part) => part.id === "metal-lid")!.note).toContain("R1");
    expect(record.parts.find((part) => part.id === "rear-camera")).toMatchObject({
      under: [["metal-lid"]],
      basis: "stated",
    });
  });
  it("other words for the same part are matched, other parts are not", () => {
    const record = merged(
      "0:01 Pry the back glass up. Lift the rear cover off.\n0:05 Unplug the left speaker. Unplug the right speaker. Unplug the display. Lift the screen out.\n",
    );
    expect(record.parts.map((part) => part.id).sort()).toEqual([
      "back-glass",
      "display",
      "frame",
      "left-speaker",
      "right-speaker",
    ]);
  });
  it("names the session, and is given back what it could not place", () => {
    const draft = readNarration(parseTranscript("0:01 Clean the lip with alcohol. Open the clips.")).draft;
    const { leftOver } = mergeDraft(empty, draft);
    expect(leftOver.every((one) => one.text.length > 0)).toBe(true);
  });
});

describe("out again", () => {
  it("chapters by what comes off, in WebVTT that reads back", () => {
    const record = mergeDraft(empty, readNarration(readTranscript(bytes("a-phone.vtt"))).draft).record;
    const list = chapters(record);
    expect(list.length).toBeGreaterThan(5);
    list.forEach((one, nth) => {
      expect(one.until).toBeGreaterThan(one.at);
      if (nth > 0) expect(one.at).toBeGreaterThanOrEqual(list[nth - 1]!.at);
    });
    const text = webVtt({
      chapter: list,
      figure: figureCaptions([
        { at: 2, text: "A < B & C" },
        { at: 2, text: "two" },
        { at: 3, text: "three" },
      ]),
    });
    const back = parseTranscript(text);
    expect(back.form).toBe("webvtt");
    expect(back.warnings.filter((one) => one.line > 0 && !one.text.includes("begins")).length).toBe(0);
    expect(back.cues.map((one) => one.text)).toContain("A < B & C\ntwo");
  });
  it("a script is tried against the record", () => {
    const record: TeardownRecord = {
      ...empty,
      parts: [...empty.parts, { id: "battery", name: "Battery", role: "battery" }],
      instruments: [{ id: "scale", kind: "scale", resolution: { value: 0.1, unit: "g" } }],
      readings: [
        { id: "m1", of: ["battery"], quantity: "mass", values: [39.7], unit: "g", instrument: "scale" },
        { id: "m2", of: ["device"], quantity: "mass", values: [151.6], unit: "g", instrument: "scale" },
      ],
    };
    const say = (text: string) => trySay(parseTranscript(text), record).map((one) => one.verdict);
    expect(say("The battery weighs 39.7 grams.")).toEqual(["supported"]);
    expect(say("The battery weighs 45 grams.")).toEqual(["not-supported"]);
    expect(say("The battery is 4.1 millimetres thick.")).toEqual(["cannot-tell"]);
  });
});

describe("whatever comes", () => {
  const talk = fc.array(
    fc.constantFrom(
      ..."undo the two screws lift bracket out and then I do not take it off the battery weighs 3.5 grams than Sliver 5 thinner if you pull tab no wait nine under a pick . , ? it them half of a millimeters unless on with heat".split(
        " ",
      ),
    ),
    { maxLength: 60 },
  );
  it("never crashes on words in any order, and every entry names words that were said", () => {
    fc.assert(
      fc.property(talk, (words) => {
        const text = words.join(" ");
        if (text.trim() === "") return;
        const { draft } = readNarration(parseTranscript(`0:01 ${text}`));
        for (const entry of draft.entries) {
          expect(entry.object.length).toBeGreaterThan(0);
          expect(entry.at).toBe(1);
          if (entry.value !== undefined) expect(Number.isFinite(entry.value)).toBe(true);
        }
      }),
      { numRuns: 400 },
    );
  });
  it("answers any bytes with a reading or with an error that names the line", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (data) => {
        try {
          readNarration(readTranscript(data));
        } catch (error) {
          expect(error).toBeInstanceOf(InputError);
          expect((error as InputError).path).toMatch(/^line \d+$/);
        }
      }),
      { numRuns: 400 },
    );
  });
  it("the same words give the same draft", () => {
    const first = JSON.stringify(readNarration(readTranscript(bytes("a-phone.vtt"))).draft);
    expect(JSON.stringify(readNarration(readTranscript(bytes("a-phone.vtt"))).draft)).toBe(first);
  });
  it("reads a hundred thousand cues and a cue of a megabyte", () => {
    const cue = (nth: number) =>
      `${Math.floor(nth / 60)}:${String(nth % 60).padStart(2, "0")} so the next one is here and we look at it\n`;
    const many = Array.from({ length: 100_000 }, (_, nth) => cue(nth)).join("");
    expect(readNarration(parseTranscript(many)).draft.entries).toEqual([]);
    const long = `0:01 ${"undo the two screws and lift the bracket then ".repeat(22_000)}`;
    expect(readNarration(parseTranscript(long)).draft.entries.length).toBeGreaterThan(0);
  });
  it.each([
    [
      "German",
      "0:01 Jetzt nehme ich die beiden Schrauben heraus und hebe danach vorsichtig den kleinen Halter über dem Stecker ab.",
    ],
    [
      "French",
      "0:01 Je retire maintenant les deux vis puis je soulève doucement le petit support qui maintient le connecteur de la batterie.",
    ],
    [
      "nonsense",
      "0:01 lorem ipsum dolor sit amet consectetur adipiscing elit sed do eiusmod tempor incididunt ut labore et dolore magna aliqua",
    ],
  ])("%s: nothing is invented, and the reading says so", (_name, text) => {
    const { draft, warnings } = readNarration(parseTranscript(text));
    expect(draft.entries).toEqual([]);
    expect(draft.claims).toEqual([]);
    expect(warnings.map((one) => one.text).join()).toContain("English");
  });
});

describe("rulings", () => {
  const read = (text: string) => readNarration(parseTranscript(text)).draft;
  const told = (text: string) =>
    read(text).entries.map((one) => [one.action, one.object.toLowerCase(), one.count ?? one.value ?? null]);
  it.each<[string, unknown[]]>([
    ["Remove the three screws holding the battery bracket.", [["unscrew", "battery bracket", 3]]],
    ["Unplug the display cable.", [["unplug", "display", null]]],
    ["Unplug the antenna cable.", [["unplug", "antenna cable", null]]],
    [
      "Undo the two screws in the bracket and lift the bracket off.",
      [
        ["unscrew", "bracket", 2],
        ["lift", "bracket", null],
      ],
    ],
    ["Now the battery. Ten screws around, I take them out, no wait, nine.", [["unscrew", "battery", 9]]],
    ["You don't have to remove the display for this.", []],
    ["If you pull the cable, it tears.", []],
    ["Usually I would take the board out first.", []],
    ["On the old one you had to take the board out.", []],
    ["Could you lift the battery out without heat?", []],
    ["The battery weighs twenty nine point four grams.", [["measure", "battery", 29.4]]],
    [
      "The frame is almost two grams. The glass is one and a half millimetres thick.",
      [
        ["measure", "frame", 2],
        ["measure", "glass", 1.5],
      ],
    ],
    [
      "Peel the graph fight sheet off. Pry it up with the spud jar.",
      [
        ["peel", "graphite sheet", null],
        ["pry", "graphite sheet", null],
      ],
    ],
    [
      "Turn the phone over. Snip the side key cable.",
      [
        ["turn", "phone", null],
        ["cut", "side key", null],
      ],
    ],
  ])("%s", (text, entries) => {
    expect(told(text)).toEqual(entries);
  });
  it("a place where things were put lies on the entry", () => {
    expect(read("Undo the four screws in the bracket. Put them in cup two.").entries[0]).toMatchObject({
      action: "unscrew",
      count: 4,
      lies: "cup 2",
    });
  });
  it("claims are no readings", () => {
    const draft = read(
      "The Sliver 6 is here beside the Sliver 5. The battery is a bit over a fifth of the phone's mass. It is 9.1 grams lighter than the battery in the Sliver 5.",
    );
    expect(draft.entries).toEqual([]);
    expect(draft.claims.map((one) => [one.subject, one.relation, one.value, one.unit])).toEqual([
      ["battery", "fraction", 0.2, "1"],
      ["battery", "lighter", 9.1, "g"],
    ]);
    expect(draft.claims[0]!.band).toBe("just-over");
  });
  it("the way back and what was tried have lists of their own", () => {
    const draft = read(
      "Putting it back. Plug the battery back in. Tighten the three screws of the battery bracket. The touch works.",
    );
    expect(draft.entries).toEqual([]);
    expect(draft.back.map((one) => [one.action, one.object, one.count ?? null])).toContainEqual([
      "fasten",
      "battery bracket",
      3,
    ]);
    expect(draft.proofs.map((one) => [one.what, one.result])).toEqual([["touch", "works"]]);
  });
});
