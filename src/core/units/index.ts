/** Quantities and units: the closed list of the record, exact conversion between units of one dimension. */
export * from "./units.ts";
