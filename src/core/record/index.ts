/**
 * The teardown record: schema, what a valid record is, canonical writing and edits.
 *
 * In: any value. Out: a `TeardownRecord`, or every fault in it with the path to the value, what was found, what was
 * expected and the nearest right spelling. A record that has passed `checkRecord` may be trusted everywhere else.
 */
export * from "./check.ts";
export * from "./edits.ts";
export { readJson } from "./json-text.ts";
export { CLOSING, UNDOING } from "./log-actions.ts";
export { meantPart } from "./meant-part.ts";
export { nearest } from "./nearest.ts";
export * from "./schema.ts";
export { foundText, pathText, schemaFaults } from "./schema-faults.ts";
export { emptyRecord, fromSibling } from "./start.ts";
export { upgrade } from "./upgrade.ts";
export { canonical, writeRecord } from "./write.ts";
