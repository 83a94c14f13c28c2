/**
 * A sheet: what a maker declares for each priority part and the product, without a record behind it (`unseam-sheet/1`).
 *
 * `parseSheet` takes any value and gives the sheet or every fault in it. `steps` leaves the remote ones out; null stands
 * for a part that the device does not have; `spareParts` and `repairInformation` are points, null where no level is met.
 */
import type { Fault } from "../errors.ts";
import { nearest } from "../record/nearest.ts";
import type { PriorityRole } from "../record/schema.ts";
import { foundText } from "../record/schema-faults.ts";
import type { FastenerWord, ToolWord } from "./rules/types.ts";
import { FOLDABLE_ROLES, rolesOf } from "./score.ts";

export const SHEET_FORMAT = "unseam-sheet/1";
export const FASTENER_WORDS = ["reusable", "resupplied", "removable", "destroyed"] as const satisfies FastenerWord[];
export const TOOL_WORDS = [
  "none",
  "basic",
  "with-spare-part",
  "with-product",
  "commercially-available",
  "proprietary",
] as const satisfies ToolWord[];

export interface SheetPart {
  /** Whole, at least 1; remote steps not included. */
  readonly steps: number;
  readonly fastener: FastenerWord;
  readonly tool: ToolWord;
  readonly remote: { readonly notification: boolean; readonly authorisation: boolean };
}

export interface Sheet {
  readonly format: typeof SHEET_FORMAT;
  readonly foldable: boolean;
  /** Instances by role; null: absent. */
  readonly parts: { readonly [role in PriorityRole]?: readonly SheetPart[] | null };
  readonly spareParts: 1 | 2 | 3 | 4 | 5 | null;
  readonly updateYears: number | null;
  readonly repairInformation: 1 | 3 | 5 | null;
}

export type SheetCheck =
  | { readonly ok: true; readonly sheet: Sheet }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** Reads a sheet; all faults at once. Never throws. */
export function parseSheet(value: unknown): SheetCheck {
  const reader = new Reader();
  const sheet = reader.sheet(value);
  return reader.faults.length > 0 || sheet === undefined ? { ok: false, faults: reader.faults } : { ok: true, sheet };
}

type Loose = Record<string, unknown>;

class Reader {
  readonly faults: Fault[] = [];

  sheet(value: unknown): Sheet | undefined {
    const root = this.object("", value, "a sheet (an object)");
    if (root === undefined) return undefined;
    if (root.format !== undefined && root.format !== SHEET_FORMAT)
      this.fault("format", root.format, JSON.stringify(SHEET_FORMAT));
    this.keys("", root, ["format", "foldable", "parts", "spareParts", "updateYears", "repairInformation"], []);
    const foldable = this.flag("foldable", root.foldable, true);
    return {
      format: SHEET_FORMAT,
      foldable,
      parts: this.parts(root.parts, typeof root.foldable === "boolean" ? root.foldable : undefined),
      spareParts: this.oneOf("spareParts", root.spareParts, [1, 2, 3, 4, 5]) as Sheet["spareParts"],
      updateYears: this.years(root.updateYears),
      repairInformation: this.oneOf(
        "repairInformation",
        root.repairInformation,
        [1, 3, 5],
      ) as Sheet["repairInformation"],
    };
  }

  /** @param foldable undefined where it is itself at fault: the hinge is then neither asked for nor refused */
  private parts(value: unknown, foldable: boolean | undefined): Sheet["parts"] {
    if (value === undefined) return {};
    const object = this.object("parts", value, "an object with a key for each priority part");
    if (object === undefined) return {};
    const needed = rolesOf(false);
    this.keys("parts", object, needed, ["hinge"], FOLDABLE_ROLES);
    if (foldable === true && (object.hinge === undefined || object.hinge === null))
      this.fault("parts.hinge", object.hinge, "the hinge: a foldable device has one (or `foldable` is false)");
    if (foldable === false && object.hinge !== undefined && object.hinge !== null)
      this.fault("parts.hinge", object.hinge, "no hinge: the device is said not to fold (or `foldable` is true)");
    const parts: { [role in PriorityRole]?: readonly SheetPart[] | null } = {};
    for (const role of rolesOf(foldable === true)) parts[role] = this.instances(`parts.${role}`, object[role]);
    return parts;
  }

  private instances(path: string, value: unknown): readonly SheetPart[] | null {
    if (value === undefined || value === null) return null;
    if (!Array.isArray(value)) return [this.part(path, value)];
    if (value.length === 0) this.fault(path, value, "at least one instance, or null where the device has none");
    return value.map((item, index) => this.part(`${path}[${index}]`, item));
  }

  private part(path: string, value: unknown): SheetPart {
    const object = this.object(path, value, "an object with steps, fastener and tool") ?? {};
    if (value !== null && typeof value === "object") this.keys(path, object, ["steps", "fastener", "tool"], ["remote"]);
    const { steps } = object;
    if (steps !== undefined && !(typeof steps === "number" && Number.isSafeInteger(steps) && steps >= 1))
      this.fault(`${path}.steps`, steps, "a whole number of steps, at least 1, remote steps left out");
    const remote = object.remote === undefined ? undefined : this.object(`${path}.remote`, object.remote, "an object");
    if (remote !== undefined) this.keys(`${path}.remote`, remote, [], ["notification", "authorisation"]);
    return {
      steps: typeof steps === "number" ? steps : 1,
      fastener: this.word(`${path}.fastener`, object.fastener, FASTENER_WORDS) ?? "destroyed",
      tool: this.word(`${path}.tool`, object.tool, TOOL_WORDS) ?? "proprietary",
      remote: {
        notification: this.flag(`${path}.remote.notification`, remote?.notification, false),
        authorisation: this.flag(`${path}.remote.authorisation`, remote?.authorisation, false),
      },
    };
  }

  private years(value: unknown): number | null {
    if (value === undefined || value === null) return null;
    if (typeof value === "number" && Number.isFinite(value) && value >= 0) return value;
    this.fault("updateYears", value, "a number of years, at least 0 (null: none is guaranteed)");
    return null;
  }

  private oneOf(path: string, value: unknown, points: readonly number[]): number | null {
    if (value === undefined || value === null) return null;
    if (typeof value === "number" && points.includes(value)) return value;
    this.fault(path, value, `the points ${points.join(", ")}, or null where no level is met`);
    return null;
  }

  private word<W extends string>(path: string, value: unknown, words: readonly W[]): W | undefined {
    if (value === undefined) return undefined;
    if (typeof value === "string" && (words as readonly string[]).includes(value)) return value as W;
    const near = typeof value === "string" ? nearest(value, words) : undefined;
    this.fault(path, value, `one of ${words.join(", ")}`, near);
    return undefined;
  }

  private flag(path: string, value: unknown, needed: boolean): boolean {
    if (typeof value === "boolean") return value;
    if (value !== undefined || needed) {
      // A missing key has been reported by `keys` already.
      if (value !== undefined) this.fault(path, value, "true or false");
    }
    return false;
  }

  private object(path: string, value: unknown, expected: string): Loose | undefined {
    if (value !== null && typeof value === "object" && !Array.isArray(value)) return value as Loose;
    this.fault(path, value, expected);
    return undefined;
  }

  private keys(
    path: string,
    object: Loose,
    needed: readonly string[],
    optional: readonly string[],
    known: readonly string[] = [...needed, ...optional],
  ): void {
    const under = (key: string): string => (path === "" ? key : `${path}.${key}`);
    for (const key of needed) {
      if (!Object.hasOwn(object, key)) this.fault(under(key), undefined, `the key ${JSON.stringify(key)}`);
    }
    for (const key of Object.keys(object)) {
      if (known.includes(key)) continue;
      const near = nearest(key, known);
      this.faults.push({
        path: under(key),
        found: `the key ${JSON.stringify(key)}`,
        expected: `one of the keys ${known.join(", ")}`,
        ...(near === undefined ? {} : { nearest: near }),
      });
    }
  }

  private fault(path: string, found: unknown, expected: string, near?: string): void {
    this.faults.push({ path, found: foundText(found), expected, ...(near === undefined ? {} : { nearest: near }) });
  }
}
