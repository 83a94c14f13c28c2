/**
 * The scale card found in rendered pictures: nearly always where it is there, never where it is not, and its spots to a
 * fraction of a pixel. `bench/photo.ts` does the same for 200 larger pictures, with times.
 */
import { describe, expect, it } from "vitest";
import { seededRandom } from "../src/core/measure/index.ts";
import { project } from "../src/core/photo/camera.ts";
import { findCard, type GreyPicture, SPOTS } from "../src/core/photo/index.ts";
import { type RenderOptions, render } from "./photo-render.ts";

const SIZE = [1000, 750] as const;

function counts(card: RenderOptions["card"], pictures: number, seed: number) {
  let found = 0;
  const off: number[] = [];
  for (let i = 0; i < pictures; i++) {
    const { picture, camera, onPlane } = render(seededRandom(seed + i), { size: SIZE, card });
    const answer = findCard(picture);
    if (answer === undefined) continue;
    found++;
    for (const { at, is } of answer.points) {
      const [x, y] = project(camera, onPlane(is), 0);
      off.push(Math.hypot(x - at[0], y - at[1]));
    }
  }
  return { found, worst: Math.max(0, ...off), rms: Math.sqrt(off.reduce((sum, d) => sum + d * d, 0) / off.length) };
}

describe("the scale card", () => {
  it("is found in nine of ten pictures or more, every spot at its own place", () => {
    const { found, worst, rms } = counts("there", 16, 100);
    expect(found).toBeGreaterThanOrEqual(15);
    // A neighbouring spot would be some 50 pixels away.
    expect(worst).toBeLessThan(1.5);
    expect(rms).toBeLessThan(0.3);
  });

  it.each(["none", "another pattern", "mirrored", "half hidden"] as const)(
    "is never found where it is not: %s",
    (card) => {
      expect(counts(card, 5, 500).found).toBe(0);
    },
  );

  it("is not seen in pictures without anything to see", () => {
    const plain = (value: (i: number) => number): GreyPicture => ({
      width: 640,
      height: 480,
      pixels: Uint8Array.from({ length: 640 * 480 }, (_, i) => value(i)),
    });
    for (const value of [() => 0, () => 255, (i: number) => i % 256, (i: number) => ((i * 7919) % 2) * 255]) {
      expect(findCard(plain(value))).toBeUndefined();
    }
    expect(findCard({ width: 3, height: 2, pixels: new Uint8Array(6) })).toBeUndefined();
  });

  it("has a pattern far from itself turned and mirrored", () => {
    const code = SPOTS.map((spot) => spot.hollow);
    const turnedCode = [...code].reverse();
    const mirrored = SPOTS.map((_, i) => code[Math.floor(i / 6) * 6 + 5 - (i % 6)]);
    for (const other of [turnedCode, mirrored, [...mirrored].reverse()]) {
      expect(code.filter((hollow, i) => hollow !== other[i]).length).toBeGreaterThanOrEqual(12);
    }
  });
});
