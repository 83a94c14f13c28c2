/** Plans and assesses away from the page's own thread, so that the page never stands still. */
import { type Fault, InputError, InputFaults } from "../../core/errors.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { Control } from "../../core/route/problem.ts";
import { alternativesOf } from "../../core/route/ways/alternatives.ts";
import { findWayIn } from "../../core/route/ways/index.ts";
import type { Question, Unreachable, WayIn } from "../../core/route/ways/types.ts";
import { whyOf } from "../../core/route/ways/why.ts";
import { Failed } from "../data/client.ts";
import { leadTask } from "./afternoon-tasks.ts";
import { besideTask, factsTask, figuresTask } from "./figure-tasks.ts";
import { declaredTask, lawTask, questionsTask, reachTask, readingsTask } from "./law-tasks.ts";
import type { FromWorker, TaskName, Tasks, ToWorker } from "./messages.ts";
import { shelfTask, swapTask, warmSheetTask } from "./shop-tasks.ts";
import { boardShown, fitShown, roundsShown, warmShown } from "./warm-tasks.ts";

const say = (message: FromWorker) => self.postMessage(message);
const now = () => performance.now();

/** Progress is told at most this often, in ms: more would only keep the page busy. */
const EVERY = 100;
/** Seconds after which a way in that is not proved yet is told. */
const FIRST = 0.5;

function controlFor(question: Question, seconds: number): Control {
  let told = now();
  return {
    now,
    deadline: now() + seconds * 1000,
    progress: (best, lowerBound) => {
      if (now() - told < EVERY) return;
      told = now();
      say({ kind: "progress", progress: { least: question.least, best, lowerBound } });
    },
  };
}

const COMPUTE: {
  readonly [Name in TaskName]: (
    record: TeardownRecord,
    asks: Tasks[Name]["asks"],
  ) => Tasks[Name]["gets"] | Promise<Tasks[Name]["gets"]>;
} = {
  ways: (record, { questions, seconds }) =>
    questions.length === 1
      ? [bySteps(record, questions[0]!, seconds)]
      : questions.map((question) => findWayIn(record, question, controlFor(question, seconds))),
  others: (record, { question, most, seconds }) =>
    alternativesOf(record, question, most, controlFor(question, seconds)),
  why: (record, { question, way, place, seconds }) =>
    whyOf(record, question, way, place, controlFor(question, seconds)),
  law: lawTask,
  lawReadings: readingsTask,
  lawQuestions: questionsTask,
  lawReach: (record, asks) => reachTask(record, asks, tellShare()),
  lawDeclared: declaredTask,
  swap: (record, asks) =>
    swapTask(record, asks, controlFor({ to: asks.question.replace, least: "seconds" }, asks.seconds)),
  warmSheet: warmSheetTask,
  figures: figuresTask,
  beside: besideTask,
  facts: (record, asks) => factsTask(record, asks, (done, of) => say({ kind: "progress", progress: { done, of } })),
  shelf: (record, asks) => shelfTask(record, asks, (done, of) => say({ kind: "progress", progress: { done, of } })),
  warm: (record, asks) => warmShown(record, asks),
  rounds: (record, asks) => roundsShown(record, asks, tellShare()),
  fit: (record, asks) => fitShown(record, asks),
  lead: leadTask,
  board: (_, asks) => boardShown(asks, tellShare()),
};

/** Half a second first; what is not proved by then is told, so that it can be shown and kept, and the search begins again. */
function bySteps(record: TeardownRecord, question: Question, seconds: number): WayIn | Unreachable {
  const soon = findWayIn(record, question, controlFor(question, Math.min(FIRST, seconds)));
  if (
    seconds <= FIRST ||
    ("operations" in soon ? soon.proved : soon.unreachable.some((one) => one.blockedBy.length > 0))
  )
    return soon;
  if ("operations" in soon) say({ kind: "so-far", value: [soon] });
  const later = findWayIn(record, question, controlFor(question, seconds));
  return "operations" in later ? later : soon;
}

/** Tells in hundredths how far a long run is. */
function tellShare(): (share: number) => void {
  let told = now();
  return (share) => {
    if (now() - told < EVERY) return;
    told = now();
    say({ kind: "progress", progress: { done: Math.round(share * 100), of: 100 } });
  };
}

self.onmessage = async ({ data }: MessageEvent<ToWorker>) => {
  try {
    const compute = COMPUTE[data.name] as (record: TeardownRecord, asks: unknown) => unknown;
    say({ kind: "done", value: await compute(data.record, data.asks) });
  } catch (error) {
    if (error instanceof InputError) say({ kind: "refused", faults: [plain(error)] });
    else if (error instanceof Failed) say({ kind: "refused", faults: error.faults });
    else if (error instanceof InputFaults) say({ kind: "refused", faults: error.faults.map(plain) });
    else say({ kind: "broken", message: error instanceof Error ? error.message : String(error) });
  }
};

function plain({ path, found, expected, nearest }: Fault | InputError): Fault {
  return { path, found, expected, ...(nearest === undefined ? {} : { nearest }) };
}
