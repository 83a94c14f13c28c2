import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyEdits } from "../../record/edits.ts";
import { checkRecord, type TeardownRecord } from "../../record/index.ts";
import {
  againNext,
  isMark,
  isUnplaced,
  type LineContext,
  type Moment,
  markAt,
  matchMarks,
  nextCup,
  readLine,
  sessionNow,
} from "./index.ts";

const full = JSON.parse(
  readFileSync(new URL("../../../../examples/thrandle-5.json", import.meta.url), "utf8"),
) as TeardownRecord;
const record: TeardownRecord = { ...full, log: full.log.slice(0, 10) };
let ids = 0;
const context = (more: Partial<LineContext> = {}): LineContext => ({
  record,
  part: null,
  session: "s1",
  at: 760,
  newId: () => {
    ids += 1;
    return `line-${ids}`;
  },
  ...more,
});
const read = (line: string, more: Partial<LineContext> = {}) => {
  const answer = readLine(line, context(more));
  return answer.kind === "kept"
    ? {
        what: answer.what,
        words: answer.words,
        notes: answer.notes,
        items: answer.edits.flatMap((edit) => (edit.kind === "put" ? [edit.item] : [])),
      }
    : {
        what: answer.kind,
        words: answer.kind === "told" ? answer.words : "",
        notes: answer.kind === "told" ? answer.lines : [],
        items: [],
      };
};

describe("work in shorthand", () => {
  it.each([
    [
      "six screws top shield, one longer, cup four",
      "unscrew · Upper shield · 6 · cup 4",
      { parts: ["top-shield"], joints: ["top-shield-screws"], lies: "cup 4" },
    ],
    ["5 screws lower cover cup 4", "unscrew · Lower cover · 5 · cup 4", { joints: ["lower-cover-screws"] }],
    ["4 ph000 main board cup 2", "unscrew · Main board · 4 · cup 2", { joints: ["board-screws"] }],
    ["top sh 6 screws cup 3", "unscrew · Upper shield · 6 · cup 3", { parts: ["top-shield"] }],
    ["two clips speaker", "pry · Loudspeaker · 2", { parts: ["loudspeaker"] }],
    ["battery refitted", "refit · Battery", { action: "refit" }],
    ["lift mid-plate cup 5", "lift · Mid-plate · cup 5", { parts: ["mid-plate"], lies: "cup 5" }],
    ["fasten six screws top shield", "fasten · Upper shield · 6", { joints: ["top-shield-screws"] }],
    ["flip it", "turn", { action: "turn" }],
    ["lower cover mat b", "lift · Lower cover · mat B", { lies: "mat B" }],
    ["glue under the battery is torn", "note · Battery · damaged", { outcome: "damaged" }],
  ])("%s", (line, words, entry) => {
    const answer = read(line);
    expect(answer.words).toBe(words);
    expect(answer.items[0]).toMatchObject({ ...entry, at: 760, session: "s1", text: line });
    expect(answer.items[0]).not.toHaveProperty("draft");
  });

  it("makes no claim of a figure in a unit that cannot be", () => {
    expect(read("six mm lighter", { part: "cell" }).items.every((one) => !("relation" in one))).toBe(true);
  });
  it("says where the count is another one than the record's", () => {
    expect(read("five screws top shield").notes).toContain("the record has 6, 5 was said");
  });
  it("means the chosen part where none is named, and never where a name is not known", () => {
    expect(read("two screws", { part: "lower-cover" }).words).toBe("unscrew · Lower cover · 2");
    expect(read("two screws frobnicator", { part: "lower-cover" }).what).toBe("unplaced");
  });
  it("asks which one where several could be meant, and makes no new part of it", () => {
    const answer = read("took out the board, cup 2");
    expect(answer.what).toBe("unplaced");
    expect(answer.notes[0]).toContain("Main board");
  });
  it("takes the same cup and the next one from the log", () => {
    const log = [...record.log, { id: "x", action: "unscrew" as const, parts: ["top-shield"], lies: "cup 4" }];
    expect(read("five screws lower cover same cup", { record: { ...record, log } }).items[0]).toMatchObject({
      lies: "cup 4",
    });
    expect(read("five screws lower cover next cup", { record: { ...record, log } }).items[0]).toMatchObject({
      lies: "cup 5",
    });
    expect([nextCup("mat A"), nextCup(null), nextCup("tin"), nextCup("cup 9")]).toEqual([
      "mat B",
      "cup 1",
      "cup 1",
      "cup 10",
    ]);
  });
  it("keeps what was not done, or is not understood, as it was said", () => {
    for (const line of ["we should not lift the battery yet", "frobnicate", "🙂", "lift the battery later"]) {
      const { what, items } = read(line);
      expect(what, line).toBe("unplaced");
      expect(items).toHaveLength(1);
      expect(isUnplaced(items[0] as never)).toBe(true);
      expect(items[0]).toMatchObject({ text: line, draft: true });
    }
  });
});

describe("figures from fingers and instruments", () => {
  it.each([
    [
      "battery 44.12 g",
      "Battery · mass 44.12 g",
      { of: ["cell"], quantity: "mass", values: [44.12], unit: "g", instrument: "scale" },
    ],
    [
      "back glass thickness 0.71 mm",
      "Back glass · thickness 0.71 mm",
      { of: ["back-glass"], quantity: "thickness", values: [0.71] },
    ],
    ["phone 164.45 g", "device · mass 164.45 g", { of: ["device"] }],
  ])("%s", (line, words, reading) => {
    const answer = read(line);
    expect(answer.what).toBe("reading");
    expect(answer.words).toBe(words);
    expect(answer.items[0]).toMatchObject(reading);
  });
  it("takes a bare number in the unit of the instrument in hand", () => {
    expect(read("1.40", { part: "back-glass", instrument: "caliper" }).words).toContain(
      "Back glass · thickness 1.40 mm",
    );
    expect(read("29,4 g", { part: "cell" }).items[0]).toMatchObject({ values: [29.4], unit: "g" });
  });
  it("keeps a number without unit, part or sense, and says what is wanted", () => {
    expect(read("1.40", { part: "cell" })).toMatchObject({ what: "unplaced" });
    expect(read("1.40 mm").notes[0]).toContain("which part");
    expect(read("1,234 g", { part: "cell" }).what).toBe("unplaced");
    expect(read("-2 g", { part: "cell" }).what).toBe("unplaced");
  });
  it("reads a comparison as a claim", () => {
    const answer = read("The battery is 3 grams lighter than the old one.");
    expect(answer.what).toBe("claim");
    expect(answer.items[0]).toMatchObject({ subject: ["cell"], relation: "lighter", value: 3, than: "sibling" });
  });
});

describe("questions", () => {
  const log = [
    ...record.log,
    {
      id: "a",
      action: "unscrew" as const,
      parts: ["top-shield"],
      joints: ["top-shield-screws"],
      lies: "cup 4",
      at: 300,
      text: "six",
    },
    { id: "b", action: "lift" as const, parts: ["top-shield"], lies: "mat A", at: 310 },
  ];
  const ask = (line: string, more: TeardownRecord["log"] = []) =>
    read(line, { record: { ...record, log: [...log, ...more] } });
  it("where it lies, and what lies there", () => {
    expect(ask("where are the screws of the top shield?").words).toBe("Screws of Upper shield: cup 4");
    expect(ask("where is the upper shield").words).toBe("Upper shield: mat A");
    expect(ask("what is in cup four?").words).toBe("Cup 4: Upper shield");
    expect(ask("which cup is next?").words).toBe("cup 5");
    expect(ask("what was last?").words).toContain("lift · Upper shield · mat A");
  });
  it("what went back is not in its cup any more", () => {
    const back = [{ id: "c", action: "fasten" as const, parts: ["top-shield"], joints: ["top-shield-screws"] }];
    expect(ask("where are the screws of the top shield?", back).words).toBe("Screws of Upper shield: back in");
    expect(ask("what is in cup 4?", back).words).toBe("Cup 4: empty");
  });
  it("what holds it, what it weighs, and what is not known", () => {
    expect(ask("how many screws hold the upper shield").words).toContain("6 screws");
    expect(ask("how heavy is the battery?").words).toContain("mass");
    expect(ask("where is the board?").words).toBe("Which one?");
    expect(ask("where is the flux capacitor?").words).toBe("Not known");
  });
});

describe("the bound key", () => {
  it("marks a moment, and repeats the last work into the next cup", () => {
    const mark = markAt(context());
    const [edit] = mark.edits;
    expect(edit?.kind === "put" && isMark(edit.item as never)).toBe(true);
    const log = [
      { id: "a", action: "unscrew" as const, parts: ["top-shield"], lies: "cup 4", at: 3, session: "s1", text: "six" },
    ];
    const again = againNext(context({ record: { ...record, log } }));
    expect(again?.words).toBe("unscrew · Upper shield · cup 5");
    expect(againNext(context({ record: { ...record, log: [] } }))).toBeNull();
  });
});

describe("sessions", () => {
  const started = Date.parse(full.sessions!.at(-1)!.started);
  it("goes on with today's, begins another after a week, and keeps a clock that jumped", () => {
    expect(sessionNow(full, started + 60_000)).toMatchObject({ session: "s3", at: 60, edits: [] });
    const late = sessionNow(full, started + 7 * 86_400_000);
    expect(late).toMatchObject({ session: "s4", at: 0 });
    expect(checkRecord(applyEdits(full, late.edits)).ok).toBe(true);
    expect(sessionNow(full, started + 7 * 86_400_000, "s3")).toMatchObject({ session: "s3", at: 604_800 });
    expect(sessionNow(full, started - 60_000).notes[0]).toContain("before the start");
  });
});

describe("captions against marks", () => {
  const at = (id: string, second: number, action: string | null = null, part: string | null = null): Moment => ({
    id,
    at: second,
    action,
    part,
  });
  it("pairs in order, by time and words, and leaves what contradicts alone", () => {
    const marks = [at("m1", 10), at("m2", 40, "unscrew", "a"), at("m3", 60, "lift", "b")];
    const said = [
      at("p1", 12, "lift", "x"),
      at("p2", 37, "unscrew", "a"),
      at("p3", 41, "unscrew", "c"),
      at("p4", 200, "lift", "b"),
    ];
    expect(matchMarks(marks, said)).toEqual([
      { mark: "m1", said: "p1", after: 2, agrees: false },
      { mark: "m2", said: "p2", after: -3, agrees: true },
    ]);
  });
  it("weighs as much as the best of all matchings that keep the order", () => {
    const moment = fc.record({
      at: fc.nat(40),
      action: fc.constantFrom("lift", "heat", null),
      part: fc.constantFrom("a", "b", null),
    });
    const list = fc.array(moment, { maxLength: 7 });
    fc.assert(
      fc.property(list, list, (a, b) => {
        const named = (prefix: string, all: typeof a) =>
          all.map((one, nth) => ({ ...one, id: `${prefix}${nth}` })).sort((x, y) => x.at - y.at);
        const [marks, said] = [named("m", a), named("p", b)];
        const weight = (m: Moment, p: Moment) => {
          const agree = (x: string | null, y: string | null) => (x === null || y === null ? 0 : x === y ? 2 : -9);
          const gap = Math.abs(m.at - p.at);
          const sum = 1 + agree(m.action, p.action) + agree(m.part, p.part) - (0.9 * gap) / 30;
          return gap > 30 || agree(m.action, p.action) < 0 || agree(m.part, p.part) < 0 ? 0 : sum;
        };
        // Plain dynamic programme over both lists.
        const best = Array.from({ length: marks.length + 1 }, () => new Array<number>(said.length + 1).fill(0));
        for (let i = 1; i <= marks.length; i += 1)
          for (let j = 1; j <= said.length; j += 1)
            best[i]![j] = Math.max(
              best[i - 1]![j]!,
              best[i]![j - 1]!,
              best[i - 1]![j - 1]! + weight(marks[i - 1]!, said[j - 1]!),
            );
        const found = matchMarks(marks, said);
        const sum = found.reduce(
          (all, one) => all + weight(marks.find((m) => m.id === one.mark)!, said.find((p) => p.id === one.said)!),
          0,
        );
        expect(sum).toBeCloseTo(best[marks.length]![said.length]!, 9);
        expect(new Set(found.map((one) => one.said)).size).toBe(found.length);
      }),
      { numRuns: 300 },
    );
  });
});

describe("a cup that is scanned", () => {
  const shields = {
    id: "out",
    session: "s1",
    at: 755,
    action: "unscrew",
    parts: ["top-shield"],
    joints: ["top-shield-screws"],
  } as const;
  const withLast = (more: object) => ({
    record: { ...record, log: [...record.log, { ...shields, ...more } as never] },
  });
  const scan = (line: string, more: object = {}, at: Partial<LineContext> = {}) =>
    readLine(line, context({ ...withLast(more), ...at }));
  it.each(["cup 4", "cup:4", "CUP 4", "cup4", "cup-04"])("puts the last work there: %s", (line) => {
    expect(scan(line)).toMatchObject({
      kind: "kept",
      words: "unscrew · Upper shield · cup 4",
      edits: [{ kind: "set", list: "log", id: "out", path: ["lies"], value: "cup 4" }],
    });
  });
  it("and is found again where it was put", () => {
    const answer = scan("mat b");
    const after = applyEdits(withLast({}).record, answer.kind === "kept" ? answer.edits : []);
    expect(checkRecord(after).ok).toBe(true);
    expect(readLine("where are the screws of the upper shield?", context({ record: after }))).toMatchObject({
      kind: "told",
      words: "Screws of Upper shield: mat B",
    });
    expect(readLine("mat B", context({ record: after }))).toMatchObject({ kind: "told", words: "Mat B: Upper shield" });
  });
  it("moves nothing unasked: what lies somewhere already, work of another day, what went back in", () => {
    expect(scan("cup 4", { lies: "cup 3" })).toMatchObject({
      kind: "told",
      words: "Cup 4: empty",
      lines: [expect.any(String), expect.stringContaining("lies in cup 3")],
    });
    expect(scan("cup 4", {}, { session: "s9" })).toMatchObject({ kind: "told", words: "Cup 4: empty" });
    expect(scan("cup 4", { action: "fasten" })).toMatchObject({ kind: "told", words: "Cup 4: empty" });
    expect(readLine("cup 4", context({ record: { ...record, log: [] } }))).toMatchObject({ kind: "told" });
  });
  it("is no cup where other words stand with it", () => {
    for (const line of ["cup", "cup 4 is full", "cap 4", "cups 4"]) {
      const answer = scan(line);
      expect([line, answer.kind === "kept" && answer.edits.some((edit) => edit.kind === "set")]).toEqual([line, false]);
    }
  });
});

describe("whatever is typed", () => {
  it("is answered or kept whole, and leaves a valid record", () => {
    const words = fc.constantFrom(
      ..."six screws top shield cup four battery 1.4 mm g lift unplug not the 12 again torn than lighter , . ? same next clip board où <b> 99999999999 -".split(
        " ",
      ),
    );
    fc.assert(
      fc.property(fc.array(words, { maxLength: 9 }), (some) => {
        const answer = readLine(some.join(" "), context({ part: "cell", instrument: "caliper" }));
        if (answer.kind !== "kept") return;
        expect(answer.edits.length).toBeGreaterThan(0);
        const check = checkRecord(applyEdits(record, answer.edits));
        expect(check.ok ? [] : check.faults).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});
