/** A thing of the record in a line, with names for ids. */
import { isMark } from "../../../core/narration/line/index.ts";
import type { TeardownRecord } from "../../../core/record/index.ts";
import type { Talk, Thing } from "./review.ts";

export function thingWords(record: TeardownRecord, made: Talk["made"], thing: Thing | null): string {
  if (thing === null) return "left over";
  const name = (id: string): string => {
    const fresh = made[id];
    return record.parts.find((part) => part.id === id)?.name ?? (fresh?.list === "parts" ? fresh.item.name : id);
  };
  const tool = (id: string): string => {
    const fresh = made[id];
    return record.tools.find((one) => one.id === id)?.name ?? (fresh?.list === "tools" ? fresh.item.name : id);
  };
  switch (thing.list) {
    case "log": {
      const { item } = thing;
      if (isMark(item)) return "mark";
      return [
        item.action,
        ...(item.parts ?? []).map(name),
        ...(item.tool === undefined ? [] : [`with ${tool(item.tool)}`]),
        ...(item.outcome === "damaged" ? ["damaged"] : []),
        ...(item.lies === undefined ? [] : [item.lies]),
      ].join(" · ");
    }
    case "readings":
      return `${thing.item.of.map(name).join(" + ")} · ${thing.item.quantity} ${thing.item.values.join(", ")} ${thing.item.unit}`;
    case "claims": {
      const { subject, relation, value, unit, than } = thing.item;
      return [
        "claim",
        subject.map(name).join(" + "),
        relation,
        ...(value === undefined ? [] : [`${value} ${unit ?? ""}`.trim()]),
        ...(than === undefined ? [] : [`than ${than}`]),
      ].join(" · ");
    }
    case "checks":
      return `${thing.item.what} · ${thing.item.result}`;
  }
}
