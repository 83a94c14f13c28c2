import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../errors.ts";
import { applyEdit, applyEdits, collide, difference, Edit, equal, invert, invertAll, touches } from "./edits.ts";
import type { TeardownRecord } from "./schema.ts";
import { canonical } from "./write.ts";

const start: TeardownRecord = {
  format: "unseam/1",
  id: "00000000-0000-4000-8000-000000000001",
  device: { name: "A slab", kind: "smartphone", foldable: false },
  parts: [
    { id: "frame", name: "Frame", base: true },
    { id: "cover", name: "Cover" },
    { id: "cell", name: "Cell", under: [["cover"]] },
  ],
  joints: [{ id: "glue", kind: "adhesive", holds: ["frame", "cover"], releases: [] }],
  tools: [],
  instruments: [],
  log: [],
  readings: [],
  claims: [],
  media: [],
};

const ids = ["frame", "cover", "cell", "glue", "new-1", "new-2", "new-3"];
const lists = ["parts", "joints", "tools", "checks", "sessions", "log"] as const;
const wish = fc.record({
  kind: fc.constantFrom("put", "remove", "move", "set", "head"),
  list: fc.constantFrom(...lists),
  id: fc.constantFrom(...ids),
  at: fc.nat(4),
  placed: fc.boolean(),
  path: fc.constantFrom<(string | number)[]>(["name"], ["under"], ["under", 0], ["under", 0, 1], ["note"], ["a", "b"]),
  head: fc.constantFrom<(string | number)[]>(
    ["device", "name"],
    ["unit"],
    ["sibling"],
    ["device", "price"],
    ["format"],
  ),
  value: fc.option(fc.jsonValue(), { nil: undefined }),
});

/** Random wishes, of which those that fit the record one after the other are kept. */
const batch = fc.array(wish, { maxLength: 14 }).map((wishes) => {
  const edits: Edit[] = [];
  let record = start;
  for (const { kind, list, id, at, placed, path, head, value } of wishes) {
    const given = value === undefined ? {} : { value: JSON.parse(JSON.stringify(value)) };
    const made: unknown =
      kind === "put"
        ? { kind, list, item: { id, ...given }, ...(placed ? { at } : {}) }
        : kind === "head"
          ? { kind, path: head, ...given }
          : kind === "set"
            ? { kind, list, id, path, ...given }
            : kind === "move"
              ? { kind, list, id, at }
              : { kind, list, id };
    try {
      const edit = Edit.parse(made);
      record = applyEdit(record, edit);
      edits.push(edit);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
  return edits;
});

describe("edits", () => {
  it("can each be taken back", () => {
    fc.assert(
      fc.property(batch, (edits) => {
        let record = start;
        for (const edit of edits) {
          const before = JSON.stringify(record);
          const after = applyEdit(record, edit);
          expect(JSON.stringify(record)).toBe(before);
          expect(JSON.stringify(canonical(applyEdit(after, invert(record, edit))))).toBe(
            JSON.stringify(canonical(record)),
          );
          record = after;
        }
      }),
      { numRuns: 500 },
    );
  });

  it("can be taken back as a batch", () => {
    fc.assert(
      fc.property(batch, (edits) => {
        const back = applyEdits(applyEdits(start, edits), invertAll(start, edits));
        expect(JSON.stringify(canonical(back))).toBe(JSON.stringify(canonical(start)));
      }),
    );
  });

  it("are found between any two records", () => {
    fc.assert(
      fc.property(batch, batch, (one, other) => {
        const [a, b] = [applyEdits(start, one), applyEdits(start, other)];
        const between = difference(a, b);
        for (const edit of between) expect(Edit.safeParse(edit).success).toBe(true);
        expect(JSON.stringify(canonical(applyEdits(a, between)))).toBe(JSON.stringify(canonical(b)));
        expect(difference(a, a)).toEqual([]);
      }),
      { numRuns: 500 },
    );
  });

  it("that do not collide give the same record in either order", () => {
    const single = batch.filter((edits) => edits.length > 0).map((edits) => edits[0]);
    // Positions are relative to what is there: only edits that leave the order alone are asked to commute.
    const still = (edit: Edit) => edit.kind === "set" || edit.kind === "head";
    fc.assert(
      fc.property(single, single, (a, b) => {
        fc.pre(still(a) && still(b) && !collide(a, b));
        const ab = applyEdits(start, [a, b]);
        expect(equal(ab, applyEdits(start, [b, a]))).toBe(true);
      }),
      { numRuns: 400 },
    );
  });

  it("name what they touch", () => {
    expect(touches({ kind: "put", list: "parts", item: { id: "cell" } })).toEqual(["parts/cell"]);
    expect(touches({ kind: "set", list: "joints", id: "glue", path: ["bond", "length"], value: 3 })).toEqual([
      "joints/glue",
    ]);
    expect(touches({ kind: "head", path: ["device", "name"], value: "x" })).toEqual(["device"]);
  });

  it("collide on the same thing only", () => {
    const name: Edit = { kind: "set", list: "parts", id: "cell", path: ["name"], value: "Battery" };
    const role: Edit = { kind: "set", list: "parts", id: "cell", path: ["role"], value: "battery" };
    const gone: Edit = { kind: "remove", list: "parts", id: "cell" };
    const other: Edit = { kind: "remove", list: "parts", id: "cover" };
    expect(collide(name, name)).toBe(true);
    expect(collide(name, role)).toBe(false);
    expect(collide(name, gone)).toBe(true);
    expect(collide(gone, other)).toBe(false);
  });

  it.each<[string, Edit]>([
    ["an unknown id", { kind: "remove", list: "parts", id: "sell" }],
    ["a place beyond the list", { kind: "move", list: "parts", id: "cell", at: 3 }],
    ["a path through nothing", { kind: "set", list: "parts", id: "cell", path: ["shift", "freeing"], value: [] }],
    ["a change of id", { kind: "set", list: "parts", id: "cell", path: ["id"], value: "x" }],
    ["a head that is none", { kind: "head", path: ["parts"], value: [] }],
    ["an element taken from the middle", { kind: "set", list: "parts", id: "cell", path: ["under", 3] }],
  ])("refuse %s in words", (_, edit) => {
    expect(() => applyEdit(start, edit)).toThrow(InputError);
  });

  it("suggest the nearest id", () => {
    expect(() => applyEdit(start, { kind: "remove", list: "parts", id: "cel" })).toThrow(/nearest: cell/);
  });
});
