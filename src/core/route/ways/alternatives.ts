/**
 * The k best ways in that differ in what is released or moved, each the best of its set.
 *
 * The tree of Reiter's hitting sets (Artificial Intelligence 32, 1987) on the planner: the best way in; then, for each joint
 * it releases and part it moves, the best one that does without; and so on, cheapest first. A way in found below a node
 * avoids something of every way in above it, so nothing differs in order alone or is another one with superfluous work added.
 */
import type { TeardownRecord } from "../../record/index.ts";
import { type Compiled, compile, type Meaning } from "../../structure/index.ts";
import type { Control, Objective, Problem, Solved } from "../problem.ts";
import { solve } from "../solve.ts";
import { describeWay } from "./describe.ts";
import { CELL_CANNOT_BE_ISOLATED, findWayIn, objectiveOf, termsOf } from "./index.ts";
import type { Question, Unreachable, WayIn } from "./types.ts";

export interface Alternatives {
  /** The best first. */
  readonly alternatives: readonly WayIn[];
  /** No further way in really differs. */
  readonly complete: boolean;
}

interface Node {
  readonly without: ReadonlySet<string>;
  readonly answer: Solved;
}

export function alternativesOf(
  record: TeardownRecord,
  question: Question,
  most: number,
  control: Control,
): Alternatives | Unreachable {
  const first = findWayIn(record, question, control);
  if (!("operations" in first)) return first;
  const isolated = !first.warnings.includes(CELL_CANNOT_BE_ISOLATED);
  const compiled = compile(record, termsOf(question), question.to, isolated);
  const objective = objectiveOf(question, record);
  const tree = new Tree(compiled, objective, control, new Set(question.to.map((part) => `part ${part}`)));
  const found = tree.best(most);
  const warnings = isolated ? [] : [CELL_CANNOT_BE_ISOLATED];
  return {
    alternatives: found.map(({ answer }) =>
      describeWay(compiled, objective, answer, question, warnings, first.milliseconds),
    ),
    complete: tree.complete && found.length < most,
  };
}

class Tree {
  complete = true;
  private readonly compiled: Compiled;
  private readonly objective: Objective;
  private readonly control: Control;
  private readonly targets: ReadonlySet<string>;
  private readonly seen = new Set<string>();

  constructor(compiled: Compiled, objective: Objective, control: Control, targets: ReadonlySet<string>) {
    this.compiled = compiled;
    this.objective = objective;
    this.control = control;
    this.targets = targets;
  }

  best(most: number): Node[] {
    const open: Node[] = [];
    const told: Node[] = [];
    const sets = new Set<string>();
    this.open(open, new Set());
    while (open.length > 0 && told.length < most) {
      open.sort((a, b) => this.cost(a) - this.cost(b));
      const node = open.shift() as Node;
      const things = this.thingsOf(node.answer);
      const key = [...things].sort().join("\n");
      if (!sets.has(key)) {
        sets.add(key);
        told.push(node);
      }
      if (told.length === most) break;
      for (const thing of things) {
        if (this.targets.has(thing)) continue;
        if (this.control.deadline !== undefined && this.control.now() > this.control.deadline) {
          this.complete = false;
          return told;
        }
        this.open(open, new Set([...node.without, thing]));
      }
    }
    return told;
  }

  private open(open: Node[], without: ReadonlySet<string>): void {
    const key = [...without].sort().join("\n");
    if (this.seen.has(key)) return;
    this.seen.add(key);
    const answer = solve(forbid(this.compiled, without), this.objective, this.control);
    if (answer.kind === "solved") open.push({ without, answer });
    else if (answer.kind === "out-of-time") this.complete = false;
  }

  private thingsOf(answer: Solved): Set<string> {
    return new Set(
      answer.moves.flatMap((move) => (move.kind === "do" ? [thingOf(this.compiled.meanings[move.operation])] : [])),
    );
  }

  private cost({ answer }: Node): number {
    return this.objective.least === "seconds"
      ? answer.ms
      : this.objective.least === "steps"
        ? answer.steps
        : answer.risk;
  }
}

/** A joint released, whichever way; a part moved, lifted or shifted. */
function thingOf(meaning: Meaning): string {
  return meaning.kind === "release" ? `joint ${meaning.joint.id}` : `part ${meaning.part.id}`;
}

function forbid({ problem, meanings }: Compiled, without: ReadonlySet<string>): Problem {
  if (without.size === 0) return problem;
  return {
    ...problem,
    // A need without any group never holds.
    operations: problem.operations.map((operation, index) =>
      without.has(thingOf(meanings[index])) ? { ...operation, needs: [[]] } : operation,
    ),
  };
}
