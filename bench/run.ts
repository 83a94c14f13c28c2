/**
 * What is timed: the planner on problems of growing size, warm, to proof; complete disassembly; the peers on the same work.
 *
 * `npm run bench` prints tables in Markdown; `npm run bench -- planner | phone | complete | match | peers` one of them. Times are of the
 * processor (user and system), which other work on the machine does not change, and of the clock where it says so.
 */
import { readdirSync, readFileSync } from "node:fs";
import { cpus } from "node:os";
import { requireRecord } from "../src/core/record/index.ts";
import { BARE_OBJECTIVE, readBare } from "../src/core/route/bare.ts";
import type { Problem, Solved } from "../src/core/route/problem.ts";
import { solve } from "../src/core/route/solve.ts";
import { findWayIn } from "../src/core/route/ways/index.ts";
import { type BareDocument, describe, generate } from "./generate.ts";

const SEEDS = 30;
const routes = new URL("../checks/data/routes/", import.meta.url);
const file = (name: string): BareDocument => JSON.parse(readFileSync(new URL(name, routes), "utf8")) as BareDocument;

interface Timed {
  readonly ms: number;
  readonly gap: number;
  readonly proved: boolean;
}

/** Best of `times` runs. */
function time(problem: Problem, limit: number, times: number): Timed {
  let best = Infinity;
  let answer: Solved | null = null;
  for (let k = 0; k < times; k += 1) {
    const before = process.cpuUsage();
    const deadline = performance.now() + limit;
    const found = solve(problem, BARE_OBJECTIVE, { now: () => performance.now(), deadline });
    const { user, system } = process.cpuUsage(before);
    if (found.kind === "solved") answer = found;
    best = Math.min(best, (user + system) / 1000);
  }
  if (answer === null) return { ms: best, gap: 1, proved: false };
  return { ms: best, gap: (answer.ms - answer.lowerBound) / answer.ms, proved: answer.proved };
}

function quantile(values: readonly number[], p: number): string {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))]!.toFixed(1);
}

function row(cells: readonly (string | number)[]): void {
  console.log(`| ${cells.join(" | ")} |`);
}

function head(cells: readonly string[]): void {
  row(cells);
  row(cells.map(() => "---"));
}

function growth(title: string, targets: "one" | "all", sizes: readonly number[], limit: number, seeds: number): void {
  console.log(`\n## ${title}\n`);
  head(["operations", "zones", "median ms", "90 %", "most", "proved", "greatest gap"]);
  for (const size of sizes) {
    for (const heated of [false, true]) {
      const timed = Array.from({ length: seeds }, (_, i) =>
        time(readBare(generate({ seed: i + 1, size, heated, targets })), limit, targets === "one" ? 3 : 1),
      );
      const ms = timed.map((one) => one.ms);
      const proved = timed.filter((one) => one.proved).length;
      const gap = Math.max(...timed.map((one) => one.gap));
      row([
        ...[size, heated ? 2 : 0, quantile(ms, 0.5), quantile(ms, 0.9), quantile(ms, 1)],
        ...[`${proved} of ${seeds}`, `${(100 * gap).toFixed(1)} %`],
      ]);
    }
  }
}

function files(): void {
  console.log("\n## The problems of checks/data/routes, warm\n");
  head(["problem", "operations", "seconds", "ms"]);
  for (const name of readdirSync(routes).filter((one) => one.startsWith("h"))) {
    const document = file(name);
    const problem = readBare(document);
    const found = solve(problem, BARE_OBJECTIVE, { now: () => performance.now() });
    const { ms } = time(problem, 60_000, 4);
    row([
      ...[name.replace(".json", ""), document.operations.length],
      ...[found.kind === "solved" ? found.ms / 1000 : "", ms.toFixed(1)],
    ]);
  }
}

function match(): void {
  console.log("\n## The generator against the problems it is modelled on (means)\n");
  const keys = Object.keys(describe(file("h16-1.json"))) as (keyof ReturnType<typeof describe>)[];
  head(["problems", ...keys]);
  const means = (name: string, documents: readonly BareDocument[]) => {
    const all = documents.map(describe);
    row([name, ...keys.map((key) => (all.reduce((sum, one) => sum + one[key], 0) / all.length).toFixed(2))]);
  };
  for (const size of [40, 80, 120]) {
    const seeds = Array.from({ length: SEEDS }, (_, i) => i + 1);
    means(
      `generated ${size}`,
      seeds.map((seed) => generate({ seed, size, heated: false, targets: "one" })),
    );
    means(
      `files h${size}`,
      readdirSync(routes)
        .filter((one) => one.startsWith(`h${size}-`))
        .map(file),
    );
  }
}

/** Every part of the slim phone of the examples, warm: the second round counts. */
function phone(): void {
  console.log("\n## Every part of the slim phone of the examples, warm\n");
  head(["least", "parts", "proved", "seconds in all", "most ms", "for"]);
  const record = requireRecord(
    JSON.parse(readFileSync(new URL("../examples/thrandle-5.json", import.meta.url), "utf8")),
  );
  const parts = record.parts.filter((part) => !part.base).map(({ id }) => id);
  for (const least of ["seconds", "steps"] as const) {
    const once = () =>
      parts.map((part) => {
        const before = process.cpuUsage();
        const deadline = performance.now() + 20_000;
        const way = findWayIn(record, { to: [part], least }, { now: () => performance.now(), deadline });
        const { user, system } = process.cpuUsage(before);
        return { part, ms: (user + system) / 1000, proved: !("operations" in way) || way.proved };
      });
    once();
    const timed = once().sort((a, b) => b.ms - a.ms);
    const sum = timed.reduce((total, one) => total + one.ms, 0);
    row([
      ...[least, parts.length, timed.filter((one) => one.proved).length, (sum / 1000).toFixed(2)],
      ...[timed[0]!.ms.toFixed(0), timed[0]!.part],
    ]);
  }
}

const what = process.argv[2] ?? "all";
const all = what === "all";
console.log(`${cpus()[0]?.model ?? "unknown processor"}, ${cpus().length} cores, Node ${process.version}`);
if (all || what === "match") match();
if (all || what === "planner") {
  files();
  growth("One target, warm, to proof", "one", [20, 40, 60, 80, 120, 160, 200], 20_000, SEEDS);
}
if (all || what === "phone") phone();
if (all || what === "complete") growth("Complete disassembly", "all", [40, 80, 120, 200], 5000, 6);
if (all || what === "peers") await (await import("./peers.ts")).peers();
