/**
 * An instrument on a serial line, behind the few things that are needed of the browser's port (Web Serial, a draft of the
 * W3C's community group): opened at a speed, read until it is closed. Tests give a port of their own.
 */
import { type SerialEvent, serialReader } from "../../../core/measure/typed/index.ts";

export interface PortLike {
  open(options: { baudRate: number }): Promise<void>;
  readonly readable: ReadableStream<Uint8Array> | null;
  close(): Promise<void>;
}

export interface PortsLike {
  requestPort(): Promise<PortLike>;
}

/** Speeds that scales and gauges are set to; common practice, no source. */
export const SPEEDS = [1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200] as const;

export const browserPorts = (): PortsLike | undefined => (navigator as unknown as { serial?: PortsLike }).serial;

/** Reads a port until `signal` says stop or it goes away. @throws Error in the browser's words when it cannot be opened */
export async function listenTo(
  port: PortLike,
  baudRate: number,
  hear: (event: SerialEvent) => void,
  signal: AbortSignal,
): Promise<void> {
  await port.open({ baudRate });
  const reader = port.readable?.getReader();
  const stop = () => void reader?.cancel().catch(() => undefined);
  signal.addEventListener("abort", stop);
  try {
    if (reader === undefined || signal.aborted) return;
    const lines = serialReader();
    // Plain text in seven bits; bytes above that are shown as they are and refused by the parser.
    const decoder = new TextDecoder("latin1");
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      for (const event of lines.hear(decoder.decode(value, { stream: true }))) hear(event);
    }
  } finally {
    signal.removeEventListener("abort", stop);
    reader?.releaseLock();
    await port.close().catch(() => undefined);
  }
}
