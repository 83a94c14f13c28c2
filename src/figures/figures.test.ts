import { readFileSync } from "node:fs";
import fc from "fast-check";
// @ts-expect-error it has no types; a dependency of the PDF writer, used here as the independent reader of the typeface
import { create } from "fontkit";
import { describe, expect, it } from "vitest";
import { smallPhone } from "../../test/fixtures/small-phone.ts";
import { handWay } from "../../test/fixtures/small-way.ts";
import { niceStep, spokenRange, spokenTime, timeStep } from "./axis.ts";
import { bareGrid } from "./device/bare.ts";
import { maximalBoxes } from "./device/label-place.ts";
import { layoutDevice } from "./device/layout.ts";
import { spread } from "./device/leaders.ts";
import { materialClass } from "./device/material-class.ts";
import { areaOf, contains, insideAlong } from "./geometry.ts";
import { closedView, drawDevice, placeDevice, rungsTo, stepTimes } from "./index.ts";
import { directNeeds } from "./ladder/rungs.ts";
import { warmTimes } from "./ribbon/ribbon.ts";
import { fitText, textWidth, wrapText } from "./text-width.ts";

const device = placeDevice(smallPhone)!;
const none = new Set<string>();
const bareAt = (depth: number, away: Set<string> = none, seen: "back" | "front" = "back") => {
  const grid = bareGrid(device, away, depth, seen, 1);
  return grid.present.filter((_, i) => grid.count[i]! > 0).map((part) => part.id);
};

describe("text widths", () => {
  it("agree with the typeface itself, letter by letter, numerals tabular", () => {
    for (const [weight, bold] of [
      [400, false],
      [700, true],
    ] as const) {
      const file = `node_modules/@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-${weight}-normal.woff2`;
      const font = create(readFileSync(file));
      for (let code = 0x20; code < 0x7f; code++) {
        const sign = String.fromCharCode(code);
        const { advanceWidth } = font.layout(sign, ["tnum"]);
        expect(textWidth(sign, 1000, bold), `${sign} at ${weight}`).toBeCloseTo(
          (advanceWidth / font.unitsPerEm) * 1000,
          6,
        );
      }
    }
  });

  it("cut and break to the room there is", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), fc.double({ min: 20, max: 200, noNaN: true }), (words, width) => {
        const cut = fitText(words, width, 12);
        expect([...cut].length <= 2 || textWidth(cut, 12) <= width).toBe(true);
        for (const row of wrapText(words, width, 12, 2))
          expect([...row].length <= 2 || textWidth(row, 12) <= width).toBe(true);
        expect(wrapText(words, width, 12, 2).length).toBeLessThanOrEqual(2);
      }),
    );
  });
});

describe("axes", () => {
  it("step in 1, 2 or 5 and in units of time", () => {
    expect([niceStep(7.3, 4), niceStep(0.9, 4), niceStep(61, 3), niceStep(0, 3)]).toEqual([1, 0.2, 20, 1]);
    expect([timeStep(332, 6), timeStep(20, 5), timeStep(4000, 5)]).toEqual([60, 5, 900]);
  });
  it("say times as the bench says them", () => {
    expect([8.24, 45, 158, 120, 3900].map(spokenTime)).toEqual(["8.2 s", "45 s", "2 min 38 s", "2 min", "1 h 05 min"]);
    expect([spokenRange(482, 905), spokenRange(40, 70), spokenRange(300, 301)]).toEqual([
      "8 to 15 min",
      "40 to 70 s",
      "5 min",
    ]);
  });
});

describe("outlines", () => {
  const ring: [number, number][] = [
    [0, 0],
    [10, 0],
    [10, 6],
    [0, 6],
  ];
  const hole: [number, number][] = [
    [2, 2],
    [4, 2],
    [4, 4],
    [2, 4],
  ];
  it("have holes", () => {
    expect(areaOf([ring, hole])).toBe(56);
    expect(insideAlong([ring, hole], "x", 3)).toEqual([
      [0, 2],
      [4, 6],
    ]);
    expect([contains([ring, hole], [3, 3]), contains([ring, hole], [5, 3]), contains([ring], [11, 3])]).toEqual([
      false,
      true,
      false,
    ]);
  });
  it("are inside for as long a way as their area says (Cavalieri, midpoint rule)", () => {
    const battery = device.parts.find((part) => part.id === "battery")!;
    let sum = 0;
    for (let i = 0; i < 610; i++)
      for (const [a, b] of insideAlong(battery.rings, "x", 5 + (i + 0.5) / 10)) sum += (b - a) / 10;
    expect(sum).toBeCloseTo(battery.area, 6);
  });
});

describe("what lies bare", () => {
  it("is the back glass and what goes through it when closed", () => {
    expect(bareAt(-1.5).sort()).toEqual(["back", "cameras"]);
    expect(bareAt(8, none, "front")).toEqual(["display"]);
  });
  it("opens with depth and with parts taken away", () => {
    expect(bareAt(1.2)).toContain("battery");
    expect(bareAt(1.2)).not.toContain("coil");
    expect(bareAt(-1.5, new Set(["back"]))).toContain("coil");
  });
  it("never shows a part that is away, and every cell is owned by the nearest that holds it", () => {
    fc.assert(
      fc.property(fc.subarray(device.parts.map((part) => part.id)), (gone) => {
        const grid = bareGrid(device, new Set(gone), -2, "back", 2);
        expect(grid.present.some((part) => gone.includes(part.id))).toBe(false);
        for (let cell = 0; cell < grid.owner.length; cell += 7) {
          const at: [number, number] = [
            grid.x0 + ((cell % grid.columns) + 0.5) * 2,
            grid.y0 + (Math.floor(cell / grid.columns) + 0.5) * 2,
          ];
          const holding = grid.present.findIndex((part) => contains(part.rings, at));
          if (holding >= 0) expect(grid.owner[cell]).toBe(holding);
        }
      }),
      { numRuns: 30 },
    );
  });
});

describe("the sheet", () => {
  it("draws plan and section to one scale, and states the factor of the thickness", () => {
    const layout = layoutDevice(device, "back", 460, 640);
    expect(layout.plan.width / 71.5).toBeCloseTo(layout.scale, 9);
    expect(layout.plan.height / 152).toBeCloseTo(layout.scale, 9);
    expect(layout.cut(0, 7.15)[0] - layout.cut(0, 0)[0]).toBeCloseTo(7.15 * layout.scale * layout.stretch, 9);
    expect(layout.cut(31, 0)[1]).toBe(layout.at(0, 31)[1]);
  });
  it("turns over for a device that is wider than tall: the section lies below", () => {
    const wide = {
      ...device,
      bounds: { x0: 0, y0: 0, x1: 152, y1: 71.5 },
    };
    const layout = layoutDevice(wide, "front", 460, 640);
    expect(layout.beside).toBe(false);
    expect(layout.section.y).toBeGreaterThan(layout.plan.y + layout.plan.height);
    expect(layout.at(0, 0)[0]).toBeGreaterThan(layout.at(10, 0)[0]);
  });
  it("offers for choice just what lies bare, once", () => {
    const drawn = drawDevice(device, { ...closedView(device, 460, 640), depth: 1.2 }, "x");
    const ids = drawn.choices.map((choice) => choice.part);
    expect(new Set(ids).size).toBe(ids.length);
    expect([...ids].sort()).toEqual(bareAt(1.2).sort());
  });
});

describe("placing", () => {
  it("finds every maximal rectangle (against trying all)", () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 30, maxLength: 30 }), (cells) => {
        const free = (c: number, r: number) => cells[r * 6 + c]!;
        let best = 0;
        maximalBoxes({ column: 0, row: 0, width: 6, height: 5 }, free, (box) => {
          for (let r = box.row; r < box.row + box.height; r++)
            for (let c = box.column; c < box.column + box.width; c++) expect(free(c, r)).toBe(true);
          best = Math.max(best, box.width * box.height);
        });
        let brute = 0;
        for (let c0 = 0; c0 < 6; c0++)
          for (let c1 = c0; c1 < 6; c1++)
            for (let r0 = 0; r0 < 5; r0++)
              for (let r1 = r0; r1 < 5; r1++) {
                let all = true;
                for (let r = r0; r <= r1; r++) for (let c = c0; c <= c1; c++) all &&= free(c, r);
                if (all) brute = Math.max(brute, (c1 - c0 + 1) * (r1 - r0 + 1));
              }
        expect(best).toBe(brute);
      }),
    );
  });
  it("spreads names so that none overlaps and the order stays", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 400, noNaN: true }), { maxLength: 20 }), (places) => {
        const blocks = places.sort((a, b) => a - b).map((middle) => ({ middle, height: 13 }));
        const tops = spread(blocks, 0, 400);
        for (let i = 1; i < tops.length; i++) expect(tops[i]! - tops[i - 1]!).toBeGreaterThanOrEqual(13);
        if (tops.length > 0) expect(tops.at(-1)! + 13).toBeLessThanOrEqual(400 + 1e-9);
      }),
    );
  });
});

describe("material classes", () => {
  it.each([
    ["li_pouch", "cell"],
    ["glass_aluminosilicate", "glass"],
    ["ss316", "metal"],
    ["al6013", "metal"],
    ["ti64", "metal"],
    ["fr4", "board"],
    ["psa_foam", "polymer"],
    ["pc", "polymer"],
  ])("%s is hatched as %s", (material, hatch) => expect(materialClass({ material })).toBe(hatch));
  it("says nothing about what it does not know", () => expect(materialClass({ material: "unobtainium x" })).toBeNull());
});

describe("the ladder", () => {
  const rungs = rungsTo(smallPhone, "battery")!;
  it("has what must come away, each after what it needs, the target last", () => {
    const order = rungs.map((rung) => rung.part);
    expect(order.at(-1)).toBe("battery");
    expect(new Set(order)).toEqual(new Set(["back", "coil", "cover", "speaker", "battery"]));
    for (const rung of rungs)
      for (const need of rung.needs) expect(order.indexOf(need)).toBeLessThan(order.indexOf(rung.part));
    expect(rungs.find((rung) => rung.part === "speaker")?.guess).toBe(true);
  });
  it("leaves out needs that follow from others", () => {
    expect([...directNeeds(rungs).get("battery")!].sort()).toEqual(["coil", "cover", "speaker"]);
  });
  it("is none for the base, and shorter when something is taken as gone", () => {
    expect(rungsTo(smallPhone, "frame")).toBeNull();
    expect(rungsTo(smallPhone, "battery", { gone: ["speaker"] })!.map((rung) => rung.part)).not.toContain("speaker");
  });
  it("takes the nearest of several groups and names the other", () => {
    const either = structuredClone(smallPhone);
    either.parts.find((part) => part.id === "port")!.under = [["speaker"], ["display", "board"]];
    either.joints.find((joint) => joint.id === "port-plug")!.reach = [["back"]];
    const port = rungsTo(either, "port")!.find((rung) => rung.part === "port")!;
    expect(port.needs).toContain("speaker");
    expect(port.instead).toEqual(["Display and Main board"]);
  });
});

describe("the ribbon", () => {
  it("numbers as many legal steps as the way in has", () => {
    expect(stepTimes(handWay).map((step) => step.number)).toEqual(
      Array.from({ length: handWay.steps }, (_, i) => i + 1),
    );
  });
  it("washes the time in which the bond is soft, from the end of the heating", () => {
    expect(warmTimes(smallPhone, handWay)).toEqual([{ zone: "back-rim", from: 94.2, to: 204.2 }]);
  });
});
