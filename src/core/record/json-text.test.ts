import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lineAndColumn, readJson } from "./json-text.ts";

describe("readJson", () => {
  it("reads what JSON.parse reads, as JSON.parse reads it", () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(0, 2), (value, indent) => {
        const text = JSON.stringify(value, null, indent);
        expect(readJson(text)).toEqual({ read: true, value: JSON.parse(text), faults: [] });
      }),
    );
  });

  it("refuses every text that JSON.parse refuses", () => {
    const alphabet = fc.constantFrom(...'{}[]",:\\0123eE+-.tru nflas\n\u0007é');
    fc.assert(
      fc.property(fc.string({ unit: alphabet, maxLength: 14 }), (text) => {
        let parses = true;
        try {
          JSON.parse(text);
        } catch {
          parses = false;
        }
        const reading = readJson(text);
        expect(reading.read && !reading.faults.some((fault) => /finite/.test(fault.expected))).toBe(parses);
      }),
      { numRuns: 3000 },
    );
  });

  it.each([
    ['{"a": [1, 2', "a", "the end of the text at line 1, column 12", '"," or "]"'],
    ['{\n  "parts": [\n    { "id": "x" \n', "parts[0]", "the end of the text at line 4, column 1", '"," or "}"'],
    ['{"a": 01}', "a", '"01" at line 1, column 7', "a JSON number such as 12.5"],
    ["{\"a\": 'x'}", "a", '"\'" at line 1, column 7', "a JSON value"],
    ['{"a": 1,}', "", '"}" at line 1, column 9', "a key in double quotes"],
    ['["a', "[0]", "a text that does not end at line 1, column 2", 'a closing "'],
    ["", "", "the end of the text at line 1, column 1", "a JSON value"],
    ["[1] 2", "", '"2" at line 1, column 5', "the end of the file"],
    ["<html>", "", '"<" at line 1, column 1', "a JSON value"],
  ])("says where %j stumbles", (text, path, found, expected) => {
    expect(readJson(text)).toEqual({ read: false, value: undefined, faults: [{ path, found, expected }] });
  });

  it("collects keys given twice and numbers that are not finite, and reads on", () => {
    const reading = readJson('{"a": NaN, "b": [1e999, -Infinity], "a": 2}');
    expect(reading.read).toBe(true);
    expect(reading.faults.map((fault) => fault.path)).toEqual(["a", "b[0]", "b[1]", "a"]);
    expect(reading.faults[3].found).toBe('the key "a" a second time at line 1, column 37');
  });

  it("passes over a byte order mark", () => {
    expect(readJson("\ufeff[1]").value).toEqual([1]);
  });

  it("survives a nesting that would exhaust the stack", () => {
    const reading = readJson("[".repeat(1_000_000));
    expect(reading.faults[0].expected).toBe("at most 200 levels of nesting");
  });

  it("keeps __proto__ a key like any other", () => {
    const { value } = readJson('{"__proto__": {"polluted": true}}');
    expect(Object.keys(value as object)).toEqual(["__proto__"]);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });
});

it("counts lines and columns from 1", () => {
  expect(lineAndColumn("ab\ncd\n", 0)).toEqual({ line: 1, column: 1 });
  expect(lineAndColumn("ab\ncd\n", 4)).toEqual({ line: 2, column: 2 });
  expect(lineAndColumn("ab\ncd\n", 6)).toEqual({ line: 3, column: 1 });
});
