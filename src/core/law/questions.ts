/**
 * Open questions with what their answers decide: the time to the priority parts and the class.
 */
import { PRIORITY_ROLES, type TeardownRecord } from "../record/index.ts";
import type { Control } from "../route/problem.ts";
import type { WayIn } from "../route/ways/types.ts";
import { type OpenQuestion, openQuestions, recordHolding, weighQuestions } from "../structure/index.ts";
import { assessRecord } from "./assess.ts";
import { closureOf } from "./closure.ts";
import type { FindWayIn } from "./least.ts";

export interface RankedQuestion {
  readonly relation: string;
  readonly asks: string;
  /** Seconds to the priority parts and to those that this question is about, each from the closed device: at best, and at worst. */
  readonly seconds: readonly [number | null, number | null];
  /** Class by the least basis, at best and at worst. */
  readonly class: readonly [string | null, string | null];
  readonly parts: readonly string[];
  /** Whether the answer changes anything. */
  readonly matters: boolean;
}

/** Milliseconds of a counting clock for the fewest steps to one part: what an answer changes shows long before the last proof. */
const LIMIT = 40;

/** What holds when just some relations do: seconds are planned when they are asked for. */
interface Measure {
  readonly secondsTo: (parts: readonly string[]) => number | null;
  readonly class: string | null;
  /** Index in ten-thousandths, for ranking. */
  readonly index: number;
}

/**
 * Every open question, most decisive first: a change of the class before a change of the index, that before seconds.
 *
 * Cost: for each question the ways in to the parts that it can matter to, planned once for each set of relations in their reach.
 *
 * @param findWayIn the planner, see core/route/ways
 * @param control best with a counting clock, so that the same record is ranked the same way on every machine
 */
export function rankQuestions(record: TeardownRecord, findWayIn: FindWayIn, control: Control): RankedQuestion[] {
  const priority = priorityParts(record);
  const plan = remembering(record, findWayIn);
  const wanted = (question: OpenQuestion): string[] => [...new Set([...priority, ...question.parts])];
  const measure = (holding: readonly string[]): Measure => measureOf(record, holding, plan(holding), control);
  const far = (a: Measure, b: Measure, question: OpenQuestion): number => distance(a, b, wanted(question));
  return weighQuestions(record, measure, far).map(({ question, written, alone }): RankedQuestion => {
    const apart = (pair: typeof written): number => far(pair.no, pair.yes, question);
    const { no, yes } = apart(written) >= apart(alone) ? written : alone;
    const [without, withIt] = [no, yes].map((one) => one.secondsTo(wanted(question))) as [number | null, number | null];
    const better = (without ?? Number.POSITIVE_INFINITY) <= (withIt ?? Number.POSITIVE_INFINITY);
    const classes = [no, yes].sort((x, y) => y.index - x.index).map((one) => one.class);
    return {
      relation: question.relation,
      asks: question.asks,
      seconds: better ? [without, withIt] : [withIt, without],
      class: [classes[0]!, classes[1]!],
      parts: question.parts,
      matters: far(no, yes, question) > 0,
    };
  });
}

/** How many open questions there are, without weighing them. */
export function countQuestions(record: TeardownRecord): number {
  return openQuestions(record).length;
}

function priorityParts(record: TeardownRecord): string[] {
  return record.parts
    .filter((part) => !part.base && (PRIORITY_ROLES as readonly string[]).includes(part.role ?? ""))
    .map((part) => part.id);
}

/**
 * The planner under the relations that hold, each answer kept: a relation that lies outside of everything that a way in could take
 * changes nothing, and one more relation leaves a best way alone that does not go through it. Not so a relation on the way to
 * the cell's own plug: it can also make live work lawful that was not, by making it unavoidable.
 */
function remembering(record: TeardownRecord, findWayIn: FindWayIn): (holding: readonly string[]) => FindWayIn {
  const open = openQuestions(record).map((question) => question.relation);
  const reach = new Map<string, ReadonlySet<string>>();
  const known = new Map<string, ReturnType<FindWayIn>>();
  const near = (to: readonly string[]): ReadonlySet<string> => {
    const key = to.join("\n");
    let found = reach.get(key);
    if (found === undefined) {
      const { joints, parts } = closureOf(
        record,
        record.parts.filter((part) => to.includes(part.id)),
      );
      found = new Set(open.filter((one) => joints.has(one) || parts.has(one)));
      reach.set(key, found);
    }
    return found;
  };
  const toIsolate = near([]);
  return (holding) => {
    const one: FindWayIn = (where, question, control) => {
      const inReach = near(question.to);
      const here = holding.filter((relation) => inReach.has(relation));
      const asked = JSON.stringify(question);
      const key = `${asked}\n${here.join("\n")}`;
      const before = known.get(key);
      if (before !== undefined) return before;
      const free = here.length === 1 && !toIsolate.has(here[0]!) ? known.get(`${asked}\n`) : undefined;
      const way =
        free !== undefined && "operations" in free && !goesThrough(free, here[0]!)
          ? free
          : findWayIn(where, question, control);
      known.set(key, way);
      return way;
    };
    return one;
  };
}

const goesThrough = (way: WayIn, relation: string): boolean =>
  way.operations.some((operation) => operation.joint === relation || operation.part === relation);

function measureOf(
  record: TeardownRecord,
  holding: readonly string[],
  findWayIn: FindWayIn,
  control: Control,
): Measure {
  const here = recordHolding(record, holding);
  const secondsTo = (parts: readonly string[]): number | null => {
    let seconds = 0;
    for (const part of parts) {
      if (here.parts.find((one) => one.id === part)?.base) continue;
      const way = findWayIn(here, { to: [part], least: "seconds" }, control);
      if (!("operations" in way)) return null;
      seconds += way.seconds;
    }
    return Math.round(seconds * 1000) / 1000;
  };
  if (record.device.kind === "other") return { secondsTo, class: null, index: 0 };
  const { answer } = assessRecord(here, { basis: "least", findWayIn, control, ties: false, limit: LIMIT });
  return {
    secondsTo,
    class: answer.class,
    index: answer.unrounded === null ? 0 : Math.round(Number(answer.unrounded) * 10_000),
  };
}

function distance(a: Measure, b: Measure, parts: readonly string[]): number {
  const apart = (a.class === b.class ? 0 : 1e12) + Math.abs(a.index - b.index) * 1e6;
  const [one, other] = [a.secondsTo(parts), b.secondsTo(parts)];
  if (one === null || other === null) return apart + (one === other ? 0 : 1e14);
  return apart + Math.abs(one - other);
}
