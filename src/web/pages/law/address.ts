import { addressOf } from "../../router.ts";

/** The address of another page of the same record. */
export function pageAddress(record: string, page: string, search: Readonly<Record<string, string>>): string {
  return addressOf(["records", record, page], new URLSearchParams(search));
}
