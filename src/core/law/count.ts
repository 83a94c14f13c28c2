/**
 * Legal steps of a sequence in the words of the record, each with what ended it (2023/1669 Annex I (20), Annex IV point 5;
 * readings I1 to I10 where the act is silent).
 *
 * The rule itself, one operation at a time, is `countSteps` of core/route/steps.ts, the same that the planner minimises by;
 * here stands what the bench adds to it: what is in hand, the side that is up, bundles, the rounds of an interrupted release.
 */
import type { TeardownRecord } from "../record/schema.ts";
import type { StepReadings } from "../route/problem.ts";
import { countSteps as countMove, type StepState } from "../route/steps.ts";
import { Assemblies, OPPOSITE } from "../structure/index.ts";
import { type LawOperation, toolsOf } from "./operations.ts";

/** What ended a step. */
export type StepEnd =
  | "change-of-tool"
  | "tool-at-the-same-time"
  | "removal"
  | "moved-aside"
  | "heating"
  | "cleaning"
  | "turn"
  | "undoing"
  | "remote-notification"
  | "remote-authorisation";

export interface CountedStep {
  readonly ended: StepEnd;
  /** Index into the operations; -1 for remote steps. */
  readonly operation: number;
}

export interface Count {
  /** Remote steps not included. */
  readonly steps: number;
  readonly list: readonly CountedStep[];
}

interface Hand extends StepState {
  hand: readonly number[];
  side: string;
}

/** Counts the steps of a sequence from the fully assembled device: empty hands, back up. */
export function countSteps(record: TeardownRecord, operations: readonly LawOperation[], readings: StepReadings): Count {
  const counter = new Counter(record, readings);
  operations.forEach((operation, index) => counter.take(operation, index));
  return { steps: counter.list.length, list: counter.list };
}

class Counter {
  readonly list: CountedStep[] = [];
  private readonly readings: StepReadings;
  private readonly assemblies: Assemblies;
  private readonly tools = new Map<string, number>();
  private readonly off = new Set<string>();
  private readonly bench: Hand = { open: false, bare: false, hand: [], side: "back" };

  constructor(record: TeardownRecord, readings: StepReadings) {
    this.readings = readings;
    this.assemblies = new Assemblies(record);
  }

  take(operation: LawOperation, index: number): void {
    switch (operation.kind) {
      case "release":
        if (operation.passes !== undefined) this.rounds(operation, index, operation.passes);
        else this.move("release", operation.tools, operation.side, index, { clean: cleans(operation) });
        return;
      case "heat":
        this.heat(operation, index);
        return;
      case "shift":
        this.move("shift", [], operation.side, index, {});
        return;
      case "lift": {
        const inside = [...this.assemblies.of(operation.part.id)];
        const still = inside.filter((part) => !this.off.has(part)).length;
        for (const part of inside) this.off.add(part);
        const parts = this.readings.I4 ? still : 1;
        this.move("lift", [], operation.side, index, { parts, tray: operation.part.role === "sim-tray" });
      }
    }
  }

  private heat(operation: LawOperation & { kind: "heat" }, index: number): void {
    this.move("heat", toolsOf(operation), operation.source.side, index, {});
  }

  /** Reading I10: of the later rounds nothing is counted, and work is open afterwards; the other: each round counts. */
  private rounds(operation: LawOperation & { kind: "release" }, index: number, passes: number): void {
    const { heat } = operation.release ?? {};
    let open = this.bench.open;
    let bare = this.bench.bare;
    let counted = this.list.length;
    for (let round = 1; round <= passes; round += 1) {
      if (heat && !(round === 1 && operation.firstHeatingBefore)) {
        const by = heat.down === undefined && heat.by !== undefined ? [heat.by] : [];
        this.move("heat", by, heat.down === undefined ? undefined : OPPOSITE[heat.down], index, {});
      }
      this.move("release", operation.tools, operation.side, index, { clean: round === passes && cleans(operation) });
      if (round === 1 || this.readings.I10) {
        ({ open, bare } = this.bench);
        counted = this.list.length;
      }
    }
    this.list.length = counted;
    this.bench.open = open;
    this.bench.bare = bare;
    if (!this.readings.I10 && this.readings.I9 && cleans(operation)) {
      this.list.push({ ended: "cleaning", operation: index });
      this.bench.open = false;
    }
  }

  private move(
    kind: "release" | "lift" | "shift" | "heat",
    toolIds: readonly string[],
    side: string | undefined,
    operation: number,
    more: { readonly clean?: boolean; readonly tray?: boolean; readonly parts?: number },
  ): void {
    const { bench, readings } = this;
    const tools = this.indices(toolIds);
    const turned = side !== undefined && side !== bench.side;
    const { clean = false, tray = false, parts = 1 } = more;
    const steps = countMove(readings, bench, { kind, tools, hand: bench.hand, turned, clean, tray, parts });
    if (tools.length > 0) bench.hand = tools;
    if (turned) bench.side = side;
    this.explain(kind, steps, tools.length, operation, { turned, clean, tray, parts });
  }

  /** Splits the steps of one move into what ended each. */
  private explain(
    kind: "release" | "lift" | "shift" | "heat",
    steps: number,
    tools: number,
    operation: number,
    more: { readonly turned: boolean; readonly clean: boolean; readonly tray: boolean; readonly parts: number },
  ): void {
    const { I1, I6, I7, I9 } = this.readings;
    const own: StepEnd[] = [];
    if (kind === "heat") own.push("heating");
    if (kind === "shift") own.push("moved-aside");
    if (kind === "lift" && !(I7 && more.tray)) for (let part = 0; part < more.parts; part += 1) own.push("removal");
    if (kind === "release" && I1) own.push("undoing");
    if (kind === "release" && I9 && more.clean) own.push("cleaning");
    const turn: StepEnd[] = I6 && more.turned ? ["turn"] : [];
    const forTools = steps - own.length - turn.length;
    const extra = Math.min(forTools, Math.max(0, tools - 1));
    const ends: StepEnd[] = [
      ...turn,
      ...Array<StepEnd>(forTools - extra).fill("change-of-tool"),
      ...Array<StepEnd>(extra).fill("tool-at-the-same-time"),
      ...own,
    ];
    for (const ended of ends) this.list.push({ ended, operation });
  }

  private indices(ids: readonly string[]): number[] {
    const all = new Set<number>();
    for (const id of ids) {
      let index = this.tools.get(id);
      if (index === undefined) this.tools.set(id, (index = this.tools.size));
      all.add(index);
    }
    return [...all].sort((a, b) => a - b);
  }
}

function cleans(operation: LawOperation & { kind: "release" }): boolean {
  return operation.release?.clean === true;
}
