/** Quantities and units: the closed list of the record, exact conversion between units of one dimension. */
export * from "./clock.ts";
export * from "./units.ts";
