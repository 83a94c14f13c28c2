/**
 * Readings that type themselves: text from fingers, from instruments that act as a keyboard and from serial lines.
 *
 * In: text. Out: values with their units, or what was found and expected. Nothing is guessed: "1,234 g" is asked about,
 * a value that still moves is not a reading, a line that never ends is given up.
 */
export { type NextReading, nextReadings } from "./next-readings.ts";
export { LONGEST_LINE, type SerialLine, serialLine } from "./serial-line.ts";
export { SAME, type SerialEvent, type SerialReader, serialReader } from "./serial-reader.ts";
export { type TypedExpectation, type TypedQuantity, typedQuantity, writtenUnit } from "./typed-quantity.ts";
