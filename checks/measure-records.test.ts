/** Figures and comparison of the example records with anything changed that a valid record may hold: laws that must hold. */
import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError, InputFaults } from "../src/core/errors.ts";
import { compareRecords, figuresOf } from "../src/core/measure/index.ts";
import { CLAIM_RELATIONS, checkRecord, type TeardownRecord } from "../src/core/record/index.ts";

const NAMES = ["thrandle-5", "thrandle-4", "plicarn-1", "halverim-11"];
const texts = new Map(
  NAMES.map((name) => [name, readFileSync(new URL(`../examples/${name}.json`, import.meta.url), "utf8")]),
);
const load = (name: string) => JSON.parse(texts.get(name)!) as TeardownRecord;

type Loose = Record<string, unknown>;
/** One change to a copy of a record; `n` picks the place. */
const CHANGES: readonly ((record: TeardownRecord, n: number) => void)[] = [
  (r, n) => void r.readings.splice(n % r.readings.length, 1),
  (r, n) =>
    void delete (r.readings[n % r.readings.length] as Loose)[
      ["instrument", "session", "place", "on", "off", "at"][n % 6]!
    ],
  (r, n) =>
    void (r.readings[n % r.readings.length]!.values = [[1], [0.001, 5000], [1e6], [27.3, 27.3, 27.3], [1e-12]][n % 5]!),
  (r, n) =>
    void (r.readings[n % r.readings.length]!.of = [
      r.parts[n % r.parts.length]!.id,
      r.parts[(n * 7) % r.parts.length]!.id,
    ]),
  (r, n) => void delete (r.parts[n % r.parts.length] as Loose)[["outline", "level", "within", "role"][n % 4]!],
  (r, n) =>
    void delete (r.instruments[n % r.instruments.length] as Loose)[
      ["maxError", "repeatability", "sharedOffset"][n % 3]!
    ],
  (r, n) => {
    const instrument = r.instruments[n % r.instruments.length]!;
    instrument.sharedOffset = { value: [0, 1e-9, 100][n % 3]!, unit: instrument.resolution.unit };
    instrument.sharedGain = [0, 0.001, 5][n % 3]!;
  },
  (r, n) => {
    const claim = r.claims[n % r.claims.length];
    if (claim !== undefined) claim.relation = CLAIM_RELATIONS[n % CLAIM_RELATIONS.length]!;
  },
  (r, n) => {
    const claim = r.claims[n % r.claims.length] as Loose | undefined;
    if (claim !== undefined) delete claim[["value", "unit", "than", "quantity", "band", "about", "published"][n % 7]!];
  },
  (r, n) => {
    const claim = r.claims[n % r.claims.length];
    if (claim === undefined) return;
    claim.value = [0, -1, 0.5, 1e9, 7.61][n % 5]!;
    claim.than = ["device", "sibling", "sibling:x", "words", r.parts[n % r.parts.length]!.id][(n >> 3) % 5]!;
    if (n % 4 === 0) claim.published = true;
    if (n % 5 === 0) claim.unit = "%";
  },
  (r, n) => {
    const claim = r.claims[n % r.claims.length];
    if (claim !== undefined)
      claim.subject = [r.parts[n % r.parts.length]!.id, r.joints[n % r.joints.length]!.id].slice(0, 1 + (n % 2));
  },
];

describe("figures of records with anything in them", () => {
  it("are figures, or a fault in words; verdicts keep to their probabilities", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...NAMES),
        fc.option(fc.constantFrom(...NAMES), { nil: undefined }),
        fc.array(fc.tuple(fc.nat(CHANGES.length - 1), fc.nat(10_000)), { minLength: 1, maxLength: 6 }),
        (example, other, changes) => {
          const record = load(example);
          const sibling = other === undefined ? undefined : load(other);
          for (const [change, n] of changes) CHANGES[change]!(record, n);
          const check = checkRecord(record);
          fc.pre(check.ok);
          try {
            const figures = figuresOf(record, sibling);
            for (const claim of figures.claims) {
              expect(claim.wording).not.toMatch(/undefined|NaN|\[object/);
              if (claim.probability === null) {
                expect(claim.verdict).toBe("cannot-tell");
                continue;
              }
              expect(claim.probability).toBeGreaterThanOrEqual(-1e-12);
              expect(claim.probability).toBeLessThanOrEqual(1 + 1e-12);
              const { probability } = claim;
              if (claim.verdict === "supported") expect(probability).toBeGreaterThanOrEqual(0.95 - 1e-9);
              else if (claim.verdict === "not-supported") expect(probability).toBeLessThanOrEqual(0.05 + 1e-9);
              else expect(Math.abs(probability - 0.5)).toBeLessThan(0.45 + 1e-9);
            }
            const { mass } = figures;
            if (mass.missing.length > 0) expect(mass.closes).toBeNull();
            const held = mass.lines.flatMap((line) => line.of);
            expect(new Set(held).size).toBe(held.length);
            if (sibling !== undefined) {
              const { mass: change } = compareRecords(record, sibling);
              const all = change.all.reduce((sum, one) => sum + one.difference, 0);
              if (change.total !== null)
                expect(Math.abs(all - change.total.difference)).toBeLessThan(
                  1e-6 * Math.max(1, Math.abs(mass.sum ?? 1), Math.abs(mass.device ?? 1)),
                );
            }
          } catch (error) {
            if (!(error instanceof InputError || error instanceof InputFaults)) throw error;
          }
        },
      ),
      { numRuns: 100 },
    );
  });
});
