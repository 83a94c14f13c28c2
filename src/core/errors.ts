/**
 * The caller's fault: what was found, what was expected and what to do next.
 *
 * Thrown by the core where input cannot be worked with; the command line turns it into exit code 1 and
 * the server into a 4xx answer. Anything else that is thrown is our fault and keeps its stack trace.
 */
export class InputError extends Error {
  readonly path: string;
  readonly found: string;
  readonly expected: string;
  readonly nearest: string | undefined;

  constructor(fault: Fault) {
    super(faultText(fault));
    this.name = "InputError";
    this.path = fault.path;
    this.found = fault.found;
    this.expected = fault.expected;
    this.nearest = fault.nearest;
  }
}

/** One fault in an input: where it stands, what was found there, what was expected, the nearest right spelling. */
export interface Fault {
  readonly path: string;
  readonly found: string;
  readonly expected: string;
  readonly nearest?: string;
}

/** A whole input refused, with every fault found at once. */
export class InputFaults extends Error {
  readonly faults: readonly Fault[];

  constructor(faults: readonly Fault[]) {
    super(faults.map(faultText).join("\n"));
    this.name = "InputFaults";
    this.faults = faults;
  }
}

/** Says a fault in one line, for people. */
export function faultText(fault: Fault): string {
  const where = fault.path === "" ? "" : `${fault.path}: `;
  const nearest = fault.nearest === undefined ? "" : ` (nearest: ${fault.nearest})`;
  return `${where}found ${fault.found}, expected ${fault.expected}${nearest}`;
}

/** The faults that a thrown value carries; undefined when it is not the caller's fault. */
export function faultsIn(error: unknown): readonly Fault[] | undefined {
  if (error instanceof InputFaults) return error.faults;
  if (!(error instanceof InputError)) return undefined;
  const { path, found, expected, nearest } = error;
  return [{ path, found, expected, ...(nearest === undefined ? {} : { nearest }) }];
}
