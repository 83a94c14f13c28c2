import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { smallPhone } from "../../../../test/fixtures/small-phone.ts";
import { nextReadings, SAME, serialLine, serialReader, typedQuantity } from "./index.ts";

describe("typed quantities", () => {
  it.each([
    ["1.4mm", 1.4, "mm", 1],
    ["27,3 g", 27.3, "g", 1],
    ["1 3/8 in", 1.375, "in", null],
    ['3/8"', 0.375, "in", null],
    ["13/8 in", 1.625, "in", null],
    ["1½ in", 1.5, "in", null],
    ["-0.02 mm", -0.02, "mm", 2],
    ["−0,02mm", -0.02, "mm", 2],
    ["+12.70 MM", 12.7, "mm", 2],
    [".5 kg", 0.5, "kg", 1],
    ["1,234.5 g", 1234.5, "g", 1],
    ["1.234,5 g", 1234.5, "g", 1],
    ["0,123 g", 0.123, "g", 3],
    ["350 µm", 350, "um", 0],
    ["38.5 °C", 38.5, "degC", 1],
    ["6 cNm", 6, "cN.m", 0],
    ["4 425 mAh".replace(" ", ""), 4425, "mAh", 0],
    ["12\u202fmm²", 12, "mm2", 0],
    ["80 %", 80, "%", 0],
  ])("%s", (text, value, unit, places) => {
    expect(typedQuantity(text)).toEqual({ value, unit, places });
  });

  it("take the instrument's unit where none is typed, and refuse one of another kind", () => {
    expect(typedQuantity("7.15", { quantity: "thickness", unit: "mm" })).toEqual({
      value: 7.15,
      unit: "mm",
      places: 2,
    });
    expect(typedQuantity("3", { quantity: "count" })).toEqual({ value: 3, unit: "1", places: 0 });
    expect(() => typedQuantity("7.15 g", { quantity: "thickness", unit: "mm" })).toThrow(
      /found "7.15 g", in g.*mm, cm, in, um/,
    );
    expect(() => typedQuantity("7.15")).toThrow(/without a unit/);
  });

  it.each([
    ["1,234 g", /two things.*1.234 or 1234/],
    ["1.2.3 mm", /two things/],
    ["1.5 3/8 in", /found "1.5 3\/8 in"/],
    ["1 3/0 in", /divided by nothing/],
    ["mm", /found "mm"/],
    ["", /nothing/],
    ["12 lb", /"lb" is no unit/],
    ["1e5 g", /no unit/],
    ["5 Mohm", /no unit/],
    ["NaN g", /found "NaN g"/],
    ["9".repeat(70), /60 signs/],
  ])("ask about %s", (text, words) => {
    expect(() => typedQuantity(text)).toThrow(words);
  });

  it("give back any number as it was written", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -99_999, max: 99_999 }),
        fc.integer({ min: 0, max: 4 }),
        fc.boolean(),
        (n, places, comma) => {
          const text = (n / 10 ** places).toFixed(places);
          fc.pre(!(comma && /^-?[1-9]\d{0,2}\.\d{3}$/.test(text)));
          const { value } = typedQuantity(`${comma ? text.replace(".", ",") : text} mm`);
          expect(value).toBe(Number(text) === 0 ? 0 : Number(text));
        },
      ),
    );
  });
});

describe("serial lines", () => {
  it.each([
    ["ST,GS,+  27.31 g", { value: 27.31, places: 2, unit: "g", stable: true, what: "gross" }],
    ["US,NT,-0012.3 g", { value: -12.3, unit: "g", stable: false, what: "net" }],
    ["S S     100.00 g", { value: 100, places: 2, unit: "g", stable: true, what: null }],
    ["S D      99.87 g", { value: 99.87, stable: false }],
    ["N   +   27.310 g", { value: 27.31, places: 3, what: "net", stable: null }],
    ["+ 27.31 g ?", { value: 27.31, stable: false }],
    ["ST,TR,  12.00 g", { value: 12, what: "tare", stable: true }],
    ["+12.34 mm", { value: 12.34, unit: "mm", stable: null }],
    ["01A+00012.345", { value: 12.345, unit: null, stable: null }],
    ["\u000201A-00000.010\u0003", { value: -0.01, unit: null }],
    ["0,52 in", { value: 0.52, unit: "in" }],
    ["-  0.00 g", { value: 0, unit: "g" }],
    ["27.31", { value: 27.31, unit: null, stable: null }],
  ])("%j", (line, expected) => {
    expect(serialLine(line)).toMatchObject({ kind: "value", ...expected });
  });

  it.each([
    ["OL", "overload"],
    ["ST,GS,OL", "overload"],
    ["S +", "overload"],
    ["UL", "underload"],
  ])("%s is no value", (line, kind) => {
    expect(serialLine(line)).toEqual({ kind });
  });

  it.each(["", "hello", "27.31 xx", "1.0 g 2.0 g", "QQ,27.3 g", "--.-- g", `${"9".repeat(200)}`])(
    "%j is refused",
    (line) => {
      expect(serialLine(line)).toMatchObject({ kind: "fault" });
    },
  );

  it("never throw, whatever comes", () => {
    fc.assert(
      fc.property(fc.string(), (line) => {
        expect(["value", "overload", "underload", "fault"]).toContain(serialLine(line).kind);
      }),
    );
  });
});

describe("a serial reader", () => {
  it("gives a value once it rests, once, cut into pieces anywhere", () => {
    const stream =
      "US,GS, 12.0 g\r\nUS,GS, 26.9 g\r\nST,GS, 27.3 g\r\nST,GS, 27.3 g\r\nUS,GS, 3.0 g\r\nST,GS, 27.3 g\r\n";
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 30, maxLength: 60 }), (sizes) => {
        const reader = serialReader();
        const readings: number[] = [];
        let at = 0;
        for (const size of [...sizes, 999]) {
          for (const event of reader.hear(stream.slice(at, at + size)))
            if (event.kind === "reading") readings.push(event.value);
          at += size;
        }
        expect(readings).toEqual([27.3, 27.3]);
      }),
    );
  });

  it("waits for the same line where nothing tells of rest", () => {
    const reader = serialReader();
    const kinds = ["27.2 g\n", "27.3 g\n", "27.3 g\n", "27.3 g\n", "27.3 g\n"]
      .flatMap((line) => reader.hear(line))
      .map(({ kind }) => kind);
    expect(SAME).toBe(3);
    expect(kinds).toEqual(["moving", "moving", "moving", "reading"]);
  });

  it("keeps tare and an empty pan as zeros", () => {
    const reader = serialReader();
    expect(reader.hear("ST,TR, 12.0 g\n")).toEqual([{ kind: "reading", value: 12, places: 1, unit: "g", zero: true }]);
    expect(reader.hear("ST,GS, 0.00 g\n")).toEqual([{ kind: "reading", value: 0, places: 2, unit: "g", zero: true }]);
  });

  it("gives up a line that never ends, says so once, and hears the next one", () => {
    const reader = serialReader();
    const events = Array.from({ length: 5000 }, () => reader.hear("0123456789")).flat();
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ kind: "refused", found: expect.stringMatching(/has not ended/) });
    expect(reader.hear("77\nST 5.0 g\n")).toEqual([{ kind: "reading", value: 5, places: 1, unit: "g", zero: false }]);
    expect(reader.hear("OL\n")[0]).toMatchObject({ kind: "refused", found: "an overload" });
  });
});

describe("what is to be measured next", () => {
  it("begins with what decides a claim and goes on with what the budgets lack", () => {
    const record = {
      ...smallPhone,
      instruments: [{ id: "scale", kind: "scale" as const, resolution: { value: 0.1, unit: "g" as const } }],
      readings: [
        {
          id: "r1",
          of: ["device"],
          quantity: "mass" as const,
          values: [180.1],
          unit: "g" as const,
          instrument: "scale",
        },
      ],
      claims: [{ id: "c1", text: "lighter than before", subject: ["device"], relation: "lighter" as const }],
    };
    const step = {
      claim: "c1",
      readings: ["r1"],
      of: [["device"]],
      instrument: "scale",
      repeats: 3,
      seconds: 30,
      u: 0.1,
      verdict: "supported" as const,
      cheapest: true,
      text: "",
    };
    const list = nextReadings(record, [step]);
    expect(list[0]).toMatchObject({ of: ["device"], quantity: "mass", instrument: "scale", left: 2 });
    expect(list.slice(1).map((one) => one.of[0])).toEqual([
      ...record.parts.filter((part) => !part.base).map((part) => part.id),
      record.parts.find((part) => part.base)!.id,
    ]);
    const done = { ...record, readings: [{ ...record.readings[0]!, values: [180.1, 180.1, 180.2] }] };
    expect(nextReadings(done, [step])[0]?.of).not.toEqual(["device"]);
  });
});
