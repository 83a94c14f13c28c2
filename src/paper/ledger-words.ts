/** Rows of the ledger, and names, numbers and changes of tool as its rows say them. */
import type { Joint, Part, TeardownRecord } from "../core/record/index.ts";
import type { WayOperation } from "../core/route/ways/types.ts";
import type { Scene } from "../figures/index.ts";
import type { NumberedScrew } from "./screw-numbers.ts";
import type { Say, WordKey } from "./words/index.ts";

export type LedgerRow =
  | { readonly kind: "part"; readonly title: string }
  | { readonly kind: "rule"; readonly text: string }
  | {
      readonly kind: "work";
      /** Stands at the first row of a stage. */
      readonly plan?: { readonly scene: Scene | null; readonly caption: string };
      readonly does: readonly string[];
      readonly hand: string;
      readonly true: readonly string[];
      /** Heat or softness: the warm wash. */
      readonly warm?: true;
    };

/** Names and numbers as a sheet says them. */
export class Words {
  private readonly parts: ReadonlyMap<string, Part>;
  private readonly base: string | undefined;
  readonly say: Say;

  constructor(record: TeardownRecord, say: Say) {
    this.parts = new Map(record.parts.map((part) => [part.id, part]));
    this.base = record.parts.find((part) => part.base)?.id;
    this.say = say;
  }

  part(id: string): string {
    return this.parts.get(id)?.name ?? id;
  }

  of(joint: Joint): string {
    const held = joint.holds.filter((id) => id !== this.base);
    return (held.length > 0 ? held : joint.holds).map((id) => this.part(id)).join(" / ");
  }

  what(joint: Joint): string {
    const n = joint.count ?? 1;
    const kind = this.say(`joint.${joint.kind}` as WordKey, { n });
    return n === 1 ? kind : `${n} ${kind}`;
  }

  time(seconds: number): string {
    if (seconds < 90) return `${Math.round(seconds)} ${this.say("unit.s")}`;
    if (seconds < 5400) return `${Math.round(seconds / 60)} ${this.say("unit.min")}`;
    return `${Math.round(seconds / 360) / 10} ${this.say("unit.h")}`;
  }
}

export function handOf(record: TeardownRecord, tools: readonly string[], say: Say): string {
  if (tools.length === 0) return say("hand.none");
  return tools.map((id) => record.tools.find((tool) => tool.id === id)?.name ?? id).join(" + ");
}

export function ruleFor(
  record: TeardownRecord,
  operation: Pick<WayOperation, "fetch" | "turn" | "tools"> & { side?: string },
  say: Say,
): LedgerRow[] {
  const texts = [
    ...(operation.turn && operation.side !== undefined
      ? [say("turn", { side: say(`side.${operation.side}` as WordKey) })]
      : []),
    ...(operation.fetch.length > 0 ? [say("take", { tools: handOf(record, operation.tools, say) })] : []),
  ];
  return texts.length === 0 ? [] : [{ kind: "rule", text: texts.join(" · ") }];
}

/** Runs of numbers of one stage: "3–8B". */
export function spans(screws: readonly NumberedScrew[]): string {
  const out: string[] = [];
  for (let i = 0; i < screws.length; ) {
    let j = i;
    while (
      j + 1 < screws.length &&
      screws[j + 1]!.number === screws[j]!.number + 1 &&
      screws[j + 1]!.stage === screws[i]!.stage
    )
      j += 1;
    const [a, b] = [screws[i]!, screws[j]!];
    out.push(a === b ? a.label : `${a.number}–${b.number}${a.stage}`);
    i = j + 1;
  }
  return out.join(", ");
}
