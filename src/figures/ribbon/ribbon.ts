/**
 * A way in as a ribbon: tools are rows, time runs to the right, legal steps are numbered rules, and the warm wash is the
 * time in which a bond is soft.
 */
import type { TeardownRecord } from "../../core/record/index.ts";
import type { WayIn, WayOperation } from "../../core/route/ways/types.ts";
import { SETTINGS } from "../../core/structure/index.ts";
import { spokenTime, timeStep } from "../axis.ts";
import { group, line, rect, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";
import { operationWords } from "./operation-words.ts";

const ROW = 30;
const BAR = 21;
const HEAD = 34;
const FOOT = 44;

interface Row {
  readonly key: string;
  readonly label: string;
}

/** Row of an operation: its set of tools; heating is a row of its own, and so is the bare hand. */
export function rowOf(operation: WayOperation, names: ReadonlyMap<string, string>): Row {
  if (operation.kind === "heat") {
    const by = operation.tools.map((id) => names.get(id) ?? id).join(" + ");
    return { key: `heat ${operation.tools.join(" ")}`, label: by === "" ? "heat" : `heat, ${by}` };
  }
  if (operation.tools.length === 0) return { key: "hand", label: "bare hand" };
  return {
    key: operation.tools.join(" "),
    label: operation.tools.map((id) => names.get(id) ?? id).join(" + "),
  };
}

/** When each legal step is reached: what an operation adds before its own work stands at its start. */
export function stepTimes(way: Strip): readonly { readonly at: number; readonly number: number }[] {
  const out: { at: number; number: number }[] = [];
  let count = 0;
  for (const operation of way.operations) {
    const closing = operation.kind === "release" ? 0 : Math.min(1, operation.steps);
    for (let i = 0; i < operation.steps - closing; i++) out.push({ at: operation.at, number: ++count });
    if (closing) out.push({ at: operation.at + operation.seconds, number: ++count });
  }
  return out;
}

/** The times in which a zone's bond can be worked after a heating that stands alone. */
export function warmTimes(record: TeardownRecord, way: Strip): readonly { from: number; to: number; zone: string }[] {
  const soft = new Map<string, number>();
  for (const joint of record.joints)
    for (const release of joint.releases)
      if (release.heat) {
        const assumed = release.heat.seconds === undefined ? SETTINGS.soft / 1000 : Infinity;
        soft.set(release.heat.zone, release.heat.soft ?? assumed);
      }
  const ends = way.operations.filter((one) => one.kind === "heat");
  const last = way.operations.reduce((end, one) => Math.max(end, one.at + one.seconds), 0);
  return ends.map((heat) => {
    const from = heat.at + heat.seconds;
    const again = ends.find((other) => other.zone === heat.zone && other.at >= from)?.at ?? Infinity;
    return {
      from,
      to: Math.min(from + (heat.soft ?? soft.get(heat.zone!) ?? Infinity), again, last),
      zone: heat.zone!,
    };
  });
}

/** What is drawn of a way in. */
export type Strip = Pick<WayIn, "targets" | "operations" | "seconds" | "steps">;

export interface RibbonOptions {
  readonly width: number;
  /** Operation that is being looked at. */
  readonly chosen?: number;
  /** Operations that lead from the chosen one to the target. */
  readonly chain?: readonly number[];
  /** Second at the right edge, where ribbons stand under one another; left out: the end of this one. */
  readonly until?: number;
}

export function drawRibbon(
  record: TeardownRecord,
  way: Strip,
  { width, chosen, chain = [], until = 0 }: RibbonOptions,
): Scene {
  const names = new Map(record.tools.map((tool) => [tool.id, tool.name]));
  const rows: Row[] = [];
  for (const operation of way.operations) {
    const row = rowOf(operation, names);
    if (!rows.some((other) => other.key === row.key)) rows.push(row);
  }
  const total = Math.max(1, until, ...way.operations.map((one) => one.at + one.seconds));
  const labelSize = width < 520 ? 11 : 12;
  const labelRoom = Math.min(width * 0.27, Math.max(60, ...rows.map((row) => textWidth(row.label, labelSize) + 4)));
  const left = labelRoom + 12;
  const right = width - 20;
  const x = (seconds: number) => left + (seconds / total) * (right - left);
  const rowY = (index: number) => HEAD + index * ROW;
  const bottom = rowY(rows.length) + 4;
  const shapes: Shape[] = [];
  for (const { from, to } of warmTimes(record, way)) {
    if (to <= from) continue;
    shapes.push(rect(x(from), HEAD - 2, x(to) - x(from), bottom - HEAD + 2, { fill: "warm" }));
    const words = "bond still soft";
    if (x(to) - x(from) > textWidth(words, 11) + 10)
      shapes.push(text(x(to) - 5, HEAD + 9, words, { anchor: "end", size: 11, tone: "soft" }));
  }
  rows.forEach((row, index) => {
    const y = rowY(index);
    shapes.push(
      text(labelRoom, y + ROW / 2 + 4, fitText(row.label, labelRoom, labelSize), {
        anchor: "end",
        size: labelSize,
        tone: "soft",
      }),
      line(left, y + ROW, right, y + ROW, { stroke: "hair" }),
    );
  });
  const steps = stepTimes(way);
  let lastNumber = -Infinity;
  for (const step of steps) {
    shapes.push(line(x(step.at), HEAD - 10, x(step.at), bottom, { stroke: "accent", weight: "hair", dash: "dot" }));
    if (x(step.at) - lastNumber < textWidth(String(step.number), 12, true) + 3 && step !== steps.at(-1)) continue;
    lastNumber = x(step.at);
    shapes.push(
      text(x(step.at), HEAD - 15, String(step.number), { anchor: "middle", bold: true, tone: "accent", size: 12 }),
    );
  }
  way.operations.forEach((operation, index) => {
    const row = rows.findIndex((other) => other.key === rowOf(operation, names).key);
    const marked = chosen === index || chain.includes(index);
    shapes.push(bar(record, operation, index, x, rowY(row) + (ROW - BAR) / 2, way, marked));
  });
  const middle = (index: number) =>
    rowY(rows.findIndex((row) => row.key === rowOf(way.operations[index]!, names).key)) + ROW / 2;
  for (let k = 0; k + 1 < chain.length; k++) {
    const [from, to] = [chain[k]!, chain[k + 1]!];
    const [before, after] = [way.operations[from], way.operations[to]];
    if (before === undefined || after === undefined) continue;
    const end = x(before.at + before.seconds);
    shapes.push(line(end, middle(from), Math.max(end, x(after.at)), middle(to), { stroke: "accent", weight: "thin" }));
  }
  shapes.push(...timeAxis(total, x, bottom, right - left));
  const title = `Way in to ${way.targets.map((id) => partName(record, id)).join(" and ")}: ${
    way.operations.length
  } operations in ${spokenTime(way.seconds)}, ${way.steps} legal steps`;
  return { width, height: bottom + FOOT, title, shapes };
}

const partName = (record: TeardownRecord, id: string) => record.parts.find((part) => part.id === id)?.name ?? id;

function bar(
  record: TeardownRecord,
  operation: WayOperation,
  index: number,
  x: (seconds: number) => number,
  y: number,
  way: Strip,
  chosen: boolean,
): Shape {
  const start = x(operation.at);
  const width = Math.max(2.5, x(operation.at + operation.seconds) - start);
  const away = operation.kind === "lift" || operation.kind === "shift";
  const words = operationWords(record, operation);
  const fill = operation.kind === "heat" ? "warm" : away ? "accent" : "sheet";
  const children: Shape[] = [
    rect(start, y, width, BAR, {
      stroke: chosen || away ? "accent" : "ink",
      weight: chosen ? "bold" : "thin",
      fill,
    }),
  ];
  const passes = operation.passes ?? 1;
  for (let i = 1; i < passes; i++) {
    const at = start + (width * i) / passes;
    children.push(line(at, y, at, y + BAR, { stroke: "ink", weight: "hair", dash: "dot" }));
  }
  if (!away) {
    const fitted = fitText(words.short, width - 10, 11);
    if (!fitted.endsWith("…") || width > 46) children.push(text(start + 5, y + BAR / 2 + 4, fitted, { size: 11 }));
  } else if (operation.part !== undefined && way.targets.includes(operation.part)) {
    const out = `${partName(record, operation.part)} out`;
    const from = start - 6 - textWidth(out, 12, true);
    const before = way.operations
      .slice(0, index)
      .filter((one) => one.kind !== "heat" && one.tools.length === 0)
      .reduce((end, one) => Math.max(end, x(one.at + one.seconds)), x(0));
    if (before + 2 < from)
      children.push(
        text(start - 6, y + BAR / 2 + 4, out, { anchor: "end", bold: true, tone: "accent", size: 12, halo: true }),
      );
  }
  return group(children, { operation: index }, words.full);
}

function timeAxis(total: number, x: (seconds: number) => number, y: number, room: number): Shape[] {
  const step = timeStep(total, Math.max(2, Math.floor(room / 64)));
  const unit = step < 60 && total < 180 ? "s" : step < 3600 ? "min" : "h";
  const per = unit === "s" ? 1 : unit === "min" ? 60 : 3600;
  const shapes: Shape[] = [];
  for (let at = 0; at <= total + 1e-9; at += step) {
    shapes.push(
      line(x(at), y, x(at), y + 6, { stroke: "soft" }),
      text(x(at), y + 19, `${Math.round((at / per) * 100) / 100} ${unit}`, {
        anchor: "middle",
        size: 11,
        tone: "soft",
      }),
    );
  }
  shapes.push(
    text(x(total), y + 34, "time from the start, fetches and turns are the gaps", {
      anchor: "end",
      size: 11,
      tone: "soft",
    }),
  );
  return shapes;
}
