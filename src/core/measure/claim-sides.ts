/** What the two sides of a claim are: which quantity, which figure for the subject, which for what it is compared with. */
import type { Claim, QuantityName, TeardownRecord } from "../record/schema.ts";
import { convert, QUANTITY_DIMENSIONS, UNITS } from "../units/index.ts";
import { heldBy, withInside } from "./assemblies.ts";
import { areaOf, best } from "./battery.ts";
import { coverOf } from "./cover.ts";
import type { Estimate } from "./estimate.ts";
import { add, estimate } from "./estimate.ts";
import { matchParts, plainName } from "./match-parts.ts";
import type { Bench, ReadFigure } from "./readings.ts";
import { overdueIn } from "./readings.ts";

export interface Side {
  readonly figure: Estimate;
  /** How the side is called in a sentence. */
  readonly name: string;
  /** What was said to be on or off, where the figure is one reading. */
  readonly on: readonly string[];
  readonly off: readonly string[];
  readonly remarks: readonly string[];
}

export type Found = Side | { readonly missing: string };

/** Words by which a claim's text shows its quantity, where it does not say. */
const SPOKEN: readonly (readonly [RegExp, QuantityName])[] = [
  [/\b(weigh\w*|mass|light\w*|heav\w*|grams?)\b/i, "mass"],
  [/\b(thick\w*|thin\w*|slim\w*)\b/i, "thickness"],
  [/\b(area|footprint)\b/i, "area"],
  [/\b(energy|watt.?hours?|Wh)\b/, "energy"],
  [/\b(capacity|milliamp\w*|mAh)\b/i, "capacity"],
  [/\b(wide\w*|narrow\w*|width)\b/i, "width"],
  [/\b(tall\w*|height|high\w*)\b/i, "height"],
  [/\b(long\w*|short\w*|length)\b/i, "length"],
  [/\b(screws?|fasteners?|count|number of)\b/i, "count"],
];

const BY_RELATION: Partial<Record<Claim["relation"], QuantityName>> = {
  lighter: "mass",
  heavier: "mass",
  thinner: "thickness",
  thicker: "thickness",
};
const LAST_RESORT: Partial<Record<Claim["relation"], QuantityName>> = {
  smaller: "area",
  larger: "area",
  shorter: "length",
  longer: "length",
  more: "count",
  fewer: "count",
  "adds-up": "mass",
};

/** The quantity that a claim is about, or undefined where nothing tells. */
export function quantityOf(claim: Claim, bench: Bench): QuantityName | undefined {
  if (claim.quantity !== undefined) return claim.quantity;
  const implied = BY_RELATION[claim.relation];
  if (implied !== undefined) return implied;
  const dimension =
    claim.unit === undefined || claim.unit === "1" || claim.unit === "%" ? undefined : UNITS[claim.unit].dimension;
  const fits = (quantity: QuantityName) => dimension === undefined || QUANTITY_DIMENSIONS[quantity] === dimension;
  const spoken = SPOKEN.find(([word, quantity]) => word.test(claim.text) && fits(quantity))?.[1];
  if (spoken !== undefined) return spoken;
  // What was read of the subject, where it is one thing only.
  const read = new Set(
    bench.figures
      .filter(({ reading }) => sameSet(reading.of, claim.subject) && fits(reading.quantity))
      .map(({ reading }) => reading.quantity),
  );
  if (read.size === 1) return [...read][0];
  const last = LAST_RESORT[claim.relation];
  return last !== undefined && fits(last) ? last : undefined;
}

/** What a count is of, by the words of the claim. */
export type Counted = "screw" | "connector" | "part" | "joint";
export function countedIn(text: string): Counted | undefined {
  if (/\bscrews?\b/i.test(text)) return "screw";
  if (/\b(connectors?|plugs?|cables?)\b/i.test(text)) return "connector";
  if (/\b(fasteners?|joints?)\b/i.test(text)) return "joint";
  return /\b(parts?|pieces?|components?)\b/i.test(text) ? "part" : undefined;
}

/** The figure for a set of parts (or "device"), measured or made up of readings. */
export function sideOf(
  bench: Bench,
  ids: readonly string[],
  quantity: QuantityName,
  owner = "",
  counted?: Counted,
): Found {
  const { record } = bench;
  const name = nameOf(record, ids) + owner;
  const all = bench.figures.filter(({ reading }) => reading.quantity === quantity && sameSet(reading.of, ids));
  const direct = best(atOnePlace(all));
  if (direct !== undefined) {
    const side = ofReading(direct, name);
    const { place } = direct.reading;
    const elsewhere =
      place !== undefined && all.some(({ reading }) => reading.place !== undefined && !samePlace(reading.place, place));
    return elsewhere
      ? {
          ...side,
          remarks: [...side.remarks, `${name} was measured at several places; this is at [${place.join(", ")}]`],
        }
      : side;
  }
  const made = derived(bench, ids, quantity, counted);
  if (made !== undefined) return { figure: made, name, on: [], off: [], remarks: overdueIn(bench, made) };
  return { missing: `there is no reading of the ${quantity} of ${name}` };
}

/** Readings of one thing at several places are several things: those without a place, else those at the first place. */
function atOnePlace(readings: readonly ReadFigure[]): readonly ReadFigure[] {
  const general = readings.filter(({ reading }) => reading.place === undefined);
  if (general.length > 0) return general;
  const first = readings[0]?.reading.place;
  return first === undefined ? readings : readings.filter(({ reading }) => samePlace(reading.place!, first));
}

const samePlace = (a: readonly [number, number], b: readonly [number, number]) => a[0] === b[0] && a[1] === b[1];

function ofReading({ reading, figure, remarks }: ReadFigure, name: string): Side {
  return { figure, name, on: reading.on ?? [], off: reading.off ?? [], remarks };
}

function derived(
  bench: Bench,
  ids: readonly string[],
  quantity: QuantityName,
  counted?: Counted,
): Estimate | undefined {
  const { record } = bench;
  const parts = ids.map((id) => record.parts.find((part) => part.id === id));
  const joints = ids.map((id) => record.joints.find((joint) => joint.id === id));
  if (quantity === "count" && joints.every((joint) => joint !== undefined)) {
    return estimate(
      joints.reduce((sum, joint) => sum + (joint.count ?? 1), 0),
      "1",
    );
  }
  if (quantity === "count" && counted !== undefined) {
    const all = ids.includes("device");
    if (counted === "part" && all) return estimate(record.parts.length, "1");
    const held = record.joints.filter((joint) => all || joint.holds.some((id) => ids.includes(id)));
    const kinds = held.filter((joint) => counted === "joint" || joint.kind === counted);
    if (counted !== "part")
      return estimate(
        kinds.reduce((sum, joint) => sum + (joint.count ?? 1), 0),
        "1",
      );
  }
  const { cell } = record.device;
  const isCell = ids.includes("device") || (parts.length > 0 && parts.every((part) => part?.role === "battery"));
  if (cell !== undefined && isCell) {
    const capacity = convert(cell.capacity.value, cell.capacity.unit, "mAh");
    // As printed: exact as a printed figure, and said to be one by restsOn being empty.
    if (quantity === "capacity") return estimate(capacity, "mAh");
    if (quantity === "voltage") return estimate(convert(cell.voltage.value, cell.voltage.unit, "V"), "V");
    if (quantity === "energy")
      return estimate((capacity * convert(cell.voltage.value, cell.voltage.unit, "V")) / 1000, "Wh");
  }
  if (parts.some((part) => part === undefined)) return undefined;
  if (quantity === "area") {
    const areas = parts.map((part) => areaOf(part!));
    return areas.every((area) => area !== undefined) ? add(...areas) : undefined;
  }
  if (quantity === "mass") {
    const whole = [...new Set(ids.flatMap((id) => withInside(record.parts, id)))];
    const weighed = bench.figures
      .filter(({ reading }) => reading.quantity === "mass" && !reading.of.includes("device"))
      .map(({ reading, figure }) => ({ figure, set: heldBy(record, reading).set }));
    const { chosen, left } = coverOf(whole, weighed);
    if (left.length === 0 && chosen.length > 0) return add(...chosen.map((one) => one.figure));
  }
  return undefined;
}

export interface Comparand {
  readonly side: Found;
  /** True where it belongs to the other device. */
  readonly sibling: boolean;
}

/** What `than` names. Undefined where the claim names nothing. */
export function comparand(
  claim: Claim,
  quantity: QuantityName,
  bench: Bench,
  sibling: Bench | undefined,
): Comparand | undefined {
  const { than } = claim;
  if (than === undefined) return undefined;
  const counted = countedIn(claim.text);
  const own = (ids: readonly string[]): Comparand => ({
    side: sideOf(bench, ids, quantity, "", counted),
    sibling: false,
  });
  if (than === "device") return own(["device"]);
  if (bench.record.parts.some((part) => part.id === than) || bench.record.joints.some((joint) => joint.id === than)) {
    return own([than]);
  }
  if (than !== "sibling" && !than.startsWith("sibling:")) {
    return { side: { missing: `"${than}" is words, not a part of either record` }, sibling: false };
  }
  const named = than === "sibling" ? undefined : than.slice("sibling:".length);
  const sheet = claim.published
    ? fromElsewhere(bench, named === undefined ? claim.subject : [named], quantity)
    : undefined;
  if (sheet !== undefined && !("missing" in sheet)) return { side: sheet, sibling: true };
  if (sibling === undefined)
    return { side: fromElsewhere(bench, named === undefined ? claim.subject : [named], quantity), sibling: true };
  const ids =
    named === undefined
      ? counterparts(bench.record, sibling.record, claim.subject)
      : [partThere(sibling.record, named)];
  const lost = ids.indexOf(undefined);
  if (lost >= 0) {
    const what = named ?? nameOf(bench.record, [claim.subject[lost]!]);
    return {
      side: { missing: `${sibling.record.device.name} has no part that corresponds to ${what}` },
      sibling: true,
    };
  }
  const whole = ids.length === 1 && ids[0] === "device";
  return {
    side: sideOf(sibling, ids as string[], quantity, whole ? "" : ` of ${sibling.record.device.name}`, counted),
    sibling: true,
  };
}

/** Figures that were noted in this record for the other device. */
function fromElsewhere(bench: Bench, ids: readonly string[], quantity: QuantityName): Found {
  const found = best(
    bench.elsewhere.filter(
      ({ reading }) =>
        reading.record === bench.record.sibling && reading.quantity === quantity && sameSet(reading.of, ids),
    ),
  );
  return found === undefined
    ? { missing: "the sibling's record is not at hand" }
    : ofReading(found, `${nameOf(bench.record, ids)} of the sibling`);
}

/** The same things in the other record. */
export function counterparts(
  record: TeardownRecord,
  other: TeardownRecord,
  ids: readonly string[],
): (string | undefined)[] {
  const { pairs } = matchParts(record, other);
  return ids.map((id) => {
    if (id === "device") return "device";
    return (
      pairs.find((pair) => pair.a === id)?.b ??
      other.parts.find((part) => part.id === id)?.id ??
      other.joints.find((joint) => joint.id === id)?.id
    );
  });
}

function partThere(other: TeardownRecord, named: string): string | undefined {
  if (named === "device") return named;
  return (
    other.parts.find((part) => part.id === named)?.id ??
    other.joints.find((joint) => joint.id === named)?.id ??
    other.parts.find((part) => plainName(part.name) === plainName(named))?.id
  );
}

/** "the battery", "the battery and the coil", "the <device>". */
export function nameOf(record: TeardownRecord, ids: readonly string[]): string {
  const names = ids.map((id) => {
    if (id === "device") return record.device.name;
    const part = record.parts.find((one) => one.id === id);
    if (part !== undefined) return `the ${uncapital(part.name.replace(/^the /i, ""))}`;
    return record.joints.some((joint) => joint.id === id) ? `joint ${id}` : id;
  });
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;
}

/** Small first letter within a sentence; abbreviations keep theirs. */
function uncapital(name: string): string {
  return /^\p{Lu}\p{Ll}/u.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;
}

export function sameSet(a: readonly string[], b: readonly string[]): boolean {
  return new Set(a).size === new Set([...a, ...b]).size && new Set(b).size === new Set(a).size;
}

/** In what the two sides differ that was on or off; empty where they are alike. */
export function unlike(a: Side, b: Side, otherToOwn: (id: string) => string): string[] {
  const list = (side: Side, map: (id: string) => string) =>
    new Set([...side.on.map((id) => `on ${map(id)}`), ...side.off.map((id) => `off ${map(id)}`)]);
  const left = list(a, (id) => id);
  const right = list(b, otherToOwn);
  return [
    ...[...left].filter((entry) => !right.has(entry)).map((entry) => `${a.name}: ${entry}`),
    ...[...right].filter((entry) => !left.has(entry)).map((entry) => `${b.name}: ${entry}`),
  ];
}
