/** A budget of the measuring room as the pieces of its picture: what lies in the sum, what the whole is, what is left. */
import { type Budget, type MassBudget, resultText, type ThicknessBudget } from "../../core/measure/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";

export interface BudgetPiece {
  readonly part?: string;
  readonly name: string;
  readonly value: number;
  readonly words: string;
  /** Stated, not measured: a gap of a stack. */
  readonly stated?: true;
}

export interface BudgetPicture {
  readonly unit: "g" | "mm";
  /** null where the whole was not measured. */
  readonly whole: { readonly name: string; readonly value: number; readonly words: string } | null;
  /** In the order of the sum: by size for mass, from the back downwards for thickness. */
  readonly pieces: readonly BudgetPiece[];
  readonly residual: { readonly value: number; readonly U: number; readonly words: string } | null;
  readonly closes: boolean | null;
}

/** Names of the parts of one reading: "Battery", "Display and Fingerprint reader", "Back glass with 4 others". */
export function namesOf(record: TeardownRecord, ids: readonly string[]): string {
  const names = ids.map((id) => record.parts.find((part) => part.id === id)?.name ?? id);
  return names.length <= 2 ? names.join(" and ") : `${names[0]} with ${names.length - 1} others`;
}

export function massPicture(record: TeardownRecord, mass: MassBudget): BudgetPicture {
  const pieces = [...pieceList(record, mass, "g")].sort((a, b) => b.value - a.value);
  return { ...common(record, mass, "g"), pieces };
}

export function thicknessPicture(record: TeardownRecord, stack: ThicknessBudget): BudgetPicture {
  const gaps = record.device.stackups?.find((one) => one.name === stack.name)?.gaps ?? [];
  const depth = (ids: readonly string[]) => {
    const at = ids.map((id) => stack.layers.indexOf(id)).filter((index) => index >= 0);
    return at.length === 0 ? stack.layers.length : Math.min(...at);
  };
  const lines = [...stack.lines].sort((a, b) => depth(a.of) - depth(b.of));
  return {
    ...common(record, stack, "mm"),
    pieces: [
      ...pieceList(record, { lines }, "mm"),
      ...gaps.map((gap) => ({
        name: `gap: ${gap.name}`,
        value: gap.value,
        words: gap.tolerance === undefined ? `${gap.value} mm` : `${gap.value} ± ${gap.tolerance} mm`,
        stated: true as const,
      })),
    ],
  };
}

function pieceList(record: TeardownRecord, { lines }: Pick<Budget, "lines">, unit: "g" | "mm"): BudgetPiece[] {
  return lines.map((one) => ({
    ...(one.of.length === 1 ? { part: one.of[0]! } : {}),
    name: namesOf(record, one.of),
    value: one.value,
    words: resultText(one.value, one.U, unit),
  }));
}

function common(record: TeardownRecord, budget: Budget, unit: "g" | "mm"): Omit<BudgetPicture, "pieces"> {
  const { residual, U, closes, whole } = budget;
  const left = residual !== null && residual < 0 ? "too much" : "unaccounted for";
  return {
    unit,
    whole:
      whole === null
        ? null
        : { name: record.device.name, value: whole.value, words: resultText(whole.value, whole.U, unit) },
    residual:
      residual === null || U === null
        ? null
        : { value: residual, U, words: `${resultText(Math.abs(residual), U, unit)} ${left}` },
    closes,
  };
}
