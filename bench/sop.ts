/**
 * Sequential ordering problems of TSPLIB, each for so many seconds of the processor: the cost found against the best known value, the bound, the
 * proof. `node --import tsx bench/sop.ts [FOLDER] [SECONDS] [MOST NODES] [NAME …]`; the folder holds NAME.sop files and an
 * optima.json as checks/data/sop does (which is what is read where none is given).
 */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { solveSop } from "../src/core/route/sop/index.ts";

interface Known {
  readonly optimum?: number;
  readonly best?: number;
  readonly lower?: number;
  readonly upper?: number;
}

const [folder = fileURLToPath(new URL("../checks/data/sop", import.meta.url)), seconds = "10", most = "400", ...only] =
  process.argv.slice(2);
const { values } = JSON.parse(readFileSync(join(folder, "optima.json"), "utf8")) as { values: Record<string, Known> };
const names = readdirSync(folder)
  .filter((name) => name.endsWith(".sop"))
  .map((name) => name.slice(0, -4))
  .filter((name) => only.length === 0 || only.includes(name));

/** Time of the processor, which other work on the machine does not change. */
const now = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
};

console.log("| problem | nodes | best known | found | above | bound | proved | seconds |");
console.log("| --- | --- | --- | --- | --- | --- | --- | --- |");
for (const name of names) {
  const text = readFileSync(join(folder, `${name}.sop`), "utf8");
  const started = now();
  const deadline = started + Number(seconds) * 1000;
  const nodes = Number(/EDGE_WEIGHT_SECTION\s*:?\s*(\d+)/i.exec(text)?.[1] ?? 0);
  if (nodes > Number(most)) continue;
  const answer = solveSop(text, { now, deadline });
  const known = values[name] ?? {};
  const best = known.optimum ?? known.best ?? known.upper;
  const above = best === undefined ? "" : `${((answer.seconds / best - 1) * 100).toFixed(2)} %`;
  const took = ((now() - started) / 1000).toFixed(1);
  console.log(
    `| ${[name, nodes, best ?? "", answer.seconds, above, answer.lowerBound, answer.proved ? "yes" : "no", took].join(" | ")} |`,
  );
}
