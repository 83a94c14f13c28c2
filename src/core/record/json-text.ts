/**
 * A strict JSON reader (RFC 8259) that says where it stumbled, and that finds what `JSON.parse` lets pass: a key given
 * twice, of which the first would be lost without a word, and NaN and Infinity, which are told apart from other typing
 * errors. These are collected and reading goes on; any other fault ends it.
 *
 * Linear in the text; nesting is limited so that no input can exhaust the stack.
 */
import type { Fault } from "../errors.ts";
import { pathText } from "./schema-faults.ts";

export interface JsonReading {
  /** False where the text could not be read to its end; then `value` is undefined. */
  readonly read: boolean;
  readonly value: unknown;
  readonly faults: readonly Fault[];
}

const DEPTH = 200;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /[-+]?[A-Za-z_][\w]*/y;
const ESCAPES: Readonly<Record<string, string>> = {
  '"': '"',
  "\\": "\\",
  "/": "/",
  b: "\b",
  f: "\f",
  n: "\n",
  r: "\r",
  t: "\t",
};

/** Reads JSON text. Never throws. A byte order mark at the beginning is passed over. */
export function readJson(text: string): JsonReading {
  const reader = new Reader(text);
  try {
    const value = reader.document();
    return { read: true, value, faults: reader.faults };
  } catch (error) {
    if (!(error instanceof Stumble)) throw error;
    return { read: false, value: undefined, faults: [...reader.faults, reader.faultAt(error)] };
  }
}

/** Line and column, both from 1, of a position in a text. */
export function lineAndColumn(text: string, position: number): { line: number; column: number } {
  let line = 1;
  let start = 0;
  for (let end = text.indexOf("\n"); end >= 0 && end < position; end = text.indexOf("\n", start)) {
    line += 1;
    start = end + 1;
  }
  return { line, column: position - start + 1 };
}

class Stumble extends Error {
  readonly position: number;
  readonly found: string;
  readonly expected: string;

  constructor(position: number, found: string, expected: string) {
    super(expected);
    this.position = position;
    this.found = found;
    this.expected = expected;
  }
}

class Reader {
  readonly faults: Fault[] = [];
  private readonly text: string;
  private position = 0;
  private readonly path: (string | number)[] = [];

  constructor(text: string) {
    this.text = text;
    if (text.charCodeAt(0) === 0xfeff) this.position = 1;
  }

  document(): unknown {
    const value = this.value();
    this.space();
    if (this.position < this.text.length) throw this.stumble("the end of the file");
    return value;
  }

  faultAt(stumble: Stumble): Fault {
    return {
      path: pathText(this.path),
      found: `${stumble.found} at ${this.place(stumble.position)}`,
      expected: stumble.expected,
    };
  }

  private place(position: number): string {
    const { line, column } = lineAndColumn(this.text, position);
    return `line ${line}, column ${column}`;
  }

  private value(): unknown {
    this.space();
    if (this.path.length > DEPTH) throw this.stumble(`at most ${DEPTH} levels of nesting`);
    switch (this.text[this.position]) {
      case "{":
        return this.object();
      case "[":
        return this.array();
      case '"':
        return this.string();
      default:
        return this.scalar();
    }
  }

  private object(): unknown {
    const fields: Record<string, unknown> = {};
    this.position += 1;
    for (let first = true; ; first = false) {
      this.space();
      if (first && this.take("}")) return fields;
      const start = this.position;
      if (this.text[start] !== '"')
        throw this.stumble(first ? 'a key in double quotes or "}"' : "a key in double quotes");
      const key = this.string();
      this.path.push(key);
      if (Object.hasOwn(fields, key)) {
        this.faults.push({
          path: pathText(this.path),
          found: `the key "${key}" a second time at ${this.place(start)}`,
          expected: "every key once",
        });
      }
      this.space();
      if (!this.take(":")) throw this.stumble('":" after the key');
      // Defined, not assigned: a key named __proto__ must not change the object's prototype.
      Object.defineProperty(fields, key, { value: this.value(), writable: true, enumerable: true, configurable: true });
      this.path.pop();
      this.space();
      if (this.take("}")) return fields;
      if (!this.take(",")) throw this.stumble('"," or "}"');
    }
  }

  private array(): unknown[] {
    const items: unknown[] = [];
    this.position += 1;
    this.space();
    if (this.take("]")) return items;
    for (;;) {
      this.path.push(items.length);
      items.push(this.value());
      this.path.pop();
      this.space();
      if (this.take("]")) return items;
      if (!this.take(",")) throw this.stumble('"," or "]"');
    }
  }

  private string(): string {
    const start = this.position;
    this.position += 1;
    let text = "";
    for (;;) {
      text += this.plain();
      const sign = this.text[this.position];
      if (sign === '"') {
        this.position += 1;
        return text;
      }
      if (sign === undefined) throw new Stumble(start, "a text that does not end", 'a closing "');
      if (sign !== "\\") throw this.stumble("no control character or line break inside a text (write \\n)");
      text += this.escape();
    }
  }

  /** Letters up to the next quote, backslash or control character. */
  private plain(): string {
    const start = this.position;
    for (;;) {
      const code = this.text.charCodeAt(this.position);
      if (Number.isNaN(code) || code < 0x20 || code === 0x22 || code === 0x5c) break;
      this.position += 1;
    }
    return this.text.slice(start, this.position);
  }

  private escape(): string {
    const letter = this.text[this.position + 1] ?? "";
    if (letter === "u") {
      const hex = this.text.slice(this.position + 2, this.position + 6);
      if (!/^[0-9a-fA-F]{4}$/.test(hex)) throw this.stumble("four hexadecimal digits after \\u");
      this.position += 6;
      return String.fromCharCode(Number.parseInt(hex, 16));
    }
    const sign = ESCAPES[letter];
    if (sign === undefined) throw this.stumble('one of \\" \\\\ \\/ \\b \\f \\n \\r \\t \\u after a backslash');
    this.position += 2;
    return sign;
  }

  private scalar(): unknown {
    const start = this.position;
    const number = this.match(NUMBER);
    if (number !== undefined && number !== "") {
      const next = this.text[this.position] ?? "";
      if (/[\w.+-]/.test(next)) throw new Stumble(start, this.excerpt(start), "a JSON number such as 12.5");
      const value = Number(number);
      if (!Number.isFinite(value)) this.notFinite(number, start);
      return value;
    }
    const word = this.match(WORD);
    if (word === "true") return true;
    if (word === "false") return false;
    if (word === "null") return null;
    if (word !== undefined && /^[-+]?(nan|inf|infinity)$/i.test(word)) {
      this.notFinite(word, start);
      return Number.NaN;
    }
    this.position = start;
    throw this.stumble("a JSON value");
  }

  private notFinite(found: string, start: number): void {
    this.faults.push({
      path: pathText(this.path),
      found: `${found.slice(0, 40)} at ${this.place(start)}`,
      expected: "a finite number",
    });
  }

  private match(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.position;
    const found = pattern.exec(this.text)?.[0];
    if (found !== undefined) this.position += found.length;
    return found;
  }

  private take(sign: string): boolean {
    if (this.text[this.position] !== sign) return false;
    this.position += 1;
    return true;
  }

  private space(): void {
    for (;;) {
      const code = this.text.charCodeAt(this.position);
      if (code !== 32 && code !== 10 && code !== 13 && code !== 9) return;
      this.position += 1;
    }
  }

  private stumble(expected: string): Stumble {
    return new Stumble(this.position, this.excerpt(this.position), expected);
  }

  private excerpt(position: number): string {
    if (position >= this.text.length) return "the end of the text";
    const word = /^(?:[\w.+-]{1,30}|[\s\S])/u.exec(this.text.slice(position, position + 30))?.[0] ?? "";
    return JSON.stringify(word);
  }
}
