/** The thread that computes answers: one assignment in, one reply out. */
import { parentPort } from "node:worker_threads";
import { faultsIn } from "../core/errors.ts";
import type { Control } from "../core/route/problem.ts";
import type { Assignment, Reply, Task } from "./answers.ts";

parentPort?.on("message", async ({ task, stop }: Assignment) => {
  const flag = new Int32Array(stop);
  const now = (): number => performance.now();
  const cancelled = (): boolean => Atomics.load(flag, 0) === 1;
  const deadline = task.kind === "ways" ? now() + task.seconds * 1000 : undefined;
  parentPort?.postMessage(await reply(task, { now, cancelled, deadline }));
});

class Stopped extends Error {}

async function reply(task: Task, control: Control): Promise<Reply> {
  try {
    return { kind: "done", value: await compute(task, control) };
  } catch (error) {
    const faults = faultsIn(error);
    if (faults !== undefined) return { kind: "refused", faults };
    if (error instanceof Stopped) return { kind: "given-up" };
    return { kind: "failed", stack: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

/** Each room is loaded when it is first asked. */
async function compute(task: Task, control: Control): Promise<unknown> {
  switch (task.kind) {
    case "ways": {
      const { findWayIn } = await import("../core/route/ways/index.ts");
      return findWayIn(task.record, task.question, control);
    }
    case "law": {
      const [{ lawReport }, { findWayIn }] = await Promise.all([
        import("../core/law/index.ts"),
        import("../core/route/ways/index.ts"),
      ]);
      return lawReport(task.record, { basis: task.basis, findWayIn, control });
    }
    case "figures": {
      const { figuresOf } = await import("../core/measure/index.ts");
      return figuresOf(task.record, task.sibling);
    }
    case "report": {
      const [{ reportHtml }, { reportAnswers }, { typefaceCss }] = await Promise.all([
        import("../paper/report.ts"),
        import("../paper/report-answers.ts"),
        import("../paper/typeface.ts"),
      ]);
      const { madeAt, version } = task;
      const answers = reportAnswers(task.record, task.sibling);
      return reportHtml(answers, { madeAt, version, typeface: typefaceCss() });
    }
    case "law-pack": {
      const { lawPackFile } = await import("../paper/law-pack-files.ts");
      return lawPackFile(task.record, task);
    }
    case "sheets": {
      const { makeSheetSet } = await import("./sheet-task.ts");
      return makeSheetSet(task.sheets, (done, of) => {
        if (control.cancelled?.()) throw new Stopped();
        parentPort?.postMessage({ kind: "progress", done, of } satisfies Reply);
      });
    }
  }
}
