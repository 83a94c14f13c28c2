/**
 * The scale card in 200 rendered pictures with it and 200 without: how often it is found, how far off its spots are, and
 * the processor's time for each. `node --import tsx bench/photo.ts [PICTURES [WIDTH]]` prints Markdown.
 */
import { cpus } from "node:os";
import { type RenderOptions, render } from "../checks/photo-render.ts";
import { seededRandom } from "../src/core/measure/index.ts";
import { project } from "../src/core/photo/camera.ts";
import { findCard } from "../src/core/photo/index.ts";

const pictures = Number(process.argv[2] ?? 200);
const width = Number(process.argv[3] ?? 2400);
const size = [width, (3 * width) / 4] as const;

console.log(`# The scale card in pictures of ${size.join(" x ")} pixels\n`);
console.log(
  `Node ${process.version}, ${cpus()[0]?.model ?? "processor not told"}. Time of the processor, finding alone.\n`,
);
console.log("| pictures | found | median ms | most ms | spots off, rms px | most px |");
console.log("| --- | --- | --- | --- | --- | --- |");

const share = (values: readonly number[], p: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(p * values.length))] ?? Number.NaN;

const KINDS: readonly (readonly [RenderOptions["card"], number])[] = [
  ["there", pictures],
  ["none", pictures / 2],
  ["another pattern", pictures / 4],
  ["mirrored", pictures / 8],
  ["half hidden", pictures / 8],
];
for (const [card, count] of KINDS) {
  const off: number[] = [];
  const times: number[] = [];
  let found = 0;
  for (let i = 0; i < count; i++) {
    const { picture, camera, onPlane } = render(seededRandom(1000 + i), { size, card });
    const before = process.cpuUsage();
    const answer = findCard(picture);
    const { user, system } = process.cpuUsage(before);
    times.push((user + system) / 1000);
    if (answer === undefined) continue;
    found++;
    for (const { at, is } of answer.points) {
      const [x, y] = project(camera, onPlane(is), 0);
      off.push(Math.hypot(x - at[0], y - at[1]));
    }
  }
  const rms = Math.sqrt(off.reduce((sum, d) => sum + d * d, 0) / off.length);
  const px = (value: number) => (off.length === 0 ? "" : value.toFixed(3));
  const row = [
    `${count} ${card}`,
    found,
    share(times, 0.5).toFixed(0),
    Math.max(...times).toFixed(0),
    px(rms),
    px(Math.max(...off)),
  ];
  console.log(`| ${row.join(" | ")} |`);
}
