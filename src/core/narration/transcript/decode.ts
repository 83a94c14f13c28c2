import { InputError } from "../../errors.ts";

export interface Decoded {
  readonly text: string;
  readonly encoding: "utf-8" | "utf-16le" | "utf-16be" | "windows-1252";
  /** Set where the encoding had to be guessed. */
  readonly warning?: string;
}

/** How much of a file is looked at to tell UTF-16 without a byte order mark from other text. */
const SAMPLE = 4096;

/**
 * Bytes to text: UTF-8, or UTF-16 by its byte order mark or, where that is missing, by every other byte being zero.
 * Anything that is not UTF-8 is read as Windows-1252 (which holds Latin-1), with a warning.
 *
 * Throws `InputError` for a file that is no text.
 */
export function decodeText(bytes: Uint8Array): Decoded {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return { text: utf16(bytes.subarray(2), true), encoding: "utf-16le" };
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return { text: utf16(bytes.subarray(2), false), encoding: "utf-16be" };
  const guessed = guessUtf16(bytes);
  if (guessed !== null)
    return {
      text: utf16(bytes, guessed === "utf-16le"),
      encoding: guessed,
      warning: `no byte order mark; read as ${guessed.toUpperCase()} because every other byte is zero`,
    };
  const start = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf ? 3 : 0;
  const body = bytes.subarray(start);
  try {
    return {
      text: refuseBinary(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(body)),
      encoding: "utf-8",
    };
  } catch (error) {
    if (error instanceof InputError) throw error;
    const line = firstFaultyLine(body);
    return {
      text: refuseBinary(new TextDecoder("windows-1252").decode(body)),
      encoding: "windows-1252",
      warning: `line ${line} is not UTF-8; the file was read as Windows-1252 (Latin-1): save it as UTF-8 if signs look wrong`,
    };
  }
}

function guessUtf16(bytes: Uint8Array): "utf-16le" | "utf-16be" | null {
  const size = Math.min(bytes.length, SAMPLE) & ~1;
  if (size < 8) return null;
  let even = 0;
  let odd = 0;
  for (let index = 0; index < size; index += 2) {
    if (bytes[index] === 0) even += 1;
    if (bytes[index + 1] === 0) odd += 1;
  }
  const half = size / 2;
  if (odd > 0.7 * half && even < 0.05 * half) return "utf-16le";
  if (even > 0.7 * half && odd < 0.05 * half) return "utf-16be";
  return null;
}

/** Decoded by hand for both orders, because big-endian is not offered by every runtime. */
function utf16(bytes: Uint8Array, littleEndian: boolean): string {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const pieces: string[] = [];
  const codes: number[] = [];
  for (let index = 0; index + 1 < bytes.length; index += 2) {
    codes.push(view.getUint16(index, littleEndian));
    if (codes.length === 8192) pieces.push(String.fromCharCode(...codes.splice(0)));
  }
  pieces.push(String.fromCharCode(...codes));
  return refuseBinary(pieces.join(""));
}

function refuseBinary(text: string): string {
  const sample = text.slice(0, 65_536);
  let control = 0;
  for (let index = 0; index < sample.length; index += 1) {
    const code = sample.charCodeAt(index);
    if (code === 0 || (code < 32 && code !== 9 && code !== 10 && code !== 13 && code !== 12)) control += 1;
  }
  if (control > 0 && control > sample.length / 200)
    throw new InputError({
      path: "line 1",
      found: "bytes that are no text",
      expected: "a transcript as text: WebVTT, SubRip, text with a clock at the start of its lines, or plain text",
    });
  return text.includes("\u0000") ? text.replaceAll("\u0000", "") : text;
}

function firstFaultyLine(bytes: Uint8Array): number {
  let line = 1;
  let start = 0;
  const strict = new TextDecoder("utf-8", { fatal: true });
  for (let index = 0; index <= bytes.length; index += 1) {
    if (index < bytes.length && bytes[index] !== 10) continue;
    try {
      strict.decode(bytes.subarray(start, index));
    } catch {
      return line;
    }
    line += 1;
    start = index + 1;
  }
  return 1;
}
