import { describe, expect, it } from "vitest";
import { LONG, type PressAct, pressed, TWICE, UP } from "./press.ts";

/** Plays events at their times, and asks at every wake that falls in between. */
function play(events: readonly (readonly ["down" | "up", number])[]): PressAct[] {
  const acts: PressAct[] = [];
  let state = UP;
  let wake: number | null = null;
  const tell = (event: "down" | "up" | "time", now: number) => {
    const answer = pressed(state, event, now);
    state = answer.state;
    wake = answer.wake;
    if (answer.act !== null) acts.push(answer.act);
  };
  for (const [event, at] of [...events, ["time", 1e6] as const]) {
    while (wake !== null && wake < at) tell("time", wake);
    tell(event, at);
  }
  return acts;
}

describe("one key", () => {
  it("once, twice, long: each at the moment at which it began", () => {
    expect(
      play([
        ["down", 100],
        ["up", 180],
      ]),
    ).toEqual([{ kind: "mark", at: 100 }]);
    expect(
      play([
        ["down", 100],
        ["up", 180],
        ["down", 300],
        ["up", 380],
      ]),
    ).toEqual([{ kind: "again", at: 100 }]);
    expect(
      play([
        ["down", 100],
        ["up", 100 + LONG + 300],
      ]),
    ).toEqual([{ kind: "undo", at: 100 }]);
  });
  it("two slow ones are two marks, a repeating key is one press, three are an again and a mark", () => {
    const late = 100 + TWICE + 50;
    expect(
      play([
        ["down", 100],
        ["up", 150],
        ["down", late],
        ["up", late + 50],
      ]),
    ).toEqual([
      { kind: "mark", at: 100 },
      { kind: "mark", at: late },
    ]);
    expect(
      play([
        ["down", 0],
        ["down", 30],
        ["down", 60],
        ["up", 90],
      ]),
    ).toEqual([{ kind: "mark", at: 0 }]);
    expect(
      play([
        ["down", 0],
        ["up", 50],
        ["down", 100],
        ["up", 150],
        ["down", 200],
        ["up", 250],
      ]).map((one) => one.kind),
    ).toEqual(["again", "mark"]);
  });
  it("an end without a beginning says nothing", () => expect(play([["up", 5]])).toEqual([]));
});
