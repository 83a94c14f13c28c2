/**
 * The disassembly table of 2023/1670 (Annex II B and D 1.1(5)) and Article 11 of 2023/1542, row by row, on devices made so
 * that one thing at a time decides. The table of interplay: a commercially available tool fails row c(i) and passes Article
 * 11; heat passes c(i) only when its source is supplied and fails Article 11; solvent fails Article 11 alone; adhesive that
 * is not resupplied fails c(i) alone.
 */
import { describe, expect, test } from "vitest";
import { type LawReport, lawReport } from "../src/core/law/index.ts";
import type { Joint, Part, TeardownRecord, Tool } from "../src/core/record/index.ts";
import { planner, record, TOOLS } from "./law-helpers.ts";

type Release = Joint["releases"][number];

const tools: Tool[] = [
  ...TOOLS,
  { id: "key", name: "Maker's key", kind: "proprietary" },
  { id: "boxed", name: "Tool in the box", kind: "with-product" },
  { id: "bagged", name: "Tool with the spare part", kind: "with-spare-part" },
  { id: "pad", name: "Heating pad in the box", kind: "with-product", heatSource: true },
];

/** A battery held by one joint under the frame, and nothing else. */
function phone(
  release: Partial<Release>,
  more: { cell?: Partial<Part>; over?: Partial<TeardownRecord> } = {},
): TeardownRecord {
  const cell: Part = {
    id: "cell",
    name: "Battery",
    role: "battery",
    spare: { to: "end-users", brings: [] },
    ...more.cell,
  };
  const joint: Joint = {
    id: "bond",
    kind: "adhesive",
    holds: ["cell", "frame"],
    releases: [{ action: "pull", tools: [], leaves: "whole", ...release }],
  };
  return record({ parts: [{ id: "frame", name: "Frame", base: true }, cell], joints: [joint], tools, ...more.over });
}

const report = (one: TeardownRecord): LawReport => lawReport(one, { ...planner, basis: "least" });
const row = (one: TeardownRecord, name: string): string | undefined =>
  report(one).checks.ecodesign.rows.find((found) => found.row === name)?.verdict;
const article = (one: TeardownRecord): string => report(one).checks.article11.verdict;
const heat = (by?: string): Partial<Release> => ({
  heat: { zone: "z", bond: 60, seconds: 60, ...(by === undefined ? {} : { by }) },
});

describe("battery: c(i) of 2023/1670 beside Article 11 of 2023/1542", () => {
  const cases: [string, TeardownRecord, string, string][] = [
    ["bare hands, nothing spent", phone({}), "pass", "pass"],
    ["a basic tool", phone({ tools: ["tweezers"] }), "pass", "pass"],
    ["a commercially available tool", phone({ tools: ["handle"] }), "fail", "pass"],
    ["a tool in the box", phone({ tools: ["boxed"] }), "pass", "pass"],
    [
      "a tool with the spare part: whether it can be bought too is not told",
      phone({ tools: ["bagged"] }),
      "pass",
      "cannot-tell",
    ],
    [
      "a tool that comes with this spare part",
      phone({ tools: ["handle"] }, { cell: { spare: { to: "end-users", brings: ["handle"] } } }),
      "pass",
      "pass",
    ],
    ["a proprietary tool", phone({ tools: ["key"] }), "fail", "fail"],
    ["adhesive not resupplied", phone({ leaves: "spent" }), "fail", "pass"],
    [
      "adhesive resupplied",
      phone({ leaves: "spent" }, { cell: { spare: { to: "end-users", brings: ["bond"] } } }),
      "pass",
      "pass",
    ],
    [
      "whether it is resupplied is not stated",
      phone({ leaves: "spent" }, { cell: { spare: { to: "end-users" } } }),
      "cannot-tell",
      "pass",
    ],
    ["what it leaves is not known", phone({ leaves: "unknown" }), "cannot-tell", "pass"],
    ["damage", phone({ leaves: "broken" }), "fail", "fail"],
    ["heat from a plate that is bought", phone(heat("plate")), "fail", "fail"],
    // Heat needs no special skill by the text, but a layman's is for the assessor to judge.
    ["heat from a pad in the box", phone(heat("pad")), "cannot-tell", "fail"],
    ["solvent", phone({ solvent: true }), "cannot-tell", "fail"],
    ["sold to professionals", phone({}, { cell: { spare: { to: "professionals", brings: [] } } }), "pass", "fail"],
    [
      "paired, and dead without",
      phone(
        {},
        { cell: { spare: { to: "end-users", brings: [] }, pairing: { notification: true }, ifUnpaired: "dead" } },
      ),
      "pass",
      "fail",
    ],
    [
      "paired, and nothing happens without",
      phone(
        {},
        { cell: { spare: { to: "end-users", brings: [] }, pairing: { notification: true }, ifUnpaired: "nothing" } },
      ),
      "pass",
      "pass",
    ],
  ];
  for (const [name, one, first, second] of cases)
    test(name, () => expect([row(one, "c(i)"), article(one)]).toEqual([first, second]));
});

describe("battery: c(ii), for a durable battery in a tight device", () => {
  const durable = (
    after500: number,
    after1000: number,
    ingress: string,
    kind: "smartphone" | "slate-tablet" = "smartphone",
  ) =>
    phone(
      { tools: ["handle"], leaves: "spent" },
      {
        over: {
          device: { name: "Invented", kind, foldable: false },
          market: { battery: { after500, after1000, ingress } },
        },
      },
    );
  const cases: [string, TeardownRecord, string][] = [
    ["at the limits, IP67", durable(83, 80, "IP67"), "pass"],
    ["IP68 is tight as well", durable(90, 85, "IP68"), "pass"],
    ["two codes, one of them tight", durable(90, 85, "IP65/IP68"), "pass"],
    ["82.9 % after 500 cycles", durable(82.9, 80, "IP67"), "fail"],
    ["79.9 % after 1000 cycles", durable(83, 79.9, "IP67"), "fail"],
    ["not dust tight", durable(83, 80, "IP57"), "fail"],
    ["jets are no immersion", durable(83, 80, "IP69"), "fail"],
    ["a tablet asks for IP42 only", durable(83, 80, "IP42", "slate-tablet"), "pass"],
    ["a phone does not", durable(83, 80, "IP42"), "fail"],
    ["no code", durable(83, 80, "rainproof"), "cannot-tell"],
    ["nothing stated", phone({ tools: ["handle"] }), "cannot-tell"],
  ];
  for (const [name, one, verdict] of cases) test(name, () => expect(row(one, "c(ii)")).toBe(verdict));
});

describe("rows a and b", () => {
  const with2 = (role: Part["role"], release: Partial<Release>): TeardownRecord => {
    const one = phone({});
    const part: Part = { id: "x", name: "X", role, spare: { to: "end-users", brings: [] } };
    const joint: Joint = {
      id: "jx",
      kind: "screw",
      holds: ["x", "frame"],
      releases: [{ action: "unscrew", tools: [], leaves: "whole", ...release }],
    };
    return { ...one, parts: [...one.parts, part], joints: [...one.joints, joint] };
  };
  const verdict = (one: TeardownRecord): string | undefined =>
    report(one).checks.ecodesign.rows.find((found) => found.part === "x")?.verdict;

  test("a: commercially available tools and spent fasteners pass, proprietary ones fail", () => {
    expect(verdict(with2("speaker", { tools: ["handle"], leaves: "spent" }))).toBe("pass");
    expect(verdict(with2("audio-connector", { tools: ["key"] }))).toBe("fail");
    expect(verdict(with2("display", { leaves: "broken" }))).toBe("fail");
  });
  test("b: a SIM tray with a tool that must be bought fails; what comes with the product passes", () => {
    expect(verdict(with2("sim-tray", { tools: ["handle"] }))).toBe("fail");
    expect(verdict(with2("sim-tray", { tools: ["boxed"] }))).toBe("pass");
  });
  test("b: the back cover only where it comes off for the battery", () => {
    expect(verdict(with2("back-cover", {}))).toBeUndefined();
    const one = with2("back-cover", { tools: ["handle"] });
    const under = { ...one, parts: one.parts.map((part) => (part.id === "cell" ? { ...part, under: [["x"]] } : part)) };
    expect(verdict(under)).toBe("fail");
  });
  test("another way than the counted one may pass", () => {
    const one = with2("sim-tray", {});
    const joints = one.joints.map((joint) =>
      joint.id === "jx"
        ? {
            ...joint,
            releases: [
              { action: "unscrew" as const, tools: ["handle"], seconds: 1, leaves: "whole" as const },
              { action: "unscrew" as const, tools: ["boxed"], seconds: 9, leaves: "whole" as const },
            ],
          }
        : joint,
    );
    expect(verdict({ ...one, joints })).toBe("pass");
  });
});

test("each verdict names the joint and the tool that decide, and both laws carry their dates", () => {
  const { ecodesign, article11 } = report(phone({ tools: ["key"] })).checks;
  const found = ecodesign.rows.find((one) => one.row === "c(i)")?.findings.find((one) => one.verdict === "fail");
  expect(found).toMatchObject({ joint: "bond", tool: "key" });
  expect(article11.findings.find((one) => one.verdict === "fail")).toMatchObject({ joint: "bond", tool: "key" });
  expect([ecodesign.appliesFrom, article11.appliesFrom]).toEqual(["2025-06-20", "2027-02-18"]);
});
