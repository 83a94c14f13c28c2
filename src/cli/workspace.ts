/** Where the workspace is: the folder given by `--data`, else by UNSEAM_DATA, else the package's `.unseam`. */
import { resolve } from "node:path";
import type { Store } from "../store/index.ts";
import { hasWorkspace, openSqliteStore } from "../store/sqlite/open.ts";
import type { Context } from "./command.ts";
import { packageFile } from "./package-folder.ts";

export function dataFolder(context: Pick<Context, "cwd">, given?: string): string {
  const stated = given ?? process.env.UNSEAM_DATA;
  return stated === undefined || stated === "" ? packageFile(".unseam") : resolve(context.cwd, stated);
}

/** Opens the workspace, making it where there is none. @throws InputError, DriverMissing */
export function openWorkspace(folder: string): Promise<Store> {
  return openSqliteStore(folder, { now: () => new Date().toISOString() });
}

/** The workspace where there is one already; asking for a record must not make a database. */
export async function openExistingWorkspace(context: Pick<Context, "cwd">): Promise<Store | undefined> {
  const folder = dataFolder(context);
  return hasWorkspace(folder) ? openWorkspace(folder) : undefined;
}
