/** Words of the figures: one rule for digits and intervals, that of the measuring room. */
import {
  type ClaimVerdict,
  type ErrorSource,
  probabilityText,
  type Result,
  resultText,
} from "../../../core/measure/index.ts";
import type { Instrument, Part, TeardownRecord } from "../../../core/record/index.ts";

export const VERDICT_WORDS: Readonly<Record<ClaimVerdict["verdict"], string>> = {
  supported: "supported",
  "not-supported": "not supported",
  "cannot-tell": "cannot tell",
};

export const SOURCE_WORDS: Readonly<Record<ErrorSource["what"], string>> = {
  scatter: "scatter of the repeats",
  "display-step": "display step",
  "error-limit": "limit of error",
  "shared-offset": "offset, shared by all readings of the instrument",
  "shared-gain": "gain, shared by all readings of the instrument",
  "zero-reading": "zero reading that was taken off",
};

/** Two digits, as an uncertainty is written. */
export const small = (u: number): string => String(Number(u.toPrecision(2)));

export const dofWords = (dof: number): string => (Number.isFinite(dof) ? dof.toFixed(dof < 10 ? 1 : 0) : "infinite");

/** How an interval came about: "standard uncertainty 0.026 g, 12 degrees of freedom, k 2.18". */
export function intervalWords({
  u,
  dof,
  k,
  unit,
}: Pick<Result, "u" | "dof" | "k"> & { readonly unit: string }): string {
  if (u === 0) return "taken as exact";
  return `standard uncertainty ${small(u)}${unit === "" || unit === "1" ? "" : ` ${unit}`}, degrees of freedom ${dofWords(dof)}, coverage factor ${k.toFixed(2)} for 95 %`;
}

/** A result as people write its unit. */
export const unitWords = (text: string): string =>
  text
    .replace(/ mm2$/, " mm²")
    .replace(/ degC$/, " °C")
    .replace(/N\.m$/, "N·m")
    .replace(/^-/, "−");

export const chanceWords = (probability: number): string => `P ${probabilityText(probability)}`;

export const nameIn =
  (record: Pick<TeardownRecord, "parts" | "device">) =>
  (id: string): string =>
    id === "device" ? record.device.name : (record.parts.find((one: Part) => one.id === id)?.name ?? id);

export const instrumentName = (one: Instrument): string => one.name ?? one.kind;

/** What the closure says, in a sentence. */
export function closureWords(
  budget: { readonly residual: number | null; readonly U: number | null; readonly closes: boolean | null },
  unit: string,
): string {
  const { residual, U, closes } = budget;
  if (residual === null || U === null) return "It cannot be closed: the whole or its parts were not measured.";
  const left = `${resultText(Math.abs(residual), U, unit)} ${residual < 0 ? "too much" : "unaccounted for"}`;
  if (closes === null) return `${left}; parts are missing, so it cannot be told whether it closes.`;
  return closes
    ? `${left}: it closes within what the instruments can tell.`
    : `${left}: more than the instruments explain. Look for what was not measured, or measured twice.`;
}
