/**
 * Holds a swap's way back against its contract instead of trusting it: the planner's rules by `validateWayBack`, and beyond them
 * connections closed before what cannot be undone cheaply, the test stop, new bonds, pairing and the proof at the end.
 */
import type { TeardownRecord } from "../../record/index.ts";
import type { BackOperation, ClosedBefore } from "../../route/ways/back.ts";
import type { Question, WayIn } from "../../route/ways/index.ts";
import { validateWayBack } from "../../route/ways/validate-back.ts";
import { connectionsFirst, costlyToUndo, releasesOf } from "./closing.ts";
import { disturbedBy } from "./prove.ts";
import type { SwapBackOperation } from "./sequence.ts";

export interface SwapFault {
  /** Place in the way back; its length where the whole is at fault. */
  readonly index: number;
  readonly because: string;
}

/** @param first pairs of `connectionsFirst` for this way, where they are known already: finding them takes longest */
export function validateSwap(
  record: TeardownRecord,
  question: Question,
  way: WayIn,
  operations: readonly SwapBackOperation[],
  first: readonly ClosedBefore[] = connectionsFirst(record, question, way),
): SwapFault[] {
  const places: number[] = [];
  const plain = operations.flatMap((operation, index): BackOperation[] => {
    if (operation.kind === "test-stop" || operation.kind === "pair" || operation.kind === "prove") return [];
    places.push(index);
    return [operation];
  });
  return [
    ...validateWayBack(record, question, way, plain).map(({ index, because }) => ({
      index: places[index] ?? operations.length,
      because,
    })),
    ...connections(first, operations),
    ...stops(record, way, operations),
    ...renewals(record, way, operations),
    ...ending(record, question, way, operations),
  ];
}

const closingOf = (operations: readonly SwapBackOperation[]): Map<string, number> =>
  new Map(
    operations.flatMap((operation, index) =>
      operation.kind === "close" && operation.joint !== undefined ? [[operation.joint, index] as const] : [],
    ),
  );

/** No connection that can be closed before a step that cannot be undone cheaply is still open at it. */
function connections(pairs: readonly ClosedBefore[], operations: readonly SwapBackOperation[]): SwapFault[] {
  const closed = closingOf(operations);
  return pairs.flatMap(({ first, then }): SwapFault[] => {
    const at = closed.get(then);
    if (at === undefined) return [];
    const own = closed.get(first);
    return own === undefined || own > at
      ? [{ index: at, because: `${first} is still open when ${then} is closed for good` }]
      : [];
  });
}

function stops(record: TeardownRecord, way: WayIn, operations: readonly SwapBackOperation[]): SwapFault[] {
  const releases = releasesOf(record, way);
  const first = operations.findIndex((operation) => {
    const found =
      operation.kind === "close" && operation.joint !== undefined ? releases.get(operation.joint) : undefined;
    return found !== undefined && costlyToUndo(found.joint, found.release) !== undefined;
  });
  if (first < 0) return [];
  const stop = operations.findIndex(({ kind }) => kind === "test-stop");
  if (stop >= 0 && stop < first) return [];
  return [{ index: first, because: "there is no test stop before the first step that cannot be undone cheaply" }];
}

function renewals(record: TeardownRecord, way: WayIn, operations: readonly SwapBackOperation[]): SwapFault[] {
  const releases = releasesOf(record, way);
  return operations.flatMap((operation, index): SwapFault[] => {
    if (operation.kind !== "close" || operation.joint === undefined) return [];
    const found = releases.get(operation.joint);
    if (!found) return [];
    const spent =
      found.release.leaves === "spent" || found.release.leaves === "broken" || found.joint.remake?.newFastener;
    const faults: SwapFault[] = [];
    if (spent && !operation.new)
      faults.push({ index, because: `${operation.joint} is spent and does not go back new` });
    if (found.joint.remake && !operation.laid)
      faults.push({ index, because: `${operation.joint} is closed without what its remake takes` });
    return faults;
  });
}

function ending(
  record: TeardownRecord,
  question: Question,
  way: WayIn,
  operations: readonly SwapBackOperation[],
): SwapFault[] {
  const faults: SwapFault[] = [];
  const last = operations.at(-1);
  const wanted = disturbedBy(record, way).functions;
  if (last?.kind !== "prove") faults.push({ index: operations.length, because: "it does not end with the proof" });
  else {
    for (const name of wanted)
      if (!last.tests.includes(name))
        faults.push({ index: operations.length - 1, because: `${name} was disturbed and is not proved` });
    for (const name of last.tests)
      if (!wanted.includes(name))
        faults.push({ index: operations.length - 1, because: `${name} was not disturbed and need not be proved` });
  }
  for (const part of record.parts) {
    if (!question.to.includes(part.id) || !(part.pairing?.notification || part.pairing?.authorisation)) continue;
    const pair = operations.findIndex((operation) => operation.kind === "pair" && operation.part === part.id);
    if (pair < 0) faults.push({ index: operations.length, because: `${part.id} is not paired` });
    else if (operations.slice(pair).some(({ kind }) => kind === "close" || kind === "refit" || kind === "unshift"))
      faults.push({ index: pair, because: `${part.id} is paired before the device is closed` });
  }
  return faults;
}
