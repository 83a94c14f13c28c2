import { describe, expect, test } from "vitest";
import { paperPhone } from "../../../../checks/law-helpers.ts";
import type { TeardownRecord } from "../../record/schema.ts";
import { compile } from "../../structure/index.ts";
import { type Bounds, heldJoints } from "./held.ts";

/** The joints that every way to the battery of W1's phone undoes after the back cover is off. */
function heldBy(phone: TeardownRecord): string[] {
  const cell = phone.parts.find(({ id }) => id === "cell")!;
  const bounds: Bounds = { parts: new Set(phone.parts.map(({ id }) => id)), role: "battery" };
  return heldJoints(compile(phone, {}, ["cell"], false), cell, bounds)
    .map(({ joint }) => joint.id)
    .sort();
}

describe("joints that every way undoes in its segment", () => {
  const phone = paperPhone();

  test("on W1's phone all that lies under the back cover; its rim comes before the segment", () => {
    expect(heldBy(phone)).toEqual(["bolts", "plug", "strips"]);
  });

  test("one that can be undone before the cover is off is not held", () => {
    const joints = phone.joints.map((joint) => (joint.id === "strips" ? { ...joint, reach: undefined } : joint));
    expect(heldBy({ ...phone, joints: joints as typeof phone.joints })).toEqual(["bolts", "plug"]);
  });

  test("one that a way can do without is not held", () => {
    const parts = phone.parts.map((part) => (part.id === "cell" ? { ...part, under: [["cover"]] } : part));
    const joints = phone.joints.map((joint) =>
      joint.id === "plug" || joint.id === "strips" ? { ...joint, reach: [["cover"]] } : joint,
    );
    expect(heldBy({ ...phone, parts, joints })).toEqual(["plug", "strips"]);
  });
});
