/** Records from files: read, brought up to the present format, checked. */
import { readdir } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { type Fault, InputError, InputFaults } from "../core/errors.ts";
import { type RecordCheck, type RecordWarning, type TeardownRecord, upgrade } from "../core/record/index.ts";
import { examineRecord } from "../core/structure/index.ts";
import type { Context } from "./command.ts";
import { isYaml, readDocument } from "./read-document.ts";

/** A record refused, with its warnings too, so that every command can say what `check` says. */
export class FaultyRecord extends InputFaults {
  readonly warnings: readonly RecordWarning[];

  constructor(faults: readonly Fault[], warnings: readonly RecordWarning[]) {
    super(faults);
    this.name = "FaultyRecord";
    this.warnings = warnings;
  }
}

/** The record in a file. @throws FaultyRecord, or InputError when the file cannot be read at all */
export async function readRecord(context: Pick<Context, "cwd">, path: string): Promise<TeardownRecord> {
  const check = await inspectRecord(context, path);
  if (!check.ok) throw new FaultyRecord(check.faults, check.warnings);
  return check.record;
}

/** What a file holds, with all its faults and warnings. @throws InputError when it cannot be read at all */
export async function inspectRecord(context: Pick<Context, "cwd">, path: string): Promise<RecordCheck> {
  const { read, value, faults } = await readDocument(context, path);
  if (!read) return { ok: false, faults, warnings: [] };
  const examined = examineRecord(upgrade(value));
  const check = examined.ok ? examined : { ...examined, faults: examined.faults.map((one) => named(one, value)) };
  if (faults.length === 0) return check;
  // What the reader has already said about a place (NaN, a key twice) is not said again by the check.
  const said = new Set(faults.map((fault) => fault.path));
  const others = check.faults.filter((fault) => !said.has(fault.path));
  return { ok: false, faults: [...faults, ...others], warnings: check.warnings };
}

/** A fault in a reading says which one by its id too: nobody counts to readings[57]. */
function named(fault: Fault, value: unknown): Fault {
  const place = /^readings\[(\d+)\]/.exec(fault.path)?.[1];
  if (place === undefined) return fault;
  const id = (value as { readings?: readonly { id?: unknown }[] } | null)?.readings?.[Number(place)]?.id;
  return typeof id === "string" ? { ...fault, found: `${fault.found} (reading ${id})` } : fault;
}

/**
 * The sibling's record: the file given by `--beside`, else the record with the sibling's id among the files of the same
 * folder, else in the workspace. Undefined where the record names none or none is found.
 *
 * @throws FaultyRecord, InputError for the file given by `--beside`; a faulty one found by itself is noted and left out
 */
export async function findSibling(
  context: Context,
  path: string,
  record: TeardownRecord,
  beside?: string,
): Promise<TeardownRecord | undefined> {
  if (beside !== undefined) return readRecord(context, beside);
  if (record.sibling === undefined) return undefined;
  return (await besideIt(context, path, record.sibling)) ?? (await inWorkspace(context, record.sibling));
}

async function besideIt(context: Context, path: string, id: string): Promise<TeardownRecord | undefined> {
  const folder = dirname(resolve(context.cwd, path));
  const names = await readdir(folder).catch(() => []);
  for (const name of names.sort()) {
    if (!isYaml(name) && !/\.json$/i.test(name)) continue;
    const other = join(folder, name);
    if (other === resolve(context.cwd, path)) continue;
    try {
      const { value } = await readDocument(context, other);
      if ((value as { id?: unknown } | null | undefined)?.id !== id) continue;
      return await readRecord(context, other);
    } catch (error) {
      if (!(error instanceof InputError || error instanceof InputFaults)) continue;
      if (error instanceof FaultyRecord) context.stderr(`The sibling's record ${other} has faults and is left out.\n`);
    }
  }
  return undefined;
}

async function inWorkspace(context: Context, id: string): Promise<TeardownRecord | undefined> {
  const { openExistingWorkspace } = await import("./workspace.ts");
  const store = await openExistingWorkspace(context);
  if (store === undefined) return undefined;
  try {
    return (await store.load(id))?.record;
  } finally {
    await store.close();
  }
}
