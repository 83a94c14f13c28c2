/** The grid of parts and points as CSV (RFC 4180: lines end in CR LF, what holds a comma or a quote is quoted). */
import type { LawReport } from "./report.ts";

export function gridCsv(report: LawReport): string {
  const rows: (string | number | null)[][] = [
    ["part", "steps", "remote steps", "depth", "fastener", "tool", "described", "done", "least", "decided by"],
  ];
  for (const [role, part] of Object.entries(report.parts)) {
    const counts = report.counts[role as keyof LawReport["counts"]] ?? null;
    const because =
      part === null
        ? "absent"
        : [part.decidedBy.fastener?.because, part.decidedBy.tool?.because].flatMap((text) => text ?? []).join("; ");
    rows.push([
      role,
      part?.steps ?? null,
      part?.remoteSteps ?? null,
      part === null ? 5 : part.depth,
      part === null ? 5 : part.fastener,
      part === null ? 5 : part.tool,
      counts?.described ?? null,
      counts?.done ?? null,
      counts?.least ?? null,
      because,
    ]);
  }
  for (const [score, value] of Object.entries(report.scores)) rows.push([score, value]);
  rows.push(
    ["index", report.index],
    ["unrounded", report.unrounded],
    ["class", report.class],
    ["basis", report.basis],
    ["rules", report.rules.id],
  );
  return rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/** A cell that a spreadsheet would run as a formula is kept as text. */
function cell(value: string | number | null): string {
  if (value === null) return "";
  const text = typeof value === "string" && /^[=+\-@\t\r]/.test(value) ? `'${value}` : String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
