/** The record's facts as tables for a spreadsheet (RFC 4180): one row a thing, units in the headings. */
import type { TeardownRecord } from "../core/record/index.ts";
import { writeTable } from "../core/service/shelf/table.ts";
import type { Swap } from "../core/service/swap/index.ts";
import { valueIn } from "../core/units/index.ts";
import type { NumberedScrew } from "./screw-numbers.ts";
import type { Spot } from "./screw-sheet.ts";

export function partsTable({ parts }: TeardownRecord): string {
  return writeTable(
    [
      "id",
      "name",
      "role",
      "within",
      "material",
      "level_from_mm",
      "level_to_mm",
      "gives",
      "number",
      "price",
      "currency",
      "lead_days",
      "sold_to",
      "pairing",
    ],
    parts.map((part) => [
      part.id,
      part.name,
      part.role,
      part.within,
      part.material,
      part.level?.[0],
      part.level?.[1],
      (part.gives ?? []).join("; "),
      (part.spare?.numbers ?? []).join("; "),
      part.spare?.price?.amount,
      part.spare?.price?.currency,
      part.spare?.leadDays,
      part.spare?.to,
      [part.pairing?.notification ? "notification" : "", part.pairing?.authorisation ? "authorisation" : ""]
        .filter((one) => one !== "")
        .join("; "),
    ]),
  );
}

export function jointsTable({ joints }: TeardownRecord): string {
  return writeTable(
    [
      "id",
      "kind",
      "count",
      "holds",
      "side",
      "undone_by",
      "leaves",
      "drive",
      "thread",
      "length_mm",
      "torque_cN.m",
      "torque_is",
    ],
    joints.map((joint) => [
      joint.id,
      joint.kind,
      joint.count ?? 1,
      joint.holds.join("; "),
      joint.side,
      [...new Set(joint.releases.map(({ action }) => action))].join("; "),
      [...new Set(joint.releases.map(({ leaves }) => leaves))].join("; "),
      joint.screws?.drive,
      joint.screws?.thread,
      joint.screws?.length,
      joint.screws?.torque === undefined ? undefined : Number(valueIn(joint.screws.torque, "cN.m").toPrecision(9)),
      joint.screws?.torqueIs,
    ]),
  );
}

/** Every screw of the record, in the record's order. */
export function screwsTable({ joints }: TeardownRecord): string {
  return writeTable(
    ["joint", "index", "x_mm", "y_mm", "side", "length_mm", "length_is", "head_mm", "drive", "thread", "mark"],
    joints
      .filter(({ kind }) => kind === "screw")
      .flatMap((joint) =>
        Array.from({ length: Math.max(joint.count ?? 1, joint.screws?.each?.length ?? 0) }, (_, index) => {
          const one = joint.screws?.each?.[index];
          return [
            joint.id,
            index + 1,
            one?.at?.[0],
            one?.at?.[1],
            joint.side,
            one?.length ?? joint.screws?.length,
            joint.screws?.lengthIs,
            joint.screws?.head,
            joint.screws?.drive,
            joint.screws?.thread,
            one?.mark,
          ];
        }),
      ),
  );
}

/** The screws of one sheet with their places on it. */
export function spotsTable(screws: readonly NumberedScrew[], spots: readonly Spot[]): string {
  return writeTable(
    ["label", "number", "stage", "joint", "length_mm", "drive", "page", "page_x_mm", "page_y_mm"],
    screws.map((screw) => {
      const spot = spots.find(({ joint, index }) => joint === screw.joint && index === screw.index);
      const place = (value: number | undefined) => (value === undefined ? undefined : Math.round(value * 1000) / 1000);
      return [
        screw.label,
        screw.number,
        screw.stage,
        screw.joint,
        screw.length,
        screw.drive,
        spot?.page,
        place(spot?.x),
        place(spot?.y),
      ];
    }),
  );
}

/** One row a swap: what a shop asks first. */
export function swapsTable(swaps: readonly Swap[]): string {
  return writeTable(
    [
      "replace",
      "p50_s",
      "p90_s",
      "mean_s",
      "hands_on_s",
      "elapsed_s",
      "legal_steps",
      "price_p10",
      "price_p50",
      "price_p90",
      "currency",
      "why_no_price",
      "repair_up_to",
      "tools",
      "prove",
    ],
    swaps.map((swap) => [
      swap.replace.join("; "),
      swap.seconds.p50,
      swap.seconds.p90,
      swap.seconds.mean,
      swap.seconds.handsOn,
      swap.seconds.elapsed,
      swap.wayIn.steps,
      swap.price?.p10,
      swap.price?.p50,
      swap.price?.p90,
      swap.price?.currency,
      swap.why,
      swap.repairUpTo?.amount,
      swap.tools.map(({ name }) => name).join("; "),
      swap.prove.join("; "),
    ]),
  );
}

export function needsTable(swaps: readonly Swap[]): string {
  return writeTable(
    ["replace", "kind", "id", "name", "amount", "unit", "price", "currency"],
    swaps.flatMap((swap) => [
      ...swap.parts.map((part) => [
        swap.replace.join("; "),
        part.because,
        part.id,
        part.name,
        part.amount,
        "1",
        part.price?.amount,
        part.price?.currency,
      ]),
      ...swap.consumables.map((one) => [
        swap.replace.join("; "),
        "consumable",
        one.id,
        one.name,
        one.amount.value,
        one.amount.unit,
        one.price?.amount,
        one.price?.currency,
      ]),
    ]),
  );
}
