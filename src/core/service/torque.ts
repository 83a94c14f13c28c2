/**
 * Breaking torque of small metric screws by ISO 898-7: M_B = X * Rm_min * π/16 * d3min³, for the weakest class of the standard
 * (8.8) unless told otherwise. X and the scope are of ISO 898-7:1992; Rm_min of ISO 898-1 is recalled, not read; d3min =
 * d2min - (√3/2) P + 2 r with d2min and r of ISO 965 is our own geometry, and gives the standard's table within 4 %.
 *
 * It is a property of a steel screw in test, not a torque to tighten to: in plastic or thin metal the female thread gives way
 * long before. Above half of it people are warned (common practice, no source).
 */
import type { Quantity } from "../record/index.ts";
import { valueIn } from "../units/index.ts";

interface Size {
  readonly pitch: number;
  readonly d2min: number;
  readonly root: number;
}

/** mm; coarse pitch (ISO 262), d2min and root radius (ISO 965). */
const SIZES: Readonly<Record<string, Size>> = {
  M1: { pitch: 0.25, d2min: 0.785, root: 0.031 },
  "M1.2": { pitch: 0.25, d2min: 0.985, root: 0.031 },
  "M1.4": { pitch: 0.3, d2min: 1.149, root: 0.038 },
  "M1.6": { pitch: 0.35, d2min: 1.291, root: 0.044 },
  M2: { pitch: 0.4, d2min: 1.654, root: 0.05 },
  "M2.5": { pitch: 0.45, d2min: 2.117, root: 0.056 },
};

export const SCREW_CLASSES = {
  "8.8": { X: 0.84, rm: 800 },
  "9.8": { X: 0.815, rm: 900 },
  "10.9": { X: 0.79, rm: 1040 },
  "12.9": { X: 0.75, rm: 1220 },
} as const;
export type ScrewClass = keyof typeof SCREW_CLASSES;

/** "M1.4x0.3", "M1.4 × 0.3", "m1.4": the size, where its pitch is the coarse one. */
export function sizeOf(thread: string): string | undefined {
  const match = /^\s*M\s?(\d+(?:[.,]\d+)?)\s*(?:[x×*]\s*(\d+(?:[.,]\d+)?))?\s*$/i.exec(thread);
  if (!match) return undefined;
  const name = `M${Number(match[1]!.replace(",", "."))}`;
  const size = SIZES[name];
  if (!size) return undefined;
  if (match[2] !== undefined && Math.abs(Number(match[2].replace(",", ".")) - size.pitch) > 1e-9) return undefined;
  return name;
}

/** Core diameter at its least, mm. */
export function coreDiameter(size: string): number | undefined {
  const found = SIZES[size];
  return found === undefined ? undefined : found.d2min - (Math.sqrt(3) / 2) * found.pitch + 2 * found.root;
}

/** cN.m; undefined where the thread is not one of the table. */
export function breakingTorque(thread: string, screwClass: ScrewClass = "8.8"): number | undefined {
  const size = sizeOf(thread);
  const d3 = size === undefined ? undefined : coreDiameter(size);
  if (d3 === undefined) return undefined;
  const { X, rm } = SCREW_CLASSES[screwClass];
  // MPa mm³ = N.mm; ten of them are one cN.m.
  return (X * rm * (Math.PI / 16) * d3 ** 3) / 10;
}

export interface TorqueWords {
  /** cN.m; null where the record has none. */
  readonly torque: number | null;
  readonly torqueIs?: "stated" | "back-off";
  /** cN.m, class 8.8; null where the thread is not known. */
  readonly breaking: number | null;
  readonly warnings: readonly string[];
}

/** What is to be said about tightening a screw. Only a torque of the record is ever given. */
export function torqueWords(
  thread: string | undefined,
  torque: Quantity | undefined,
  torqueIs: "stated" | "back-off" | undefined,
): TorqueWords {
  const value = torque === undefined ? null : Math.round(valueIn(torque, "cN.m") * 1e6) / 1e6;
  const breaking = thread === undefined ? undefined : breakingTorque(thread);
  const warnings: string[] = [];
  if (value === null) warnings.push("No torque is known: by hand, stop at the first resistance of the head.");
  else if (torqueIs !== "stated")
    warnings.push("Torque read while undoing: it is no tightening torque, do not go above it.");
  if (breaking === undefined)
    warnings.push(
      thread === undefined
        ? "Thread not known: its breaking torque cannot be told."
        : `${thread}: no breaking torque in the table.`,
    );
  else if (value !== null && value > breaking / 2)
    warnings.push(
      `${value} cN.m is more than half of the breaking torque of ${sizeOf(thread!)} (${breaking.toFixed(1)} cN.m, steel of class 8.8, ISO 898-7).`,
    );
  return {
    torque: value,
    ...(torqueIs === undefined ? {} : { torqueIs }),
    breaking: breaking === undefined ? null : Math.round(breaking * 10) / 10,
    warnings,
  };
}
