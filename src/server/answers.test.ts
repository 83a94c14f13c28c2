import { readFileSync } from "node:fs";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { setTimeout as sleep } from "node:timers/promises";
import { afterEach, describe, expect, it } from "vitest";
import { InputFaults } from "../core/errors.ts";
import type { TeardownRecord } from "../core/record/index.ts";
import { sample } from "../store/acceptance.ts";
import { GivenUp, type Task, ThreadedAnswers } from "./answers.ts";

const example = (name: string): TeardownRecord =>
  JSON.parse(readFileSync(new URL(`../../examples/${name}.json`, import.meta.url), "utf8"));
const phone = example("thrandle-5");
const older = example("thrandle-4");
const easy: Task = {
  kind: "ways",
  record: sample(1),
  question: { to: ["cover"], least: "seconds" },
  seconds: 10,
};
/** Everything out of a whole phone, by legal steps: not proved in any time that a test can wait. */
const hard: Task = {
  kind: "ways",
  record: phone,
  question: {
    to: phone.parts.filter((part) => !part.base).map((part) => part.id),
    least: "steps",
    damage: true,
    accept: ["puncture", "short"],
  },
  seconds: 30,
};

describe("answers from a thread", () => {
  let answers: ThreadedAnswers;
  afterEach(() => answers.close());

  it("leave this thread free while they are computed", async () => {
    answers = new ThreadedAnswers();
    await answers.answer(easy);
    const delay = monitorEventLoopDelay({ resolution: 5 });
    delay.enable();
    await answers.answer({ ...hard, seconds: 2 });
    delay.disable();
    // The record is handed over once; other work on the machine may add to it, a computation here would take seconds.
    expect(delay.percentile(90) / 1e6).toBeLessThan(50);
  });

  it("refuse what is wrong with the question, and go on with the next", async () => {
    answers = new ThreadedAnswers();
    const wrong = answers.answer({ ...easy, question: { to: ["none"], least: "seconds" } } as Task);
    const right = answers.answer(easy);
    await expect(wrong).rejects.toThrow(InputFaults);
    expect(await right).toMatchObject({ seconds: 3.8, proved: true });
  });

  it("stop when their asker gives up, and whoever waits behind is served", async () => {
    answers = new ThreadedAnswers();
    await answers.answer(easy);
    const asker = new AbortController();
    const given = answers.answer(hard, asker.signal);
    const waiting = new AbortController();
    const behind = answers.answer(hard, waiting.signal);
    const last = answers.answer(easy);
    await sleep(200);
    const start = performance.now();
    waiting.abort();
    asker.abort();
    await expect(behind).rejects.toThrow(GivenUp);
    await given.catch((error) => expect(error).toBeInstanceOf(GivenUp));
    expect(await last).toMatchObject({ proved: true });
    expect(performance.now() - start).toBeLessThan(10_000);
    await expect(answers.answer(easy, AbortSignal.abort())).rejects.toThrow(GivenUp);
  });

  it("are given up when the server closes", async () => {
    answers = new ThreadedAnswers();
    const [one, other] = [answers.answer(hard), answers.answer(hard)].map((answer) => answer.catch((error) => error));
    await sleep(100);
    await answers.close();
    expect(await one).toBeInstanceOf(GivenUp);
    expect(await other).toBeInstanceOf(GivenUp);
    expect(await answers.answer(easy)).toMatchObject({ proved: true });
  });

  it("tell the figures, beside the sibling", async () => {
    answers = new ThreadedAnswers();
    const { claims, mass } = (await answers.answer({ kind: "figures", record: phone, sibling: older })) as {
      claims: unknown[];
      mass: { missing: string[] };
    };
    expect(claims).toHaveLength(phone.claims.length);
    expect(mass.missing).toBeInstanceOf(Array);
  });

  it("tell the law", async () => {
    answers = new ThreadedAnswers();
    expect(await answers.answer({ kind: "law", record: phone })).toMatchObject({ basis: "described" });
  });
});
