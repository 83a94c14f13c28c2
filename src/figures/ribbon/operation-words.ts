import type { TeardownRecord } from "../../core/record/index.ts";
import type { WayOperation } from "../../core/route/ways/types.ts";
import { jointWords } from "../joint-words.ts";

const DOES: Readonly<Record<string, string>> = {
  unscrew: "unscrew",
  unplug: "unplug",
  pry: "pry off",
  slice: "slice",
  peel: "peel",
  debond: "debond",
  desolder: "desolder",
  cut: "cut",
  pull: "pull",
};

/** What an operation does, in the bench's words: short for a bar, full for a line of text. */
export function operationWords(
  record: TeardownRecord,
  operation: Pick<WayOperation, "kind" | "joint" | "part" | "zone" | "action" | "passes">,
): { readonly short: string; readonly full: string } {
  const nameOf = (id: string | undefined) => record.parts.find((part) => part.id === id)?.name ?? id ?? "";
  switch (operation.kind) {
    case "lift":
      return { short: "lift", full: `lift ${nameOf(operation.part)}` };
    case "shift":
      return { short: "move aside", full: `move ${nameOf(operation.part)} aside, still attached` };
    case "heat": {
      const heat = record.joints
        .flatMap((joint) => joint.releases)
        .find((release) => release.heat?.zone === operation.zone)?.heat;
      const bond = heat === undefined ? "" : `, bond to ${heat.bond} °C`;
      return { short: `heat${bond}`, full: `heat ${operation.zone ?? ""}${bond}` };
    }
    case "release": {
      const joint = record.joints.find((one) => one.id === operation.joint);
      const does = DOES[operation.action ?? ""] ?? operation.action ?? "undo";
      if (joint === undefined) return { short: does, full: `${does} ${operation.joint ?? ""}` };
      const base = record.parts.find((part) => part.base)?.id;
      const of = joint.holds.filter((id) => id !== base).map(nameOf);
      const rounds = operation.passes === undefined ? "" : `, in ${operation.passes} rounds of heating and work`;
      return {
        short: `${does} ${jointWords(joint)}`,
        full: `${does} ${jointWords(joint)} of ${of.join(" and ")}${rounds}`,
      };
    }
  }
}
