/**
 * What has to be at hand: parts, new fasteners, consumables and tools, with exact prices. What comes free with the spare
 * (`brings`) is not bought again.
 */
import type { Consumable, Joint, Money, Part, Quantity, TeardownRecord } from "../../record/index.ts";
import type { WayIn } from "../../route/ways/index.ts";
import { Assemblies } from "../../structure/index.ts";
import { convert } from "../../units/index.ts";
import { fractionOf, microsOf, moneyFrom, times } from "../money.ts";
import { releasesOf } from "./closing.ts";

export interface PartNeeded {
  /** Part id; for fasteners the joint's. */
  readonly id: string;
  readonly name: string;
  readonly amount: number;
  /** Of all of them together; null: not known. */
  readonly price: Money | null;
  readonly because: "replaced" | "destroyed" | "spent";
  readonly numbers?: readonly string[];
  readonly leadDays?: number;
}

export interface ConsumableNeeded {
  readonly id: string;
  readonly name: string;
  readonly number?: string;
  readonly amount: Quantity;
  /** What this job is charged for it; null: not known. */
  readonly price: Money | null;
  /** Opened packs: how much of one is used, and in how many days it has to be used up. */
  readonly packShare?: number;
  readonly shelfDays?: number;
  readonly joints: readonly string[];
}

export interface ToolNeeded {
  readonly id: string;
  readonly name: string;
  readonly kind: string;
  readonly brought?: true;
}

export interface Needs {
  readonly parts: readonly PartNeeded[];
  readonly consumables: readonly ConsumableNeeded[];
  readonly tools: readonly ToolNeeded[];
  /** Joints remade without being undone by hand: they let go by themselves when a part was lifted. */
  readonly letGo: readonly Joint[];
  /** Joint and tool ids that come with the spares. */
  readonly brought: ReadonlySet<string>;
  readonly assumptions: readonly string[];
  readonly warnings: readonly string[];
}

const BONDS: ReadonlySet<Joint["kind"]> = new Set(["adhesive", "tape", "debondable-adhesive", "seal"]);

export function needsOf(
  record: TeardownRecord,
  way: WayIn,
  replace: readonly string[],
  jobsAMonth: number | null,
): Needs {
  const parts = new Map(record.parts.map((part) => [part.id, part]));
  const brought = new Set(replace.flatMap((id) => parts.get(id)?.spare?.brings ?? []));
  const assemblies = new Assemblies(record);
  const with_ = new Set(replace.flatMap((id) => [...assemblies.of(id)]));
  const releases = [...releasesOf(record, way).values()];
  const destroyed = [...new Set(releases.flatMap(({ release }) => release.destroys ?? []))].filter(
    (id) => !with_.has(id),
  );
  const assumptions: string[] = [];
  const warnings: string[] = [];
  for (const id of replace) {
    const inside = [...assemblies.of(id)].filter((one) => one !== id && !replace.includes(one));
    if (inside.length > 0)
      assumptions.push(
        `The spare of ${nameOf(parts, id)} is taken to come with ${inside.map((one) => nameOf(parts, one)).join(", ")}.`,
      );
    const to = parts.get(id)?.spare?.to;
    if (to === "professionals") warnings.push(`${nameOf(parts, id)}: the spare is sold to professionals only.`);
    if (to === "nobody") warnings.push(`${nameOf(parts, id)}: no spare is sold.`);
  }
  const letGo = lettingGo(record, way);
  const again = [
    ...releases.filter(
      ({ joint, release }) => release.leaves === "spent" || release.leaves === "broken" || joint.remake !== undefined,
    ),
    ...letGo.map((joint) => ({ joint, release: undefined })),
  ].filter(({ joint }) => !brought.has(joint.id));
  const fasteners = again.flatMap(({ joint, release }): PartNeeded[] => {
    const spent = release?.leaves === "spent" || release?.leaves === "broken" || joint.remake?.newFastener === true;
    if (!spent || (joint.remake?.uses ?? []).length > 0) return [];
    const name = `${joint.kind === "screw" ? "new screws" : BONDS.has(joint.kind) ? "new bond" : "new fasteners"} for ${joint.id}`;
    return [{ id: joint.id, name, amount: joint.count ?? 1, price: null, because: "spent" }];
  });
  return {
    parts: [
      ...[...new Set(replace)].map((id) => partNeeded(parts.get(id)!, "replaced")),
      ...destroyed.map((id) => partNeeded(parts.get(id)!, "destroyed")),
      ...fasteners,
    ],
    consumables: consumablesOf(
      record,
      again.map(({ joint }) => joint),
      jobsAMonth,
      assumptions,
    ),
    tools: toolsOf(record, way, brought),
    letGo: letGo.filter((joint) => joint.remake !== undefined),
    brought,
    assumptions,
    warnings,
  };
}

const nameOf = (parts: ReadonlyMap<string, Part>, id: string): string => parts.get(id)?.name ?? id;

function partNeeded(part: Part, because: "replaced" | "destroyed"): PartNeeded {
  return {
    id: part.id,
    name: part.name,
    amount: 1,
    price: part.spare?.price ?? null,
    because,
    ...(part.spare?.numbers === undefined ? {} : { numbers: part.spare.numbers }),
    ...(part.spare?.leadDays === undefined ? {} : { leadDays: part.spare.leadDays }),
  };
}

/** Joints without a release that were parted by a lift. */
function lettingGo(record: TeardownRecord, way: WayIn): Joint[] {
  const assemblies = new Assemblies(record);
  const lifts = way.operations.flatMap(({ kind, part }) => (kind === "lift" && part !== undefined ? [part] : []));
  return record.joints.filter(
    (joint) => joint.releases.length === 0 && lifts.some((part) => assemblies.crosses(joint, part)),
  );
}

function consumablesOf(
  record: TeardownRecord,
  joints: readonly Joint[],
  jobsAMonth: number | null,
  assumptions: string[],
): ConsumableNeeded[] {
  const uses = new Map<string, { amounts: Quantity[]; joints: string[] }>();
  for (const joint of joints)
    for (const { consumable, amount } of joint.remake?.uses ?? []) {
      const one = uses.get(consumable) ?? { amounts: [], joints: [] };
      one.amounts.push(amount);
      one.joints.push(joint.id);
      uses.set(consumable, one);
    }
  return (record.consumables ?? []).flatMap((consumable): ConsumableNeeded[] => {
    const used = uses.get(consumable.id);
    if (!used) return [];
    const unit = consumable.pack?.unit ?? used.amounts[0]!.unit;
    const value = tidySum(used.amounts.map((amount) => convert(amount.value, amount.unit, unit)));
    const charged = chargeFor(consumable, value, jobsAMonth, assumptions);
    return [
      {
        id: consumable.id,
        name: consumable.name,
        ...(consumable.number === undefined ? {} : { number: consumable.number }),
        amount: { value, unit },
        price: charged,
        ...(consumable.pack === undefined ? {} : { packShare: value / consumable.pack.value }),
        ...(consumable.shelfDays === undefined ? {} : { shelfDays: consumable.shelfDays }),
        joints: used.joints,
      },
    ];
  });
}

const tidySum = (values: readonly number[]): number =>
  Number(values.reduce((sum, one) => sum + one, 0).toPrecision(12));

/**
 * A job pays its share of a pack. Where jobs are few, what has not been used up within the shelf life of the opened pack is
 * thrown away, and the jobs that did use it pay for the whole of it.
 */
function chargeFor(
  consumable: Consumable,
  value: number,
  jobsAMonth: number | null,
  assumptions: string[],
): Money | null {
  const { price, pack, shelfDays } = consumable;
  if (price === undefined) return null;
  if (pack === undefined) {
    assumptions.push(`${consumable.name}: the pack is not recorded, so a whole one is charged.`);
    return price;
  }
  if (!(pack.value > 0)) return null;
  let usable = pack.value;
  if (jobsAMonth !== null && shelfDays !== undefined) {
    const jobs = Math.max(1, Math.floor((jobsAMonth * shelfDays) / 30));
    usable = Math.min(pack.value, jobs * value);
  }
  const packs = Math.max(1, Math.ceil(value / pack.value - 1e-9));
  if (usable < value) return moneyFrom(times(microsOf(price), packs), price.currency);
  const [a, b] = fractionOf(value);
  const [c, d] = fractionOf(usable);
  const micros = microsOf(price);
  // price * value / usable, half up.
  return moneyFrom((2n * micros * a * d + b * c) / (2n * b * c), price.currency);
}

function toolsOf(record: TeardownRecord, way: WayIn, brought: ReadonlySet<string>): ToolNeeded[] {
  const releases = [...releasesOf(record, way).values()];
  const used = new Set(way.operations.flatMap(({ tools }) => tools));
  for (const { release } of releases) if (release.heat?.by !== undefined) used.add(release.heat.by);
  return record.tools
    .filter((tool) => used.has(tool.id))
    .map(({ id, name, kind }) => ({ id, name, kind, ...(brought.has(id) ? { brought: true as const } : {}) }));
}
