/** The serial line of a scale or gauge: connected once, its values at rest are kept as they come. */
import { useEffect, useRef, useState } from "react";
import type { SerialEvent } from "../../../core/measure/typed/index.ts";
import { browserPorts, listenTo, SPEEDS } from "./serial-port.ts";

export interface SerialProps {
  readonly onReading: (event: Extract<SerialEvent, { kind: "reading" }>) => void;
}

export function Serial({ onReading }: SerialProps) {
  const ports = browserPorts();
  const [speed, setSpeed] = useState<number>(9600);
  const [state, setState] = useState<"closed" | "open">("closed");
  const [last, setLast] = useState<string | null>(null);
  const stop = useRef<AbortController | null>(null);
  // The newest handler is asked, not the one from when the line was opened.
  const handler = useRef(onReading);
  handler.current = onReading;
  useEffect(() => () => stop.current?.abort(), []);
  if (ports === undefined) {
    return (
      <p className="soft">
        This browser has no serial lines. Scales and calipers that act as a keyboard type into the field above.
      </p>
    );
  }
  const connect = async () => {
    const control = new AbortController();
    stop.current = control;
    setLast(null);
    try {
      const port = await ports.requestPort();
      setState("open");
      await listenTo(port, speed, hear, control.signal);
      setLast("The line was closed.");
    } catch (error) {
      setLast(`No line: ${error instanceof Error ? error.message : String(error)}`);
    } finally {
      setState("closed");
    }
  };
  const hear = (event: SerialEvent) => {
    if (event.kind === "refused") return setLast(`Refused: ${event.found}; expected ${event.expected}.`);
    const shown = `${event.value} ${event.unit ?? "(no unit sent)"}`;
    if (event.kind === "moving") return setLast(`${shown}, still moving: not kept.`);
    setLast(`${shown}, at rest.`);
    handler.current(event);
  };
  return (
    <div className="board-fields">
      <label>
        serial line at{" "}
        <select value={speed} disabled={state === "open"} onChange={(event) => setSpeed(Number(event.target.value))}>
          {SPEEDS.map((one) => (
            <option key={one} value={one}>
              {one} baud
            </option>
          ))}
        </select>
      </label>
      <button
        type="button"
        className="button"
        onClick={() => (state === "open" ? stop.current?.abort() : void connect())}
      >
        {state === "open" ? "let the line go" : "connect an instrument"}
      </button>
      {last === null ? null : <span role="status">{last}</span>}
    </div>
  );
}
