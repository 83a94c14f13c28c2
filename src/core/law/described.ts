/**
 * A described procedure replayed on this unit, line by line, from the fully assembled device.
 *
 * A line must be possible as it stands under the rules of the bench (what holds, what is in the way, what must be warm). The
 * rule that the cell is isolated first is the planner's, not the procedure's: work on a live joint is warned of, and counted.
 */
import type { Fault } from "../errors.ts";
import { InputFaults } from "../errors.ts";
import type { Described, Joint, Part, TeardownRecord } from "../record/schema.ts";
import { HAZARDS } from "../record/schema.ts";
import { advance, type BenchState, needHolds, roundsFromHere, startState } from "../route/advance.ts";
import { DEFAULT_READINGS, type Move } from "../route/problem.ts";
import { type Compiled, compile } from "../structure/index.ts";
import { type LawOperation, moveOperation, releaseOperation, sourceOf } from "./operations.ts";
import { PowerRule } from "./power-rule.ts";
import type { Sequence } from "./sequence.ts";

/** One operation of a described line, read. */
type Line =
  | { readonly kind: "release"; readonly joint: Joint; readonly way: number }
  | { readonly kind: "lift" | "shift"; readonly part: Part }
  | { readonly kind: "heat"; readonly zone: string };

/** The procedure that counts: the maker's own where one is told apart by name, else the first. */
export function procedureOf(record: TeardownRecord): Described | undefined {
  const all = record.described ?? [];
  return all.find((one) => one.by === record.device.maker) ?? all[0];
}

/** @throws InputFaults where a line names no operation */
export function requireOperations(record: TeardownRecord, procedure: Described): void {
  const at = record.described?.indexOf(procedure) ?? 0;
  const faults: Fault[] = [];
  procedure.parts.forEach(({ steps }, p) => {
    steps.forEach(({ operations, does }, s) => {
      const path = `described[${at}].parts[${p}].steps[${s}].operations`;
      const expected = 'an operation: "release JOINT", "release JOINT/1", "heat ZONE", "lift PART" or "shift PART"';
      if (operations.length === 0)
        faults.push({ path, found: `a line that names no operation (${JSON.stringify(does)})`, expected });
      operations.forEach((text, index) => {
        if (readLine(record, text) === undefined)
          faults.push({ path: `${path}[${index}]`, found: JSON.stringify(text), expected });
      });
    });
  });
  if (faults.length > 0) throw new InputFaults(faults);
}

/** A part's lines replayed. The procedure's lines must have been read before (`requireOperations`). */
export function describedSequence(record: TeardownRecord, procedure: Described, part: Part): Sequence {
  const p = procedure.parts.findIndex((one) => one.part === part.id);
  if (p < 0) {
    const because = `${procedure.by} describes no way to ${part.name} (${part.id})`;
    return { kind: "cannot-tell", part, because, warnings: [because] };
  }
  const path = `described[${record.described?.indexOf(procedure) ?? 0}].parts[${p}]`;
  return new Replay(record, part, path).run(procedure.parts[p].steps);
}

class Replay {
  private readonly record: TeardownRecord;
  private readonly target: Part;
  private readonly path: string;
  private readonly compiled: Compiled;
  private readonly state: BenchState;
  private readonly index = new Map<string, number>();
  private readonly released = new Set<string>();
  private readonly operations: LawOperation[] = [];
  private readonly warnings: string[] = [];
  private readonly rule: PowerRule;
  private isolated = false;

  constructor(record: TeardownRecord, target: Part, path: string) {
    this.record = record;
    this.target = target;
    this.path = path;
    this.compiled = compile(record, { damage: true, accept: HAZARDS }, [target.id], false);
    this.rule = new PowerRule(this.compiled.view);
    this.state = startState(this.compiled.problem);
    this.compiled.meanings.forEach((meaning, index) => {
      if (meaning.kind === "release") this.index.set(`release ${meaning.joint.id}/${meaning.release}`, index);
      else this.index.set(`${meaning.kind} ${meaning.part.id}`, index);
    });
  }

  run(steps: Described["parts"][number]["steps"]): Sequence {
    for (const [s, step] of steps.entries()) {
      const from = this.operations.length;
      for (const [o, text] of step.operations.entries()) {
        const at = `${this.path}.steps[${s}].operations[${o}]`;
        const line = readLine(this.record, text);
        const because = line === undefined ? "names no operation" : this.take(line, at);
        if (because !== undefined)
          return this.refuse(`${at} ${JSON.stringify(text)} cannot be done as it stands: ${because}`);
        if (line?.kind === "lift" && line.part.id === this.target.id) {
          this.compareTools(step.tools, from, `${this.path}.steps[${s}]`);
          return this.finish();
        }
      }
      this.compareTools(step.tools, from, `${this.path}.steps[${s}]`);
    }
    return this.refuse(`${this.path} never lifts ${this.target.id} (${this.target.name}), the part that it is for`);
  }

  private refuse(because: string): Sequence {
    return { kind: "cannot-tell", part: this.target, because, warnings: [...this.warnings, because] };
  }

  /** What the procedure leaves out is named. */
  private finish(): Sequence {
    const { pairing } = this.target;
    if (pairing?.notification || pairing?.authorisation) {
      const what = [pairing.notification ? "notification" : [], pairing.authorisation ? "authorisation" : []].flat();
      this.warnings.push(
        `the description ends with ${this.target.id} off; its remote ${what.join(" and ")} after the swap is added to the steps`,
      );
    }
    return { kind: "told", part: this.target, operations: this.operations, warnings: this.warnings };
  }

  private take(line: Line, at: string): string | undefined {
    if (line.kind === "heat") return this.heat(line.zone);
    if (line.kind === "release") return this.release(line.joint, line.way, at);
    const index = this.index.get(`${line.kind} ${line.part.id}`);
    if (index === undefined) {
      return line.part.base
        ? `${line.part.name} is the base: everything else is taken off it`
        : `${line.part.name} cannot be moved aside while it is attached`;
    }
    const because = this.advance({ kind: "do", operation: index });
    if (because === undefined) this.operations.push({ ...moveOperation(line.kind, line.part), from: at });
    return because;
  }

  private heat(id: string): string | undefined {
    const zone = this.compiled.problem.zones.findIndex((one) => one.id === id);
    if (zone < 0) return `no release of this unit is heated in zone ${id}`;
    const because = this.advance({ kind: "heat", zone });
    if (because === undefined) this.operations.push({ kind: "heat", zone: id, source: sourceOf(this.record, id) });
    return because;
  }

  private release(joint: Joint, way: number, at: string): string | undefined {
    const { problem } = this.compiled;
    if (this.released.has(joint.id)) return `${joint.id} has been undone already`;
    const index = this.index.get(`release ${joint.id}/${way}`);
    if (index === undefined) {
      return joint.releases[way] === undefined
        ? `${joint.id} lets go by itself when its part is lifted`
        : `this way to undo ${joint.id} needs a condition (${(joint.releases[way].onlyWhen ?? []).join(", ")})`;
    }
    const operation = problem.operations[index];
    const warm = operation.zone >= 0 && this.state.heated[operation.zone] !== null;
    if (operation.zone >= 0 && !warm) {
      const blocked = this.unmet(index);
      if (blocked !== undefined) return blocked;
      return `it leaves out the heat: zone ${problem.zones[operation.zone].id} is cold`;
    }
    let passes: number | undefined;
    let because = this.advance({ kind: "do", operation: index });
    if (because !== undefined && warm && operation.passes && this.unmet(index) === undefined) {
      const rounds = roundsFromHere(problem, this.state, operation);
      if (typeof rounds === "number") {
        because = this.advance({ kind: "do", operation: index, passes: rounds });
        passes = rounds;
      }
    }
    if (because !== undefined) return because;
    this.warnOfLiveWork(joint, way);
    this.released.add(joint.id);
    if (joint.id === this.rule.power?.id) this.isolated = true;
    this.operations.push({
      ...releaseOperation(joint, way, passes),
      ...(passes === undefined ? {} : { firstHeatingBefore: true as const }),
      from: at,
    });
    if (passes !== undefined)
      this.warnings.push(
        `${joint.id} stays soft too briefly to be undone at once as described; it takes ${passes} rounds of heat`,
      );
    return undefined;
  }

  private advance(move: Move): string | undefined {
    if (move.kind === "do") {
      const blocked = this.unmet(move.operation);
      if (blocked !== undefined) return blocked;
    }
    const cost = advance(this.compiled.problem, DEFAULT_READINGS, this.state, move);
    return typeof cost === "string" ? cost : undefined;
  }

  /** The first need that does not hold, in the words of the bench. */
  private unmet(index: number): string | undefined {
    const { problem } = this.compiled;
    const need = problem.operations[index].needs.find((one) => !needHolds(one, this.state.done));
    if (need === undefined) return undefined;
    const ways = need.map((group) => {
      const missing = group.filter((atom) => !atom.some((operation) => this.state.done[operation] === 1));
      return missing.map((atom) => this.oneOf(atom)).join(" and ");
    });
    return `it waits for ${ways.join(", or ")}`;
  }

  private oneOf(atom: readonly number[]): string {
    const names = new Set<string>();
    for (const index of atom) {
      const meaning = this.compiled.meanings[index];
      if (meaning.kind === "release") names.add(`${meaning.joint.id} to be undone`);
      else names.add(`${meaning.part.name} (${meaning.part.id}) to be away`);
    }
    const [first = "what can never be done"] = names;
    return first;
  }

  private warnOfLiveWork(joint: Joint, way: number): void {
    if (this.isolated || !this.rule.waits(joint, joint.releases[way])) return;
    this.warnings.push(`the description undoes ${joint.id} before the cell is isolated: qualified people only`);
  }

  /** A line's own list of tools against what this unit needs; nothing is said where the line lists none. */
  private compareTools(listed: readonly string[], from: number, at: string): void {
    const needed = new Set<string>();
    for (const operation of this.operations.slice(from)) {
      if (operation.kind === "release") for (const tool of operation.tools) needed.add(tool);
      if (operation.kind === "heat" && operation.source.by !== null) needed.add(operation.source.by);
    }
    const missing = [...needed].filter((tool) => !listed.includes(tool));
    if (listed.length > 0 && missing.length > 0)
      this.warnings.push(`${at} lists no ${missing.join(", ")}, which its work takes on this unit; counted with it`);
  }
}

function readLine(record: TeardownRecord, text: string): Line | undefined {
  const words = /^(release|heat|lift|shift) (.+)$/.exec(text);
  if (words === null) return undefined;
  const [, verb, what] = words;
  if (verb === "heat") return { kind: "heat", zone: what };
  if (verb === "lift" || verb === "shift") {
    const part = record.parts.find((one) => one.id === what);
    return part === undefined ? undefined : { kind: verb, part };
  }
  const whole = record.joints.find((one) => one.id === what);
  if (whole !== undefined) return { kind: "release", joint: whole, way: 0 };
  const way = /^(.*)\/(\d+)$/.exec(what);
  const joint = way === null ? undefined : record.joints.find((one) => one.id === way[1]);
  return joint === undefined ? undefined : { kind: "release", joint, way: Number(way?.[2]) };
}
