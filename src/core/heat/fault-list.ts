/** Walks an unknown JSON value and collects every fault with its path instead of stopping at the first. */
import { type Fault, InputFaults } from "../errors.ts";
import { nearest } from "../record/nearest.ts";

export type Json = Readonly<Record<string, unknown>>;

export class FaultList {
  readonly faults: Fault[] = [];

  add(path: string, found: string, expected: string, near?: string): void {
    // A file of a million faults helps nobody: the first hundred do.
    if (this.faults.length < 100) {
      this.faults.push(near === undefined ? { path, found, expected } : { path, found, expected, nearest: near });
    }
  }

  throwIfAny(): void {
    if (this.faults.length > 0) throw new InputFaults(this.faults);
  }

  /** The value as an object whose keys are all among `keys`, or undefined after a fault. */
  object(value: unknown, path: string, keys: readonly string[], required: readonly string[]): Json | undefined {
    if (typeof value !== "object" || value === null || Array.isArray(value)) {
      this.add(path, say(value), "an object");
      return undefined;
    }
    const object = value as Json;
    for (const key of Object.keys(object)) {
      if (!keys.includes(key))
        this.add(join(path, key), `the unknown key ${quote(key)}`, `one of ${keys.join(", ")}`, nearest(key, keys));
    }
    for (const key of required) {
      if (!Object.hasOwn(object, key)) this.add(join(path, key), "nothing", "a value: this key is required");
    }
    return object;
  }

  array(value: unknown, path: string, least: number, most: number, of: string): readonly unknown[] | undefined {
    if (!Array.isArray(value)) {
      this.add(path, say(value), `a list of ${of}`);
      return undefined;
    }
    if (value.length < least || value.length > most) {
      this.add(path, `a list of ${value.length}`, `${least} to ${most} ${of}`);
      return undefined;
    }
    return value;
  }

  /** A finite number for which `allowed` holds; NaN after a fault. */
  number(value: unknown, path: string, expected: string, allowed: (x: number) => boolean): number {
    if (typeof value !== "number" || !Number.isFinite(value) || !allowed(value)) {
      this.add(path, say(value), expected);
      return Number.NaN;
    }
    return value;
  }

  text(value: unknown, path: string, expected: string): string {
    if (typeof value !== "string" || value.trim() === "" || value.length > 400) {
      this.add(path, say(value), expected);
      return "";
    }
    return value;
  }
}

export function join(path: string, key: string | number): string {
  if (typeof key === "number") return `${path}[${key}]`;
  return path === "" ? key : `${path}.${key}`;
}

export function quote(text: string): string {
  return JSON.stringify(text.length > 60 ? `${text.slice(0, 60)}…` : text);
}

/** A found value in few words. */
export function say(value: unknown): string {
  if (value === undefined) return "nothing";
  if (value === null) return "null";
  if (typeof value === "string") return quote(value);
  if (typeof value === "number" || typeof value === "boolean") return String(value);
  return Array.isArray(value) ? `a list of ${value.length}` : "an object";
}
