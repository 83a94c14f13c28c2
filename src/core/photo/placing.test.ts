import { describe, expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { applyEdits, checkRecord, type TeardownRecord } from "../record/index.ts";
import { addPhoto, bodyOf, placeLevel, placeOutline, placeScrews, placeView } from "./index.ts";

const screw = smallPhone.joints.find((one) => one.kind === "screw")!;
const other = smallPhone.joints.find((one) => one.kind !== "screw")!;
const part = smallPhone.parts.find((one) => !one.base)!;
const withScrews = (more: object): TeardownRecord => ({
  ...smallPhone,
  joints: smallPhone.joints.map((one) =>
    one.id === screw.id ? { ...one, count: 3, screws: { drive: "PH000", ...more } } : one,
  ),
});
const applied = (record: TeardownRecord, edits: Parameters<typeof applyEdits>[1]) => {
  const result = applyEdits(record, edits);
  const check = checkRecord(result);
  expect(check.ok ? [] : check.faults).toEqual([]);
  return result;
};

describe("placing screws", () => {
  it("keeps what is known of each, in the order of removal, and counts", () => {
    const record = withScrews({ each: [{ length: 2.1 }, { mark: "ground" }] });
    const placed = placeScrews(record, screw.id, [
      [10.004, -5],
      [20, 30.126],
    ]);
    expect(placed).toMatchObject({ placed: 2, count: 3, said: "2 of 3 placed" });
    const joint = applied(record, placed.edits).joints.find((one) => one.id === screw.id)!;
    expect(joint.screws!.each).toEqual([
      { at: [10, -5], length: 2.1 },
      { at: [20, 30.13], mark: "ground" },
    ]);
    const taken = placeScrews(applied(record, placed.edits), screw.id, [null, [20, 30.13]]);
    expect(applied(record, taken.edits).joints.find((one) => one.id === screw.id)!.screws!.each).toEqual([
      { length: 2.1 },
      { at: [20, 30.13], mark: "ground" },
    ]);
    expect(
      placeScrews(record, screw.id, [
        [1, 1],
        [2, 2],
        [3, 3],
      ]).said,
    ).toBe("all 3 placed");
  });

  it("refuses more than there are, other joints, and screws without a drive", () => {
    const four = [
      [1, 1],
      [2, 2],
      [3, 3],
      [4, 4],
    ] as const;
    expect(() => placeScrews(withScrews({}), screw.id, four)).toThrow(/4 places.*at most 3/);
    expect(() => placeScrews(smallPhone, other.id, [])).toThrow(/kind screw/);
    expect(() => placeScrews(smallPhone, "nobody", [])).toThrow(/no "nobody"/);
    const bare = { ...smallPhone, joints: smallPhone.joints.map(({ screws: _, ...rest }) => rest) };
    expect(() => placeScrews(bare, screw.id, [[1, 1]])).toThrow(/drive is not stated/);
    applied(bare, placeScrews(bare, screw.id, [[1, 1]], "T3").edits);
  });
});

describe("placing outlines and levels", () => {
  it("turns rings the right way and refuses what crosses", () => {
    const clockwise = [
      [0, 0],
      [0, 10],
      [20, 10],
      [20, 0],
    ] as const;
    const hole = [
      [2, 2],
      [4, 2],
      [4, 4],
    ] as const;
    const made = applied(smallPhone, [placeOutline(smallPhone, part.id, [clockwise, hole])]);
    expect(made.parts.find((one) => one.id === part.id)!.outline).toEqual([
      [
        [20, 0],
        [20, 10],
        [0, 10],
        [0, 0],
      ],
      [
        [4, 4],
        [4, 2],
        [2, 2],
      ],
    ]);
    expect(() =>
      placeOutline(smallPhone, part.id, [
        [
          [0, 0],
          [10, 10],
          [10, 0],
          [0, 10],
        ],
      ]),
    ).toThrow(/cross/);
    expect(() =>
      placeOutline(smallPhone, part.id, [
        [
          [0, 0],
          [10, 10],
        ],
      ]),
    ).toThrow();
    applied(smallPhone, [placeLevel(smallPhone, part.id, [-0.004, 3.456])]);
    expect(placeLevel(smallPhone, part.id, [-0.004, 3.456])).toMatchObject({ value: [0, 3.46] });
    expect(() => placeLevel(smallPhone, part.id, [3, 3])).toThrow(/second number greater/);
  });
});

describe("photographs in the record", () => {
  const file = `${"a".repeat(64)}.jpg`;
  it("are tied to an entry or to a note of their own, once", () => {
    const first = addPhoto(smallPhone, { file, hash: "sha256:a", parts: [part.id], at: 12.3456 });
    const record = applied(smallPhone, first.edits);
    expect(record.media.at(-1)).toEqual({ id: first.id, kind: "photo", file, hash: "sha256:a" });
    expect(record.log.at(-1)).toMatchObject({ action: "note", media: first.id, parts: [part.id], at: 12.35 });
    const lens = { size: [4000, 3000] as const, focal: 26 };
    const told = applied(smallPhone, addPhoto(smallPhone, { file, hash: "sha256:a", lens }).edits);
    expect(told.media.at(-1)!.view).toEqual({ size: [4000, 3000], seen: "back", level: 0, focal: 26 });
    const again = addPhoto(record, { file, hash: "sha256:a" });
    expect(again).toEqual({ id: first.id, edits: [] });
    const entry = { id: "e1", action: "lift" as const };
    const logged = { ...smallPhone, log: [entry] };
    const tied = applied(logged, addPhoto(logged, { file, hash: "sha256:a", entry: "e1", parts: [part.id] }).edits);
    expect(tied.log).toEqual([{ ...entry, media: "photo-1", parts: [part.id] }]);
    expect(() => addPhoto(smallPhone, { file, hash: "", entry: "nobody" })).toThrow(/no entry "nobody"/);
  });

  it("keep their marks, and the record stays valid", () => {
    const added = addPhoto(smallPhone, { file, hash: "sha256:a" });
    const record = applied(smallPhone, added.edits);
    const marks = {
      size: [4000, 3000] as const,
      seen: "front" as const,
      level: 7.1,
      body: [-35, 35, -75, 75] as const,
      edges: [
        {
          edge: "left" as const,
          at: [
            [1, 2],
            [3, 4],
          ] as const,
        },
      ],
      card: { level: 0, u: 0.3, points: [{ at: [1, 2] as const, is: [12, 12] as const }] },
      focal: 26,
      u: 1,
    };
    const kept = applied(record, [placeView(record, added.id, marks)]).media.at(-1)!.view!;
    expect(kept).toMatchObject({ seen: "front", focal: 26, card: { level: 0 } });
    expect(kept).not.toHaveProperty("u");
    expect(applied(record, [placeView(record, added.id, null)]).media.at(-1)).not.toHaveProperty("view");
    const bad = applyEdits(record, [
      { kind: "set", list: "media", id: added.id, path: ["view"], value: { size: [1, 1], sean: "back" } },
    ]);
    const check = checkRecord(bad);
    expect(check.ok ? [] : check.faults.map((fault) => fault.nearest)).toContain("seen");
  });

  it("know the body from the base's outline", () => {
    const base = smallPhone.parts.find((one) => one.base)!;
    const drawn = {
      ...smallPhone,
      parts: smallPhone.parts.map((one) =>
        one === base
          ? {
              ...one,
              outline: [
                [
                  [0, 1],
                  [70, 2],
                  [69, 150],
                ] as [number, number][],
              ],
            }
          : one,
      ),
    };
    expect(bodyOf(drawn)).toEqual([0, 70, 1, 150]);
    expect(bodyOf({ ...smallPhone, parts: smallPhone.parts.map(({ outline: _, ...rest }) => rest) })).toBeUndefined();
  });
});
