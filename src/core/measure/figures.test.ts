import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Claim, Instrument, Part, Reading, TeardownRecord } from "../record/index.ts";
import { requireRecord } from "../record/index.ts";
import { convert } from "../units/index.ts";
import { figuresOf } from "./figures.ts";

const scale: Instrument = {
  id: "scale",
  kind: "scale",
  resolution: { value: 0.1, unit: "g" },
  repeatability: { value: 0.05, unit: "g" },
};
const caliper: Instrument = { id: "caliper", kind: "caliper", resolution: { value: 0.01, unit: "mm" } };
const U_SCALE = Math.hypot(0.1 / Math.sqrt(12), 0.05);

function record(
  parts: readonly string[] | readonly Part[],
  readings: readonly Reading[],
  more: Partial<TeardownRecord> = {},
): TeardownRecord {
  const list = parts.map((part, i): Part => {
    const full: Part = typeof part === "string" ? { id: part, name: part } : part;
    return i === 0 ? { ...full, base: true } : full;
  });
  return requireRecord({
    format: "unseam/1",
    id: "0b0b0b0b-0000-4000-8000-000000000001",
    device: { name: "Testling", kind: "smartphone", foldable: false },
    parts: list,
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
const read = (of: string | string[], value: number | number[], more: Partial<Reading> = {}): Reading => ({
  id: `r${next++}`,
  of: Array.isArray(of) ? of : [of],
  quantity: "mass",
  values: Array.isArray(value) ? value : [value],
  unit: "g",
  instrument: "scale",
  ...more,
});
const thick = (of: string | string[], value: number | number[], more: Partial<Reading> = {}) =>
  read(of, value, { quantity: "thickness", unit: "mm", instrument: "caliper", ...more });

describe("mass budget", () => {
  it("sums disjoint readings against the device", () => {
    const { mass } = figuresOf(
      record(["a", "b", "c"], [read("device", 187.4), read("a", 52.3), read("b", 98.6), read("c", 36.3)]),
    );
    expect(mass).toMatchObject({ device: 187.4, missing: [], closes: true });
    expect(mass.sum).toBeCloseTo(187.2, 10);
    expect(mass.residual).toBeCloseTo(0.2, 10);
    expect(mass.u).toBeCloseTo(2 * U_SCALE, 10);
    // Four equal uncertainties: the residual of 0.2 g is shared out evenly.
    expect(mass.lines[0]!.adjusted! - mass.lines[0]!.value).toBeCloseTo(0.05, 9);
  });

  it("names what is in no reading, and then does not say whether it closes", () => {
    const { mass } = figuresOf(record(["a", "b", "c"], [read("device", 187.4), read("a", 52.3)]));
    expect(mass.missing).toEqual(["b", "c"]);
    expect(mass.closes).toBeNull();
    expect(mass.sum).toBeCloseTo(52.3, 12);
  });

  it("counts nothing twice, and checks overlapping sets against each other", () => {
    const { mass } = figuresOf(
      record(["a", "b", "c"], [read("device", 60), read("a", 10), read("b", 20), read("c", 30), read(["a", "b"], 31)]),
    );
    // Three readings give the sum one rounding less than four.
    expect(mass.lines.map((line) => line.of.length).sort()).toEqual([1, 2]);
    expect(mass.checks).toHaveLength(1);
    expect(mass.checks[0]).toMatchObject({ difference: 1, agrees: false });
    expect(
      figuresOf(
        record(
          ["a", "b", "c"],
          [read("device", 60), read("a", 10), read("b", 20), read("c", 30), read(["a", "b"], 31)],
        ),
      ).flags.some((flag) => flag.kind === "readings-disagree"),
    ).toBe(true);
  });

  it("does not adjust where the test fails", () => {
    const { mass } = figuresOf(record(["a", "b"], [read("device", 187.4), read("a", 52.3), read("b", 98.6)]));
    expect(mass.closes).toBe(false);
    expect(mass.lines.every((line) => line.adjusted === undefined)).toBe(true);
  });

  it("lets a shared offset stay in the residual n - 1 times", () => {
    const instruments = [{ ...scale, sharedOffset: { value: 0.2, unit: "g" as const } }, caliper];
    const { mass } = figuresOf(
      record(["a", "b", "c"], [read("device", 60), read("a", 10), read("b", 20), read("c", 30)], { instruments }),
    );
    expect(mass.u).toBeCloseTo(Math.hypot(2 * U_SCALE, 2 * 0.2), 10);
  });

  it("takes the zero off, and its error with every reading that uses it", () => {
    const zero = read("zero", [0.2], { at: 0 });
    const { mass, readings } = figuresOf(
      record(
        ["a", "b", "c"],
        [
          zero,
          read("device", 60.2, { at: 1 }),
          read("a", 10.2, { at: 2 }),
          read("b", 20.2, { at: 3 }),
          read("c", 30.2, { at: 4 }),
        ],
      ),
    );
    expect(readings[0]).toMatchObject({ of: ["zero"], value: 0.2 });
    expect(readings[1]!.value).toBeCloseTo(60, 12);
    expect(readings[1]!.u).toBeCloseTo(Math.hypot(U_SCALE, U_SCALE), 12);
    expect(mass.residual).toBeCloseTo(0, 10);
    expect(mass.u).toBeCloseTo(Math.hypot(2 * U_SCALE, 2 * U_SCALE), 10);
  });

  it("takes what came along inside an assembly as weighed with it, unless it is said to be off", () => {
    const parts: Part[] = [
      { id: "a", name: "a" },
      { id: "b", name: "b" },
      { id: "inner", name: "inner", within: "b" },
    ];
    const whole = figuresOf(record(parts, [read("device", 60), read("a", 10), read("b", 50)])).mass;
    expect(whole).toMatchObject({ missing: [], closes: true });
    expect(whole.warnings.join()).toMatch(/taken to hold inner too/);
    const bare = figuresOf(record(parts, [read("device", 60), read("a", 10), read("b", 50, { off: ["inner"] })])).mass;
    expect(bare.missing).toEqual(["inner"]);
    const apart = figuresOf(record(parts, [read("device", 60), read("a", 10), read("b", 45), read("inner", 5)])).mass;
    expect(apart.sum).toBeCloseTo(60, 10);
  });

  it("never gets surer by one more part", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 500 }), { minLength: 2, maxLength: 8 }), (masses) => {
        const ids = masses.map((_, i) => `p${i}`);
        const all = record(ids, [read("device", 900), ...masses.map((m, i) => read(`p${i}`, m / 10))]);
        const fewer = record(ids.slice(1), [
          read("device", 900),
          ...masses.slice(1).map((m, i) => read(`p${i + 1}`, m / 10)),
        ]);
        expect(figuresOf(all).mass.u!).toBeGreaterThan(figuresOf(fewer).mass.u!);
      }),
      { numRuns: 30 },
    );
  });
});

describe("readings", () => {
  it("do not become perfect by repeating the same display", () => {
    const instruments = [{ id: "scale", kind: "scale" as const, resolution: { value: 0.1, unit: "g" as const } }];
    const { readings } = figuresOf(record(["a"], [read("a", new Array(10).fill(27.3))], { instruments }));
    expect(readings[0]!.u).toBeCloseTo(0.1 / Math.sqrt(12), 12);
  });

  it("have s/√n with n - 1 degrees of freedom, the display step beside it", () => {
    const instruments = [{ id: "scale", kind: "scale" as const, resolution: { value: 0.01, unit: "g" as const } }];
    const { readings } = figuresOf(record(["a"], [read("a", [27.31, 27.33, 27.32])], { instruments }));
    const own = 0.01 / Math.sqrt(3);
    const step = 0.01 / Math.sqrt(12);
    expect(readings[0]!.u).toBeCloseTo(Math.hypot(own, step), 12);
    expect(readings[0]!.dof).toBeCloseTo((own ** 2 + step ** 2) ** 2 / (own ** 4 / 2), 8);
    expect(readings[0]!.text).toMatch(/^27\.320 ± 0\.0\d\d g$/);
  });

  it("say that their instrument was overdue", () => {
    const instruments = [{ ...scale, due: "2025-04-10" }];
    const sessions = [{ id: "s", started: "2026-10-06T09:00:00Z", kind: "timed" as const }];
    const { readings, mass } = figuresOf(record(["a"], [read("a", 5, { session: "s" })], { instruments, sessions }));
    expect(readings[0]!.warnings.join()).toMatch(/overdue for calibration \(due 2025-04-10, used 2026-10-06\)/);
    // And so does everything made of them.
    expect(mass.warnings.join()).toMatch(/overdue/);
    const fresh = figuresOf(
      record(["a"], [read("a", 5, { session: "s" })], { instruments: [{ ...scale, due: "2026-10-06" }], sessions }),
    );
    expect(fresh.readings[0]!.warnings.join()).not.toMatch(/overdue/);
  });

  it("come back in the unit they were read in, whatever it is", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 900, noNaN: true }), fc.constantFrom("g", "kg", "mg"), (grams, unit) => {
        const value = convert(grams, "g", unit);
        const { readings, mass } = figuresOf(record(["a"], [read("a", value, { unit })]));
        expect(readings[0]!.unit).toBe(unit);
        expect(readings[0]!.value / value).toBeCloseTo(1, 12);
        expect(mass.sum! / grams).toBeCloseTo(1, 12);
      }),
    );
  });

  it("in degrees Fahrenheit have an uncertainty that has no zero point", () => {
    const instruments = [
      {
        id: "tc",
        kind: "thermocouple" as const,
        resolution: { value: 0.1, unit: "degC" as const },
        maxError: { value: 1.1, unit: "degC" as const },
      },
    ];
    const one = read("a", 149, { quantity: "temperature", unit: "degF", instrument: "tc" });
    const { readings } = figuresOf(record(["a"], [one], { instruments }));
    expect(readings[0]!.value).toBeCloseTo(149, 10);
    expect(readings[0]!.u).toBeCloseTo(1.8 * Math.hypot(0.1 / Math.sqrt(12), 1.1 / Math.sqrt(3)), 10);
  });

  it("name themselves where their instrument does not fit", () => {
    const odd = read("a", 5, { instrument: "caliper", id: "odd" });
    expect(() => figuresOf(record(["a"], [odd]))).toThrow(
      /readings\[0\] \(odd\): instrument caliper, resolution: found mm, expected a unit that fits a reading in g/,
    );
  });
});

describe("thickness", () => {
  const ring = (r: number): [number, number][] => [
    [-r, -r],
    [r, -r],
    [r, r],
    [-r, r],
  ];
  const parts: Part[] = [
    { id: "frame", name: "frame", outline: [ring(30), ring(25)], level: [0, 8] },
    { id: "cover", name: "cover", outline: [ring(30)], level: [0, 0.8] },
    { id: "cell", name: "cell", role: "battery", outline: [ring(20)], level: [1, 5] },
    { id: "screen", name: "screen", outline: [ring(30)], level: [5.2, 7] },
    { id: "far", name: "far", outline: [ring(3).map(([x, y]): [number, number] => [x + 24, y])], level: [1, 2] },
  ];
  const device = {
    name: "Testling",
    kind: "smartphone" as const,
    foldable: false,
    cell: { capacity: { value: 4, unit: "Ah" as const }, voltage: { value: 3.85, unit: "V" as const } },
    stackups: [
      { name: "middle", place: [0, 0] as [number, number], gaps: [{ name: "air", value: 0.4, tolerance: 0.1 }] },
    ],
  };
  const all = [thick("device", 7), thick("cover", 0.8), thick("cell", 4), thick("screen", 1.8)];

  it("adds up what lies under the place, holes left out", () => {
    const [stack] = figuresOf(record(parts, all, { device })).thickness;
    expect(stack).toMatchObject({
      name: "middle",
      body: 7,
      closes: true,
      missing: [],
      layers: ["cover", "cell", "screen"],
    });
    expect(stack!.sum).toBeCloseTo(7, 12);
    expect(stack!.u).toBeCloseTo(Math.hypot(2 * (0.01 / Math.sqrt(12)), 0.1 / Math.sqrt(3)), 12);
    expect(stack!.tolerance!.worst).toBeCloseTo(0.1, 12);
  });

  it("takes the reading at the place and names one that was taken far from it", () => {
    const places = [
      thick("device", 7, { place: [0, 0] }),
      thick("device", 9, { place: [28, 0] }),
      thick("cover", 0.8, { place: [20, 20] }),
      thick("cell", 4),
      thick("screen", 1.8),
    ];
    const [stack] = figuresOf(record(parts, places, { device })).thickness;
    expect(stack!.body).toBe(7);
    expect(stack!.warnings.join()).toMatch(/28 mm from the place/);
  });

  it("flags a stack that is thicker than its body", () => {
    const { flags } = figuresOf(record(parts, [thick("device", 6), ...all.slice(1)], { device }));
    expect(flags.map((flag) => flag.kind)).toContain("stack");
  });

  it("gives the battery's energy by mass and by volume of its outline", () => {
    const { battery, flags } = figuresOf(record(parts, [...all, read("cell", 60)], { device }));
    expect(battery.energyWh).toBeCloseTo(15.4, 12);
    expect(battery.areaMm2).toBeCloseTo(1600, 9);
    expect(battery.whPerKg).toBeCloseTo(15.4 / 0.06, 9);
    expect(battery.whPerL).toBeCloseTo(15.4 / (1600 * 4e-6), 6);
    expect(battery.transport.join()).toMatch(/2\.7 Wh/);
    expect(battery.transport.join()).not.toMatch(/20 Wh/);
    expect(flags.map((flag) => flag.kind)).toContain("energy-per-volume");
  });

  it("refuses a battery whose outline crosses itself", () => {
    const crossed = parts.map((part) =>
      part.id === "cell"
        ? {
            ...part,
            outline: [
              [
                [0, 0],
                [4, 4],
                [4, 0],
                [0, 4],
              ] as [number, number][],
            ],
          }
        : part,
    );
    expect(() => figuresOf(record(crossed, all, { device }))).toThrow(/the outline of cell: found edge 1/);
  });
});

describe("plausibility", () => {
  it("flags a torque near the thread's breaking torque, and infrared on bare metal", () => {
    const ir = {
      id: "ir",
      kind: "infrared" as const,
      resolution: { value: 0.1, unit: "degC" as const },
      emissivity: 0.95,
    };
    const joint = (id: string, torque: number) => ({
      id,
      kind: "screw" as const,
      holds: ["a", "b"],
      releases: [],
      screws: { drive: "cross recess 000", thread: "M1.4x0.3", torque: { value: torque, unit: "cN.m" as const } },
    });
    const { flags } = figuresOf(
      record(
        [
          { id: "a", name: "a", material: "aluminium 6013" },
          { id: "b", name: "b" },
        ],
        [
          read("a", 60, { quantity: "temperature", unit: "degC", instrument: "ir" }),
          read("b", 60, { quantity: "temperature", unit: "degC", instrument: "ir" }),
        ],
        { instruments: [ir], joints: [joint("tight", 7), joint("loose", 5)] },
      ),
    );
    expect(flags.map((flag) => flag.kind).sort()).toEqual(["infrared", "torque"]);
    expect(flags.find((flag) => flag.kind === "torque")!.about).toBe("tight");
  });
});

describe("claims and plan", () => {
  const claim = (relation: Claim["relation"], more: Partial<Claim> = {}): Claim => ({
    id: "c",
    text: "said",
    subject: ["a"],
    relation,
    ...more,
  });

  it("plans the repeats that make a claim decidable, and they do", () => {
    const readings = [read("a", 41.2), read("b", 41.3)];
    const claims = [claim("lighter", { than: "b" })];
    const fine: Instrument = {
      id: "fine",
      kind: "scale",
      resolution: { value: 0.01, unit: "g" },
      repeatability: { value: 0.01, unit: "g" },
    };
    const made = record(["a", "b"], readings, { claims, instruments: [scale, fine] });
    const { claims: verdicts, plan } = figuresOf(made);
    expect(verdicts[0]!.verdict).toBe("cannot-tell");
    expect(verdicts[0]!.probability).toBeCloseTo(0.88966432, 8);
    const step = plan.find((one) => one.cheapest)!;
    const again = made.readings.map((reading) =>
      step.readings.includes(reading.id)
        ? { ...reading, values: new Array<number>(step.repeats).fill(reading.values[0]!), instrument: step.instrument }
        : reading,
    );
    expect(figuresOf({ ...made, readings: again }).claims[0]!.verdict).toBe(step.verdict);
  });

  it("plans for a figure that is finer than its measurement", () => {
    const fine: Instrument = {
      id: "fine",
      kind: "scale",
      resolution: { value: 0.01, unit: "g" },
      repeatability: { value: 0.01, unit: "g" },
    };
    const made = record(["a", "b"], [read("a", 41.2), read("b", 48.81)], {
      claims: [claim("lighter", { than: "b", value: 7.61, unit: "g" })],
      instruments: [scale, fine],
    });
    const { claims: verdicts, plan } = figuresOf(made);
    expect(verdicts[0]).toMatchObject({ verdict: "cannot-tell", probability: null, figureOpen: true });
    expect(plan.find((one) => one.cheapest)).toMatchObject({ instrument: "fine", verdict: "supported" });
  });

  it("says what it would take where no instrument at hand is enough", () => {
    const made = record(["a", "b"], [read("a", 41.2), read("b", 41.3)], {
      claims: [claim("lighter", { than: "b" })],
      instruments: [{ ...scale, maxError: { value: 0.5, unit: "g" } }],
    });
    const { plan, open } = figuresOf(made);
    expect(plan).toEqual([]);
    expect(open[0]).toMatchObject({ claim: "c", u: expect.closeTo(0.1 / 1.6448536, 6) });
  });

  it("plans nothing for what no reading can decide", () => {
    const made = record(["a", "b"], [read("a", 41.2), read("b", 48.8)], {
      claims: [claim("lighter", { than: "every other one" })],
    });
    expect(figuresOf(made).plan).toEqual([]);
  });
});
