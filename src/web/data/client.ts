/** The server's answers, with every failure in words: what happened and what to do. */
import type { Fault } from "../../core/errors.ts";

export class Failed extends Error {
  readonly faults: readonly Fault[];
  /** 0 when no answer came at all. */
  readonly status: number;
  /** What was answered, as JSON; undefined when nothing was. */
  readonly body: unknown;

  constructor(status: number, faults: readonly Fault[], body?: unknown) {
    super(faults.map((fault) => fault.found).join("; "));
    this.name = "Failed";
    this.status = status;
    this.faults = faults;
    this.body = body;
  }
}

export async function ask<T>(address: string, init?: RequestInit): Promise<T> {
  let response: Response;
  try {
    response = await fetch(address, { ...init, headers: { accept: "application/json", ...init?.headers } });
  } catch (error) {
    if (init?.signal?.aborted) throw error;
    throw new Failed(0, [
      { path: "", found: "no answer from the server", expected: "it to be running: start it again with npm start" },
    ]);
  }
  const text = await response.text();
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new Failed(response.status, [
      { path: address, found: `an answer that is no JSON (status ${response.status})`, expected: "JSON" },
    ]);
  }
  if (response.ok) return value as T;
  const faults = (value as { faults?: readonly Fault[] } | null)?.faults;
  throw new Failed(
    response.status,
    Array.isArray(faults) && faults.length > 0
      ? faults
      : [{ path: address, found: `status ${response.status}`, expected: "an answer" }],
    value,
  );
}
