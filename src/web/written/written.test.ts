import { describe, expect, it } from "vitest";
import { smallPhone } from "../../../test/fixtures/small-phone.ts";
import { InputError } from "../../core/errors.ts";
import { readJoint } from "./joint-line.ts";
import { readPart } from "./part-line.ts";
import { readTool } from "./tools-grid.tsx";

const driver = smallPhone.tools[0]!.id;

describe("a joint in one line", () => {
  it("is understood whole", () => {
    expect(
      readJoint(`3 screws: cover + frame; Phillips #000, M1.2, 2.4 mm; after back; unscrew with ${driver}`, smallPhone),
    ).toEqual({
      id: "cover-screw",
      kind: "screw",
      count: 3,
      holds: ["cover", "frame"],
      reach: [["back"]],
      releases: [{ action: "unscrew", tools: [driver], leaves: "whole" }],
      screws: { drive: "Phillips #000", thread: "M1.2", length: 2.4 },
    });
  });
  it("takes the usual way to undo where none is told", () => {
    expect(readJoint("connector: port + frame; after cover", smallPhone)).toMatchObject({
      releases: [{ action: "unplug", tools: [], leaves: "whole" }],
      reach: [["cover"]],
    });
    expect(readJoint("magnet: back + frame", smallPhone).releases).toEqual([]);
  });
  it("gets an id that is not taken", () => {
    const taken = { ...smallPhone, joints: [{ ...smallPhone.joints[0]!, id: "cover-screw" }] };
    expect(readJoint(`screw: cover + frame; unscrew with ${driver}`, taken).id).toBe("cover-screw-2");
  });
  it.each([
    ["six screws in the cover", /a count, a kind/],
    ["2 scrw: cover + frame", /screw/],
    ["2 screw: covr + frame", /cover/],
    ["2 screw: cover + frame; after bak", /back/],
    ["2 screw: cover + frame; PH000; unscrew with spanner", /tool/],
  ])("%s is refused in words", (text, words) => {
    expect(() => readJoint(text, smallPhone)).toThrow(InputError);
    expect(() => readJoint(text, smallPhone)).toThrow(words);
  });
});

describe("a tool in one line", () => {
  it("has a short id, a name and the law's kind", () => {
    expect(readTool("ph000: Phillips driver #000, with product", [])).toEqual({
      id: "ph000",
      name: "Phillips driver #000",
      kind: "with-product",
    });
    expect(readTool("Heat plate", [])).toEqual({ id: "heat-plate", name: "Heat plate", kind: "basic" });
  });
  it("of an unknown kind is refused", () => {
    expect(() => readTool("Plate, magic", [])).toThrow(/commercially available/);
  });
});

describe("a part in one line", () => {
  it("is understood whole", () => {
    expect(
      readPart(
        "Second cell; battery; under back + coil or cover; 1.2 to 4.5; of li_pouch; from back; live",
        smallPhone,
      ),
    ).toEqual({
      id: "second-cell",
      name: "Second cell",
      role: "battery",
      under: [["back", "coil"], ["cover"]],
      level: [1.2, 4.5],
      material: "li_pouch",
      side: "back",
      live: true,
    });
    expect(readPart("Loop; within back", smallPhone)).toEqual({ id: "loop", name: "Loop", within: "back" });
  });
  it.each([
    ["; battery", /name first/],
    ["Cell; batery", /battery/],
    ["Cell; under bak", /back/],
    ["Cell; from behind", /a side/],
    ["Cell; 4", /two levels/],
  ])("%s is refused in words", (text, words) => {
    expect(() => readPart(text, smallPhone)).toThrow(InputError);
    expect(() => readPart(text, smallPhone)).toThrow(words);
  });
});

it("a joint says its side and whether it isolates the cell", () => {
  expect(readJoint("connector: battery + frame; isolates the cell; from front; unplug", smallPhone)).toMatchObject({
    power: true,
    side: "front",
  });
});
