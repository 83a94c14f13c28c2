/**
 * General solvers on the same problems, in the model that a user would write first, beside the planner in one run.
 *
 * HiGHS (npm `highs`): a mixed-integer programme. x[i,j] = 1: j follows i; start times by big-M; y[i]: i is done; one group of
 * each need chosen; the set-up from i to j is on the arc. clasp (Debian, with gringo): facts and a step-indexed logic programme,
 * core-guided optimisation. z3 (Debian): the same arcs and places as the integer programme, as implications over booleans and
 * integers, its own optimisation. Programs that are not installed are left out, and that is said.
 */
import { spawnSync } from "node:child_process";
import { createRequire } from "node:module";
import type { Highs } from "highs";
import { BARE_OBJECTIVE, readBare } from "../src/core/route/bare.ts";
import type { Problem } from "../src/core/route/problem.ts";
import { solve } from "../src/core/route/solve.ts";
import { generate } from "./generate.ts";

const LIMIT_S = 60;
const SIZES = [20, 30, 40];
const SEEDS = [1, 2, 3, 4, 5];
/** Runs of the planner, of which the quickest counts: the first ones are spent on being compiled. */
const WARM = 40;

export async function peers(): Promise<void> {
  console.log(`\n## Peers on the same problems, no heat, ${LIMIT_S} s each, by the clock\n`);
  const withClasp = spawnSync("gringo", ["--version"]).status === 0 && spawnSync("clasp", ["--version"]).status === 0;
  const withZ3 = spawnSync("z3", ["--version"]).status === 0;
  if (!withClasp || !withZ3)
    console.log("gringo, clasp or z3 are not installed here: `apt-get install gringo clasp z3`.\n");
  console.log("| operations | seed | least s | planner ms | HiGHS s | ratio | clasp s | ratio | z3 s | ratio |");
  console.log("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
  for (const size of SIZES) {
    for (const seed of SEEDS) {
      const problem = needed(readBare(generate({ seed, size, heated: false, targets: "one" })));
      const ours = timePlanner(problem);
      const milp = await timeHighs(problem);
      const logic = withClasp ? timeClasp(problem) : null;
      const modulo = withZ3 ? timeZ3(problem, ours.value) : null;
      const cell = (peer: Peer | null) => {
        if (peer === null) return "- | -";
        const agrees =
          peer.value === null || peer.value === ours.value
            ? ""
            : ` (says ${peer.value / 1000}${peer.taken === true ? ", and finds that unsatisfiable" : ""})`;
        const time = peer.value === null ? `> ${LIMIT_S}` : peer.seconds.toFixed(2);
        return `${time}${agrees} | ${peer.value === null ? "> " : ""}${Math.round((1000 * peer.seconds) / ours.ms)}`;
      };
      console.log(
        `| ${problem.operations.length} | ${seed} | ${ours.value / 1000} | ${ours.ms.toFixed(1)} | ${cell(milp)} | ${cell(logic)} | ${cell(modulo)} |`,
      );
    }
  }
}

interface Peer {
  readonly seconds: number;
  /** Milliseconds of the proved optimum; null: not proved in time. */
  readonly value: number | null;
  /** Asked whether there is anything as good as it told, it said no. */
  readonly taken?: boolean;
}

function timePlanner(problem: Problem): { ms: number; value: number } {
  let ms = Infinity;
  let value = 0;
  // Warm, as the other tables: the peers are compiled beforehand.
  for (let k = 0; k < WARM; k += 1) {
    const from = performance.now();
    const answer = solve(problem, BARE_OBJECTIVE, { now: () => performance.now() });
    ms = Math.min(ms, performance.now() - from);
    if (answer.kind === "solved") value = answer.ms;
  }
  return { ms, value };
}

/** Without what no need of a target asks for: the peers get the reduced problem. */
function needed(problem: Problem): Problem {
  const keep = new Set<number>();
  const visit = (i: number): void => {
    if (keep.has(i)) return;
    keep.add(i);
    for (const need of problem.operations[i]!.needs)
      for (const group of need) for (const [other] of group) visit(other!);
  };
  problem.targets.forEach(visit);
  const kept = [...keep].sort((a, b) => a - b);
  const place = new Map(kept.map((i, at) => [i, at]));
  return {
    ...problem,
    operations: kept.map((i) => {
      const o = problem.operations[i]!;
      const needs = o.needs.map((need) => need.map((group) => group.map((atom) => atom.map((k) => place.get(k)!))));
      return { ...o, needs };
    }),
    targets: problem.targets.map((i) => place.get(i)!),
  };
}

/** Set-up from i (-1: the start) to j, in ms. */
function setUp(problem: Problem, i: number, j: number): number {
  const to = problem.operations[j]!;
  const from = i < 0 ? problem.start : problem.operations[i]!;
  const fetch = to.tools.filter((tool) => !from.tools.includes(tool)).length * problem.fetch;
  return fetch + (from.side === to.side ? 0 : problem.turn);
}

async function timeHighs(problem: Problem): Promise<Peer> {
  const n = problem.operations.length;
  const all = problem.operations.map((_, i) => i);
  const big = n;
  const cost: string[] = [];
  const rows: string[] = [];
  const binary: string[] = [];
  for (const i of all) {
    binary.push(`y${i}`);
    cost.push(`${problem.operations[i]!.ms} y${i}`);
    const into = [-1, ...all].filter((k) => k !== i).map((k) => `x${k + 1}_${i}`);
    const out = all.filter((k) => k !== i).map((k) => `x${i + 1}_${k}`);
    rows.push(`${into.join(" + ")} - y${i} = 0`, `${out.join(" + ")} + e${i} - y${i} = 0`);
    binary.push(`e${i}`);
    for (const k of [-1, ...all]) {
      if (k === i) continue;
      binary.push(`x${k + 1}_${i}`);
      cost.push(`${setUp(problem, k, i)} x${k + 1}_${i}`);
      if (k >= 0) rows.push(`p${k} - p${i} + ${big + 1} x${k + 1}_${i} <= ${big}`);
    }
    for (const [d, need] of problem.operations[i]!.needs.entries()) {
      const names = need.map((_, g) => `g${i}_${d}_${g}`);
      binary.push(...names);
      rows.push(`${names.join(" + ")} - y${i} >= 0`);
      for (const [g, group] of need.entries()) {
        for (const [other] of group) {
          rows.push(`y${other} - ${names[g]} >= 0`, `p${other} - p${i} + ${big + 1} ${names[g]} <= ${big}`);
        }
      }
    }
  }
  rows.push(`${all.map((i) => `x0_${i}`).join(" + ")} = 1`, `${all.map((i) => `e${i}`).join(" + ")} = 1`);
  for (const target of problem.targets) rows.push(`y${target} = 1`);
  const bounds = all.map((i) => `0 <= p${i} <= ${n}`);
  const model = [
    ...["Minimize", ` ${cost.join("\n + ")}`, "Subject To", ...rows.map((one, k) => ` r${k}: ${one}`)],
    ...["Bounds", ...bounds, "Binary", ` ${binary.join("\n ")}`, "End"],
  ].join("\n");
  const load = createRequire(import.meta.url)("highs") as () => Promise<Highs>;
  const highs = await load();
  const from = performance.now();
  const result = highs.solve(model, { time_limit: LIMIT_S, mip_rel_gap: 0 });
  const seconds = (performance.now() - from) / 1000;
  return { seconds, value: result.Status === "Optimal" ? Math.round(result.ObjectiveValue) : null };
}

function timeClasp(problem: Problem): Peer {
  const n = problem.operations.length;
  const facts: string[] = [`#const n=${n}.`];
  for (const [i, o] of problem.operations.entries()) {
    facts.push(`op(${i},${o.ms}).`);
    for (const [j] of problem.operations.entries())
      if (i !== j) facts.push(`setup(${i},${j},${setUp(problem, i, j)}).`);
    facts.push(`first(${i},${setUp(problem, -1, i)}).`);
    for (const [d, need] of o.needs.entries()) {
      facts.push(`need(${i},${d}).`);
      for (const [g, group] of need.entries()) {
        facts.push(`group(${i},${d},${g}).`);
        for (const [other] of group) facts.push(`member(${i},${d},${g},${other}).`);
      }
    }
  }
  for (const target of problem.targets) facts.push(`target(${target}).`);
  const program = `${facts.join("\n")}
step(1..n).
{ at(X,T) : op(X,_) } 1 :- step(T).
:- at(X,T), at(X,U), T < U.
used(T) :- at(_,T).
:- used(T), T > 1, not used(T-1).
done(X,T) :- at(X,T).
done(X,T+1) :- done(X,T), step(T+1).
lacks(X,D,G,T) :- member(X,D,G,Y), step(T), not done(Y,T-1).
holds(X,D,T) :- group(X,D,G), step(T), not lacks(X,D,G,T).
:- at(X,T), need(X,D), not holds(X,D,T).
:- target(X), not done(X,n).
#minimize { C,T,op : at(X,T), op(X,C); C,T,set : at(X,T), at(Y,T+1), setup(X,Y,C); C,1,set : at(X,1), first(X,C) }.
`;
  const from = performance.now();
  const ground = spawnSync("gringo", ["-o", "smodels"], { input: program, encoding: "utf8", maxBuffer: 1 << 30 });
  const clasp = spawnSync("clasp", ["--opt-strategy=usc", `--time-limit=${LIMIT_S}`, "--quiet=1"], {
    input: ground.stdout,
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  const seconds = (performance.now() - from) / 1000;
  const value = /^Optimization\s*:\s*(\d+)/m.exec(clasp.stdout)?.[1];
  const proved = /OPTIMUM FOUND/.test(clasp.stdout);
  return { seconds, value: proved && value !== undefined ? Number(value) : null };
}

/**
 * Arcs and places as in the integer programme, as implications. The optimiser of z3 4.8.12 calls sums least that it finds
 * unsatisfiable when it is asked for them by themselves: where it tells less than the others it is asked.
 */
function timeZ3(problem: Problem, least: number): Peer {
  const n = problem.operations.length;
  const all = problem.operations.map((_, i) => i);
  const lines: string[] = ["(set-option :opt.priority lex)"];
  const cost: string[] = [];
  for (const i of all)
    lines.push(`(declare-const y${i} Bool)`, `(declare-const p${i} Int)`, `(declare-const e${i} Bool)`);
  const one = (names: readonly string[], of: string): void => {
    lines.push(`(assert ((_ at-most 1) ${names.join(" ")}))`, `(assert (= ${of} (or ${names.join(" ")})))`);
  };
  for (const i of all) {
    for (const k of [-1, ...all]) {
      if (k === i) continue;
      lines.push(`(declare-const x${k + 1}_${i} Bool)`);
      cost.push(`(ite x${k + 1}_${i} ${setUp(problem, k, i)} 0)`);
      if (k >= 0) lines.push(`(assert (=> x${k + 1}_${i} (> p${i} p${k})))`);
    }
    lines.push(`(assert (and (>= p${i} 0) (< p${i} ${n})))`);
    cost.push(`(ite y${i} ${problem.operations[i]!.ms} 0)`);
  }
  for (const i of all) {
    one(
      [-1, ...all].filter((k) => k !== i).map((k) => `x${k + 1}_${i}`),
      `y${i}`,
    );
    one([...all.filter((k) => k !== i).map((k) => `x${i + 1}_${k}`), `e${i}`], `y${i}`);
    for (const need of problem.operations[i]!.needs) {
      const groups = need.map(
        (group) => `(and true ${group.map(([other]) => `(and y${other} (< p${other} p${i}))`).join(" ")})`,
      );
      lines.push(`(assert (=> y${i} (or false ${groups.join(" ")})))`);
    }
  }
  one(
    all.map((i) => `x0_${i}`),
    "true",
  );
  one(
    all.map((i) => `e${i}`),
    "true",
  );
  for (const target of problem.targets) lines.push(`(assert y${target})`);
  const sum = `(+ ${cost.join(" ")})`;
  const input = `${lines.join("\n")}\n(minimize ${sum})\n(check-sat)\n(get-objectives)\n`;
  const from = performance.now();
  const told = spawnSync("z3", ["-in", `-T:${LIMIT_S}`], { input, encoding: "utf8", maxBuffer: 1 << 26 });
  const seconds = (performance.now() - from) / 1000;
  const text = /^sat/.test(told.stdout) ? /\(objectives\s*\(\(.*?\) (\d+)\)/s.exec(told.stdout)?.[1] : undefined;
  const value = text === undefined ? null : Number(text);
  if (value === null || value >= least) return { seconds, value };
  const plain = `${lines.slice(1).join("\n")}\n(assert (<= ${sum} ${value}))\n(check-sat)\n`;
  const again = spawnSync("z3", ["-in", `-T:${LIMIT_S}`], { input: plain, encoding: "utf8" });
  return { seconds, value, taken: again.stdout.startsWith("unsat") };
}
