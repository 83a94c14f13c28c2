/**
 * The board solver against closed forms: a thin plate heated over a disc with loss on both faces (fin equation with
 * modified Bessel functions; Incropera/DeWitt 3.6), and a Gaussian spreading in a sheet without loss.
 */
import { describe, expect, test } from "vitest";
import { heatBoard, readBoard } from "../src/core/heat/board/index.ts";
import { boardFin } from "./heat-closed-forms.ts";

describe("disc on a thin board: k 30, 0.8 mm, h 80 in all, a 5 mm, q 2e4", () => {
  // The printed figures of the closed form.
  test.each([
    [0, 19.6423],
    [2.5, 18.441],
    [5, 14.8182],
    [10, 8.5026],
    [20, 3.5673],
    [30, 1.6728],
  ])("closed form at %f mm: %f K", (r, rise) => {
    expect(boardFin(30, 0.0008, 80, 0.005, 2e4, r / 1000)).toBeCloseTo(rise, 3);
  });

  test("the board: within 0.05 K of it, the drop from face to middle under the jet taken into account", () => {
    // A jet with the same h as the air and 500 K above it brings q = 2e4 and takes the same loss; specks read the face.
    const places = [0, 10, 20, 30];
    const board = readBoard({
      format: "unseam-board/1",
      size: [161, 161],
      cell: 1,
      start: 20,
      h: 40,
      layers: [{ name: "b", material: { k: 30, rho: 2000, cp: 1000 }, thickness: 0.8 }],
      parts: places.map((r) => ({
        name: `at ${r}`,
        at: [80.5 + r, 80.5],
        size: [0.1, 0.1, 0.001],
        material: { k: 30, rho: 1, cp: 1 },
      })),
      heat: [{ seconds: 400, nozzle: { at: [80.5, 80.5], size: 10, temperature: 520, h: 40 } }],
      report: [400],
    });
    const heat = heatBoard(board)!;
    expect(heat.energyError).toBeLessThan(1e-9);
    for (const [i, r] of places.entries()) {
      const exact = boardFin(30, 0.0008, 80, 0.005, 2e4, r / 1000);
      const drop = r < 5 ? (40 * (500 - exact) * 0.0004) / 30 : 0;
      expect(Math.abs(heat.parts[i].degC[0] - 20 - exact - drop), `${r} mm`).toBeLessThan(0.05);
    }
  });
});

test("two boards joined by a frame: the lower one is heated through the frame, not through the air", () => {
  const make = (ring: object) =>
    heatBoard(
      readBoard({
        format: "unseam-board/1",
        size: [40, 30],
        cell: 1,
        start: 23,
        h: 10,
        layers: [
          { name: "upper", material: "fr4", copper: 0.1, thickness: 0.6 },
          { name: "frame", material: "fr4", copper: 0.3, thickness: 1, ...ring },
          { name: "lower", material: "fr4", copper: 0.1, thickness: 0.6 },
        ],
        parts: [{ name: "chip", at: [20, 15], size: [8, 8, 1], material: "mould" }],
        heat: [{ seconds: 60, nozzle: { at: [20, 15], size: [10, 10], temperature: 350, h: 150 } }],
      }),
    )!.parts[0].peak;
  // With air under the chip the board takes less heat away, so the chip gets hotter.
  expect(make({ ring: 3 })).toBeGreaterThan(make({}) + 3);
});
