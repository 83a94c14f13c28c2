import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { assessSheet } from "./assess-sheet.ts";
import { rolesOf } from "./score.ts";
import { FASTENER_WORDS, parseSheet, type Sheet, type SheetPart, TOOL_WORDS } from "./sheet.ts";

type Loose = Record<string, unknown>;
const part = { steps: 6, fastener: "resupplied", tool: "basic" };
const good = (): Loose & { parts: Loose } => ({
  format: "unseam-sheet/1",
  foldable: false,
  parts: Object.fromEntries(rolesOf(false).map((role) => [role, { ...part }])),
  spareParts: 3,
  updateYears: 6,
  repairInformation: 3,
});
const faultsOf = (value: unknown) => {
  const check = parseSheet(value);
  return check.ok ? [] : check.faults;
};
const withPart = (over: Loose): Loose => ({ ...good(), parts: { ...good().parts, battery: { ...part, ...over } } });

describe("a sheet that is at fault", () => {
  const cases: [string, unknown, string, RegExp, string?][] = [
    ["is no object", [], "", /a sheet/],
    ["is null", null, "", /a sheet/],
    ["has another format", { ...good(), format: "unseam/1" }, "format", /unseam-sheet\/1/],
    ["has no steps", withPart({ steps: 0 }), "parts.battery.steps", /whole number/],
    ["has half a step", withPart({ steps: 1.5 }), "parts.battery.steps", /whole number/],
    ["counts steps in words", withPart({ steps: "6" }), "parts.battery.steps", /whole number/],
    ["has a tool word that is not known", withPart({ tool: "bassic" }), "parts.battery.tool", /one of none/, "basic"],
    [
      "has a fastener word that is not known",
      withPart({ fastener: "reuseable" }),
      "parts.battery.fastener",
      /one of/,
      "reusable",
    ],
    [
      "has a remote flag in words",
      withPart({ remote: { notification: "yes" } }),
      "parts.battery.remote.notification",
      /true or false/,
    ],
    [
      "has an unknown key in a part",
      withPart({ fasteners: "reusable" }),
      "parts.battery.fasteners",
      /one of the keys/,
      "fastener",
    ],
    ["lists no instance", { ...good(), parts: { ...good().parts, speaker: [] } }, "parts.speaker", /at least one/],
    [
      "has a hinge and does not fold",
      { ...good(), parts: { ...good().parts, hinge: part } },
      "parts.hinge",
      /no hinge/,
    ],
    ["folds and has no hinge", { ...good(), foldable: true }, "parts.hinge", /the hinge/],
    [
      "folds and calls the hinge absent",
      { ...good(), foldable: true, parts: { ...good().parts, hinge: null } },
      "parts.hinge",
      /the hinge/,
    ],
    ["has points that no level gives", { ...good(), repairInformation: 4 }, "repairInformation", /1, 3, 5/],
    ["has no points for spare parts but 0", { ...good(), spareParts: 0 }, "spareParts", /1, 2, 3, 4, 5/],
    ["has years below nothing", { ...good(), updateYears: -1 }, "updateYears", /years/],
    ["misspells a key", { ...good(), updatYears: 6 }, "updatYears", /one of the keys/, "updateYears"],
    [
      "misspells a part",
      { ...good(), parts: { ...good().parts, "bak-cover": part } },
      "parts.bak-cover",
      /one of the keys/,
      "back-cover",
    ],
  ];
  for (const [name, value, path, expected, near] of cases) {
    test(name, () => {
      const fault = faultsOf(value).find((one) => one.path === path);
      expect(fault, JSON.stringify(faultsOf(value))).toBeDefined();
      expect(fault?.expected).toMatch(expected);
      expect(fault?.nearest).toBe(near);
    });
  }

  test("names every missing key at once", () => {
    const { parts, ...rest } = good();
    const { battery: _, display: __, ...others } = parts;
    const { spareParts: ___, ...less } = rest;
    expect(
      faultsOf({ ...less, parts: others })
        .map((fault) => fault.path)
        .sort(),
    ).toEqual(["parts.battery", "parts.display", "spareParts"]);
    expect(faultsOf({}).map((fault) => fault.path)).toHaveLength(6);
  });

  test("never throws, whatever it is given", () => {
    fc.assert(
      fc.property(fc.anything(), fc.string(), (value, key) => {
        parseSheet(value);
        parseSheet({ ...good(), [key]: value });
        parseSheet({ ...good(), parts: { ...good().parts, battery: value } });
      }),
    );
  });
});

const word = <W extends string>(words: readonly W[], none: W): fc.Arbitrary<W> =>
  fc.constantFrom(...words.filter((one) => one !== none));
const anyPart: fc.Arbitrary<SheetPart> = fc.record({
  steps: fc.integer({ min: 1, max: 20 }),
  fastener: word(FASTENER_WORDS, "destroyed"),
  tool: word(TOOL_WORDS, "proprietary"),
  remote: fc.record({ notification: fc.boolean(), authorisation: fc.boolean() }),
});
const anySheet: fc.Arbitrary<Sheet> = fc.boolean().chain((foldable) =>
  fc.record({
    format: fc.constant("unseam-sheet/1" as const),
    foldable: fc.constant(foldable),
    parts: fc.record(
      Object.fromEntries(
        rolesOf(foldable).map((role) => [
          role,
          role === "hinge"
            ? fc.array(anyPart, { minLength: 1, maxLength: 2 })
            : fc.option(fc.array(anyPart, { minLength: 1, maxLength: 3 }), { freq: 5 }),
        ]),
      ),
    ),
    spareParts: fc.constantFrom(1 as const, 2 as const, 3 as const, 4 as const, 5 as const),
    updateYears: fc.integer({ min: 5, max: 9 }),
    repairInformation: fc.constantFrom(1 as const, 3 as const, 5 as const),
  }),
);

describe("for any sheet", () => {
  const exact = (sheet: Sheet): number => Number((assessSheet(sheet).unrounded ?? "").replace(".", ""));
  const letters = "EDCBA";

  test("a sheet that is written out reads back as the same sheet", () => {
    fc.assert(
      fc.property(anySheet, (sheet) => {
        expect(parseSheet(JSON.parse(JSON.stringify(sheet)))).toEqual({ ok: true, sheet });
      }),
    );
  });

  test("fewer steps, a better tool or fastener, more years never lower the index; the class never falls as it rises", () => {
    fc.assert(
      fc.property(anySheet, fc.nat(), fc.nat(), (sheet, which, how) => {
        const roles = rolesOf(sheet.foldable).filter((role) => (sheet.parts[role] ?? null) !== null);
        if (roles.length === 0) return;
        const role = roles[which % roles.length];
        const instances = sheet.parts[role] ?? [];
        const at = how % instances.length;
        const one = instances[at];
        const better: SheetPart[] = [
          { ...one, steps: Math.max(1, one.steps - 1 - (how % 5)) },
          { ...one, fastener: "reusable" },
          { ...one, tool: TOOL_WORDS[Math.max(0, TOOL_WORDS.indexOf(one.tool) - 1)] },
          { ...one, remote: { ...one.remote, notification: false } },
        ];
        const before = assessSheet(sheet);
        const changed: Sheet[] = better.map((part) => ({
          ...sheet,
          parts: { ...sheet.parts, [role]: instances.map((other, index) => (index === at ? part : other)) },
        }));
        changed.push({ ...sheet, updateYears: (sheet.updateYears ?? 0) + 1 });
        for (const next of changed) {
          expect(exact(next)).toBeGreaterThanOrEqual(exact(sheet));
          const after = assessSheet(next);
          expect(letters.indexOf(after.class ?? "")).toBeGreaterThanOrEqual(letters.indexOf(before.class ?? ""));
        }
      }),
    );
  });

  test("the index lies in 1 to 5 and has four decimals that rounding carries to two", () => {
    fc.assert(
      fc.property(anySheet, (sheet) => {
        const { index, unrounded } = assessSheet(sheet);
        expect(unrounded).toMatch(/^[1-5]\.\d{4}$/);
        expect(index).toMatch(/^[1-5]\.\d{2}$/);
        expect(Math.abs(Number(index) - Number(unrounded))).toBeLessThanOrEqual(0.0050001);
      }),
    );
  });
});
