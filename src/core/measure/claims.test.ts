/**
 * The decision rule on the kinds of claim, each against the figures of a hand calculation: a scale of 0.1 g with 0.05 g of
 * scatter has u 0.057735 g, a difference of two readings 0.081650 g, and 0.1343 g is the least that could be supported.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Claim, Instrument, Joint, Reading, TeardownRecord } from "../record/index.ts";
import { requireRecord } from "../record/index.ts";
import { convert } from "../units/index.ts";
import { judgeClaim } from "./claims.ts";
import { benchOf } from "./readings.ts";

const scale: Instrument = {
  id: "scale",
  kind: "scale",
  resolution: { value: 0.1, unit: "g" },
  repeatability: { value: 0.05, unit: "g" },
};
/** Limit 0.02 mm, step 0.01 mm, three readings of s 0.005 mm: u 0.012247 mm. */
const caliper: Instrument = {
  id: "caliper",
  kind: "caliper",
  resolution: { value: 0.01, unit: "mm" },
  maxError: { value: 0.02, unit: "mm" },
  repeatability: { value: 0.005, unit: "mm" },
};
const A = "0b0b0b0b-0000-4000-8000-000000000001";
const B = "0b0b0b0b-0000-4000-8000-000000000002";

function record(id: string, readings: readonly Reading[], more: Partial<TeardownRecord> = {}): TeardownRecord {
  return requireRecord({
    format: "unseam/1",
    id,
    device: { name: id === A ? "Newling" : "Oldling", kind: "smartphone", foldable: false },
    ...(id === A ? { sibling: B } : {}),
    parts: [
      { id: "frame", name: "Frame", base: true },
      { id: "cell", name: "Battery", role: "battery" },
      { id: "coil", name: "Coil" },
      { id: "screen", name: "Display", role: "display" },
    ],
    joints: [],
    tools: [],
    instruments: [scale, caliper],
    log: [],
    readings,
    claims: [],
    media: [],
    ...more,
  });
}

let next = 0;
const mass = (of: string, value: number, more: Partial<Reading> = {}): Reading => ({
  id: `m${next++}`,
  of: [of],
  quantity: "mass",
  values: [value],
  unit: "g",
  instrument: "scale",
  ...more,
});
const thick = (of: string, value: number, more: Partial<Reading> = {}): Reading => ({
  id: `t${next++}`,
  of: [of],
  quantity: "thickness",
  values: [value, value, value],
  unit: "mm",
  instrument: "caliper",
  ...more,
});
const judge = (claim: Partial<Claim> & Pick<Claim, "relation">, own: TeardownRecord, other?: TeardownRecord) =>
  judgeClaim(
    { id: "c", text: "said", subject: ["cell"], ...claim },
    benchOf(own),
    other === undefined ? undefined : benchOf(other, "sibling:"),
  );

describe("a weight or thickness compared", () => {
  const own = record(A, [mass("cell", 41.2)]);
  const other = record(B, [mass("cell", 48.8)]);

  it("is supported with its figure: 7.6 g lighter, z 93", () => {
    const found = judge({ relation: "lighter", value: 7.6, unit: "g", than: "sibling" }, own, other);
    expect(found).toMatchObject({
      verdict: "supported",
      value: expect.closeTo(7.6, 9),
      u: expect.closeTo(0.0816496581, 9),
    });
    expect(found.restsOn).toEqual([own.readings[0]!.id, `sibling:${other.readings[0]!.id}`]);
    expect(found.wording).toBe("The battery: 7.60 ± 0.16 g lighter than the battery of Oldling.");
  });

  it("is refused with a wrong figure, and with the wrong direction", () => {
    expect(judge({ relation: "lighter", value: 9.1, unit: "g", than: "sibling" }, own, other).verdict).toBe(
      "not-supported",
    );
    const heavier = judge({ relation: "heavier", than: "sibling" }, own, other);
    expect(heavier).toMatchObject({ verdict: "not-supported" });
    expect(heavier.probability).toBeLessThan(1e-9);
    expect(heavier.wording).toMatch(/not heavier but 7\.60 ± 0\.16 g lighter/);
  });

  it("cannot be told one display step apart: P 0.890, least 0.1343 g", () => {
    const found = judge({ relation: "lighter", than: "sibling" }, own, record(B, [mass("cell", 41.3)]));
    expect(found).toMatchObject({
      verdict: "cannot-tell",
      probability: expect.closeTo(0.88966432, 7),
      smallest: expect.closeTo(0.134301736, 8),
    });
    expect(found.wording).toMatch(/from 0\.14 g on it could be told/);
  });

  it("bears no more digits than the measurement: 7.60 from a scale of 0.1 g says drop one", () => {
    const found = judge(
      { relation: "lighter", value: 7.61, unit: "g", than: "sibling" },
      own,
      record(B, [mass("cell", 48.81)]),
    );
    expect(found.verdict).toBe("cannot-tell");
    expect(found.wording).toMatch(/drop one/);
  });

  it("takes a share in per cent too", () => {
    const found = judge({ relation: "lighter", value: 16, unit: "%", than: "sibling" }, own, other);
    expect(found).toMatchObject({ verdict: "supported", unit: "%", value: expect.closeTo(15.5738, 3) });
  });

  it("needs like with like: what was on or off on one side only", () => {
    const taped = record(B, [mass("cell", 48.8, { on: ["glue"] })]);
    const found = judge({ relation: "lighter", than: "sibling" }, own, taped);
    expect(found).toMatchObject({ verdict: "cannot-tell", probability: null });
    expect(found.wording).toMatch(/not measured alike .*on glue/);
  });

  it("does not mind what the whole was weighed without, where a part is held against it", () => {
    const both = record(A, [mass("cell", 41.2), mass("device", 187.4, { off: ["SIM"] })]);
    const lighter = judge({ relation: "lighter", subject: ["cell"], than: "device" }, both);
    const heavier = judge({ relation: "heavier", subject: ["device"], than: "cell" }, both);
    expect([lighter.verdict, heavier.verdict]).toEqual(["supported", "supported"]);
    expect(heavier.wording).toMatch(/Measured with Newling: off SIM/);
    // The same things of two devices: a SIM on one side only weighs on it.
    const there = record(B, [mass("device", 190)]);
    expect(judge({ relation: "lighter", subject: ["device"], than: "sibling" }, both, there).verdict).toBe(
      "cannot-tell",
    );
    const alike = record(B, [mass("device", 190, { off: ["SIM"] })]);
    expect(judge({ relation: "lighter", subject: ["device"], than: "sibling" }, both, alike).verdict).toBe("supported");
  });

  it("lets the shared offset of one instrument cancel", () => {
    const offset = { ...scale, sharedOffset: { value: 5, unit: "g" as const } };
    const both = [
      record(A, [mass("cell", 41.2)], { instruments: [offset] }),
      record(B, [mass("cell", 48.8)], { instruments: [offset] }),
    ] as const;
    const found = judge({ relation: "lighter", than: "sibling" }, ...both);
    expect(found.u).toBeCloseTo(0.0816496581, 9);
    expect(found.shared).toEqual(["offset of scale"]);
    const unlike = record(B, [mass("cell", 48.8)], { instruments: [{ ...offset, name: "another" }] });
    expect(judge({ relation: "lighter", than: "sibling" }, both[0], unlike).u).toBeGreaterThan(7);
  });

  it("does not change its verdict with the units", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 400, max: 440 }),
        fc.constantFrom("g", "kg", "mg"),
        fc.constantFrom("g", "kg", "mg"),
        (tenths, unit, stated) => {
          const inUnit = (value: number) => ({ values: [convert(value, "g", unit)], unit });
          const claim = { relation: "lighter" as const, value: 2, unit: "g" as const, than: "sibling" };
          const plain = judge(claim, record(A, [mass("cell", tenths / 10)]), record(B, [mass("cell", 44)]));
          const changed = judge(
            { ...claim, value: convert(2, "g", stated), unit: stated, band: "over" },
            record(A, [mass("cell", 0, inUnit(tenths / 10))]),
            record(B, [mass("cell", 0, inUnit(44))]),
          );
          const same = judge(
            { ...claim, band: "over" },
            record(A, [mass("cell", tenths / 10)]),
            record(B, [mass("cell", 44)]),
          );
          expect(changed.verdict).toBe(same.verdict);
          expect(changed.probability).toBeCloseTo(same.probability!, 6);
          expect(plain.value).toBeCloseTo(changed.value!, 9);
        },
      ),
    );
  });
});

describe("fractions", () => {
  const halves = (a: number, b: number) => record(A, [thick("cell", a), thick("device", b)]);
  const half = {
    relation: "fraction" as const,
    quantity: "thickness" as const,
    value: 0.5,
    unit: "1" as const,
    than: "device",
  };

  it("just over half: 0.5088, P 0.9995", () => {
    const found = judge({ ...half, band: "just-over" }, halves(2.61, 5.13));
    expect(found).toMatchObject({ verdict: "supported", probability: expect.closeTo(0.9994925, 6) });
    expect(found.interval![0]).toBeCloseTo(0.503532954, 6);
  });
  it("over half cannot be told at 0.5020 (P 0.767), about half can", () => {
    expect(judge({ ...half, band: "over" }, halves(2.57, 5.12))).toMatchObject({
      verdict: "cannot-tell",
      probability: expect.closeTo(0.767395591, 6),
    });
    expect(judge(half, halves(2.57, 5.12)).verdict).toBe("supported");
  });
  it("0.578 is not just over half", () => {
    expect(judge({ ...half, band: "just-over" }, halves(2.965, 5.13)).verdict).toBe("not-supported");
  });
  it("50 % is a half", () => {
    expect(judge({ ...half, value: 50, unit: "%" }, halves(2.57, 5.12)).verdict).toBe("supported");
  });
});

describe("lists", () => {
  const four = (a: number, ...others: number[]) =>
    record(A, [
      thick("cell", a),
      ...["frame", "coil", "screen"].flatMap((id, i) => (others[i] === undefined ? [] : [thick(id, others[i]!)])),
    ]);
  const thinnest = {
    relation: "superlative" as const,
    text: "the thinnest of these",
    subject: ["cell", "frame", "coil", "screen"],
    quantity: "thickness" as const,
  };

  it("the thinnest of four holds where every pair does: P 0.99973", () => {
    expect(judge(thinnest, four(0.82, 0.88, 0.9, 0.95))).toMatchObject({
      verdict: "supported",
      probability: expect.closeTo(0.999733997, 6),
    });
  });
  it("and fails to be told where one lies 0.02 mm off: P 0.876", () => {
    expect(judge(thinnest, four(0.86, 0.88, 0.9, 0.95))).toMatchObject({
      verdict: "cannot-tell",
      probability: expect.closeTo(0.8759, 3),
    });
  });
  it("an open list lets nothing be said beyond those measured, but one that beats it refutes it", () => {
    const open = {
      relation: "superlative" as const,
      text: "the thinnest phone of the year",
      subject: ["device"],
      quantity: "thickness" as const,
      than: "every phone",
    };
    const thin = judge(open, record(A, [thick("device", 7)]), record(B, [thick("device", 8)]));
    expect(thin).toMatchObject({
      verdict: "cannot-tell",
      probability: null,
      probabilityOfMeasured: expect.closeTo(1, 9),
    });
    expect(thin.wording).toMatch(/of the 2 measured/);
    expect(judge(open, record(A, [thick("device", 8)]), record(B, [thick("device", 7)])).verdict).toBe("not-supported");
  });
  it("a ranking holds pair by pair", () => {
    const ranked = { relation: "ranked" as const, subject: ["cell", "coil", "screen"], quantity: "mass" as const };
    const weights = (a: number, b: number, c: number) =>
      record(A, [mass("cell", a), mass("coil", b), mass("screen", c)]);
    expect(judge(ranked, weights(3, 2, 1)).verdict).toBe("supported");
    expect(judge(ranked, weights(1, 2, 3)).verdict).toBe("supported");
    expect(judge(ranked, weights(3, 1, 2)).verdict).toBe("not-supported");
    expect(judge(ranked, weights(3, 2.1, 2)).verdict).toBe("cannot-tell");
  });
});

describe("other kinds", () => {
  it("same: only with what would still count as the same", () => {
    const [own, other] = [record(A, [mass("cell", 41.2)]), record(B, [mass("cell", 41.3)])];
    const same = { relation: "same" as const, than: "sibling", unit: "g" as const, quantity: "mass" as const };
    expect(judge({ ...same, value: 0.5 }, own, other).verdict).toBe("supported");
    expect(judge({ ...same, value: 0.15 }, own, other).verdict).toBe("cannot-tell");
    expect(judge({ ...same, value: 0.1 }, own, record(B, [mass("cell", 42)])).verdict).toBe("not-supported");
    const open = judge({ relation: "same", than: "sibling", quantity: "mass" }, own, other);
    expect(open).toMatchObject({ verdict: "cannot-tell", probability: null });
    expect(open.wording).toMatch(/differ by 0\.10 ± 0\.16 g\. But what would still count as the same is not stated\.$/);
  });

  it("adds up within y: |R| + 1.645 u <= y", () => {
    const parts = [mass("frame", 40), mass("cell", 40), mass("coil", 5), mass("screen", 40)];
    const adds = {
      relation: "adds-up" as const,
      subject: ["device"],
      quantity: "mass" as const,
      unit: "g" as const,
      than: "device",
    };
    const own = (device: number) => record(A, [mass("device", device), ...parts]);
    // u_R = 0.0577 √5 = 0.129 g, so that 0.1 + 0.2124 g is the least that can be said.
    expect(judge({ ...adds, value: 0.32 }, own(125.1)).verdict).toBe("supported");
    expect(judge({ ...adds, value: 0.3 }, own(125.1)).verdict).toBe("cannot-tell");
    expect(judge({ ...adds, value: 0.3 }, own(126)).verdict).toBe("not-supported");
    const { unit: _, ...bare } = adds;
    expect(judge(bare, own(125.1))).toMatchObject({ verdict: "cannot-tell", probability: null });
    expect(judge(bare, own(126)).verdict).toBe("not-supported");
    expect(judge({ ...adds, value: 0.3 }, record(A, [mass("device", 125), ...parts.slice(1)])).wording).toMatch(
      /the frame was not measured/,
    );
  });

  it("states a weight only to the digits it has", () => {
    const own = record(A, [mass("cell", 46.2)]);
    expect(judge({ relation: "same", value: 46.2, unit: "g" }, own).verdict).toBe("supported");
    expect(judge({ relation: "same", value: 46.21, unit: "g" }, own).verdict).toBe("cannot-tell");
    expect(judge({ relation: "same", value: 47, unit: "g", text: "it weighs 47 g" }, own).verdict).toBe(
      "not-supported",
    );
  });

  it("holds a reading against a rounded published figure: 7.76 under 7.8 has P 0.8857", () => {
    const own = record(A, [thick("device", 7.76)]);
    const found = judge({ relation: "thinner", subject: ["device"], value: 7.8, unit: "mm", published: true }, own);
    expect(found).toMatchObject({ verdict: "cannot-tell", probability: expect.closeTo(0.885700909, 6) });
  });

  it("says of the model only that it cannot be told", () => {
    const found = judge(
      { relation: "lighter", than: "sibling", about: "model" },
      record(A, [mass("cell", 41.2)]),
      record(B, [mass("cell", 48.8)]),
    );
    expect(found).toMatchObject({ verdict: "cannot-tell", probability: null });
    expect(found.wording).toMatch(/^Our unit only: .*One unit cannot speak for the model\.$/);
  });

  it("counts screws in the record itself", () => {
    const joint = (id: string, count: number): Joint => ({
      id,
      kind: "screw",
      holds: ["frame", "cell"],
      count,
      releases: [],
    });
    const fewer = { relation: "fewer" as const, subject: ["device"], text: "it has fewer screws", than: "sibling" };
    const own = record(A, [], { joints: [joint("j1", 4), joint("j2", 3)] });
    expect(judge(fewer, own, record(B, [], { joints: [joint("j1", 9)] }))).toMatchObject({
      verdict: "supported",
      probability: 1,
    });
    expect(judge(fewer, own, record(B, [], { joints: [joint("j1", 7)] }))).toMatchObject({
      verdict: "not-supported",
      probability: 0,
    });
  });

  it.each([
    [{ relation: "lighter", than: "the one of last year" }, /"the one of last year" is words/],
    [{ relation: "lighter" }, /does not say what it is compared with/],
    [{ relation: "lighter", than: "coil" }, /no reading of the mass of the coil/],
    [{ relation: "lighter", than: "sibling" }, /sibling's record is not at hand/],
    [{ relation: "fraction", quantity: "mass", than: "coil" }, /does not say which fraction/],
    [{ relation: "superlative", quantity: "mass", text: "the best" }, /which end of the list/],
    [{ relation: "smaller", subject: ["coil"], than: "cell" }, /no reading of the area/],
  ] as const)("%j cannot be told, and why", (claim, message) => {
    const found = judge(claim as never, record(A, [mass("cell", 41.2)]));
    expect(found).toMatchObject({ verdict: "cannot-tell", probability: null, restsOn: [] });
    expect(found.wording).toMatch(message);
  });

  it("finds a sibling's part by role and by name, and a figure noted for it here", () => {
    const named = record(B, [mass("power", 48.8)], {
      parts: [
        { id: "frame", name: "Frame", base: true },
        { id: "power", name: "Cell pack", role: "battery" },
      ],
    });
    const own = record(A, [
      mass("cell", 41.2),
      { id: "note", of: ["device"], record: B, quantity: "mass", values: [190], unit: "g" },
      mass("device", 170),
    ]);
    expect(judge({ relation: "lighter", than: "sibling" }, own, named).verdict).toBe("supported");
    expect(judge({ relation: "lighter", than: "sibling:Cell pack" }, own, named).verdict).toBe("supported");
    expect(judge({ relation: "lighter", subject: ["device"], than: "sibling" }, own)).toMatchObject({
      verdict: "supported",
      restsOn: [own.readings[2]!.id, "note"],
    });
  });
});
