import { describe, expect, it } from "vitest";
import type { SerialEvent } from "../../../core/measure/typed/index.ts";
import { listenTo, type PortLike } from "./serial-port.ts";

/** A port that sends what it is given, and then keeps still or ends. */
function simulated(pieces: readonly string[], ends: boolean) {
  const said: string[] = [];
  const port: PortLike = {
    open: async ({ baudRate }) => void said.push(`open ${baudRate}`),
    readable: new ReadableStream({
      start(controller) {
        for (const piece of pieces) controller.enqueue(new TextEncoder().encode(piece));
        if (ends) controller.close();
      },
    }),
    close: async () => void said.push("close"),
  };
  return { port, said };
}

describe("an instrument on a serial line", () => {
  it("is read until it goes away, and closed", async () => {
    const { port, said } = simulated(["US,GS, 3.1 g\r\nST,G", "S, 27.31 g\r\nST,GS, 27.31 g\r\n"], true);
    const events: SerialEvent[] = [];
    await listenTo(port, 9600, (event) => events.push(event), new AbortController().signal);
    expect(events.map(({ kind }) => kind)).toEqual(["moving", "reading"]);
    expect(events[1]).toMatchObject({ value: 27.31, unit: "g", zero: false });
    expect(said).toEqual(["open 9600", "close"]);
  });

  it("is let go when it is told to stop", async () => {
    const { port, said } = simulated(["ST 1.0 g\n"], false);
    const stop = new AbortController();
    const done = listenTo(port, 4800, () => stop.abort(), stop.signal);
    await done;
    expect(said).toEqual(["open 4800", "close"]);
  });

  it("with a line that never ends says so and keeps nothing", async () => {
    const { port } = simulated(
      Array.from({ length: 400 }, () => "1234567890"),
      true,
    );
    const events: SerialEvent[] = [];
    await listenTo(port, 9600, (event) => events.push(event), new AbortController().signal);
    expect(events).toHaveLength(1);
    expect(events[0]).toMatchObject({ kind: "refused" });
  });

  it("that cannot be opened says why", async () => {
    const { port } = simulated([], true);
    const broken: PortLike = { ...port, open: () => Promise.reject(new Error("The port is in use.")) };
    await expect(listenTo(broken, 9600, () => undefined, new AbortController().signal)).rejects.toThrow(/in use/);
  });
});
