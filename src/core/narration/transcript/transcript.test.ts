import { describe, expect, it } from "vitest";
import { InputError } from "../../errors.ts";
import { clockSeconds, clockText, parseTranscript, readTranscript } from "./index.ts";

const bytes = (text: string) => new TextEncoder().encode(text);
const utf16 = (text: string, little: boolean, mark: boolean) => {
  const codes = [...(mark ? "\ufeff" : ""), ...text].map((sign) => sign.charCodeAt(0));
  return Uint8Array.from(codes.flatMap((code) => (little ? [code & 255, code >> 8] : [code >> 8, code & 255])));
};

describe("forms", () => {
  it("reads WebVTT with header lines, notes, settings, tags and entities", () => {
    const read = parseTranscript(
      "WEBVTT - talk\nKind: captions\n\nNOTE not said\nat all\n\nSTYLE\n::cue { color: red }\n\nintro\n00:01.500 --> 00:04.000 align:start\n<v Nell>Undo the <c.hot>two</c> screws &amp; lift\n<00:00:02.000>the bracket\n\n01:00:00.000 --> 01:00:01.000\nDone.\n",
    );
    expect(read.form).toBe("webvtt");
    expect(read.cues.map((cue) => [cue.at, cue.text])).toEqual([
      [1.5, "Undo the two screws & lift\nthe bracket"],
      [3600, "Done."],
    ]);
    expect(read.warnings).toEqual([]);
  });

  it("reads SubRip with commas, formats, speaker marks, and without numbers or blank lines", () => {
    const read = parseTranscript(
      "1\r\n00:00:01,200 --> 00:00:05,522\r\nANNA: <i>Hello</i>\r\n\r\n2\r\n00:00:06,786 --> 00:00:12,132\r\n{\\an8}- Undo it.\r\n3\r\n00:00:13,000 --> 00:00:14,000\r\n>> Now.\r\n",
    );
    expect(read.form).toBe("subrip");
    expect(read.cues.map((cue) => [cue.at, cue.text])).toEqual([
      [1.2, "Hello"],
      [6.786, "Undo it."],
      [13, "Now."],
    ]);
  });

  it.each([
    ["[0:05] Heat the back.\n[1:02] Pry.\nmore\n[1:01:00] Off.", [5, 62, 3660]],
    ["0:05 Heat the back.\n1:02 Pry.\n1:01:00 Off.", [5, 62, 3660]],
    ["0:05\nHeat the back.\n1:02\nPry.\n1:01:00\nOff.", [5, 62, 3660]],
  ])("reads text with a clock at the start of the line: %j", (text, at) => {
    const read = parseTranscript(text);
    expect(read.form).toBe("clocked");
    expect(read.cues.map((cue) => cue.at)).toEqual(at);
  });

  it("reads text with no clock: times are null", () => {
    const read = parseTranscript("Undo the screws.\n\nLift the cover.\n");
    expect(read.form).toBe("plain");
    expect(read.cues.map((cue) => [cue.at, cue.line])).toEqual([
      [null, 1],
      [null, 3],
    ]);
  });

  it("takes out the repeated lines of rolling captions", () => {
    const read = parseTranscript(
      "WEBVTT\n\n00:01.000 --> 00:02.000\nundo the two screws\n\n00:02.000 --> 00:02.010\nundo the two screws\n\n00:02.010 --> 00:04.000\nundo the two screws\nand lift the bracket\n",
    );
    expect(read.cues.map((cue) => cue.text)).toEqual(["undo the two screws", "and lift the bracket"]);
  });
});

describe("encodings", () => {
  const text = "0:01 The pad is at 60 °C.\n0:05 Done.\n";
  it.each([
    ["UTF-8", bytes(text), false],
    ["UTF-8 with a mark", bytes(`\ufeff${text}`), false],
    ["UTF-16 little-endian with a mark", utf16(text, true, true), false],
    ["UTF-16 big-endian with a mark", utf16(text, false, true), false],
    ["UTF-16 without a mark", utf16(text, true, false), true],
    ["Latin-1", Uint8Array.from([...text].map((sign) => sign.charCodeAt(0))), true],
  ])("%s", (_name, data, warned) => {
    const read = readTranscript(data);
    expect(read.cues[0]!.text).toBe("The pad is at 60 °C.");
    expect(read.warnings.length > 0).toBe(warned);
  });

  it("names the line that is not UTF-8", () => {
    const read = readTranscript(Uint8Array.from([...bytes("0:01 Fine.\n0:02 60 "), 0xb0, ...bytes("C\n")]));
    expect(read.warnings[0]!.text).toContain("line 2");
  });
});

describe("bad input", () => {
  it.each([
    ["nothing", ""],
    ["blanks", " \n \n"],
    ["a header alone", "WEBVTT\n\n"],
    ["JSON", '{"format": "unseam/1"}'],
    ["markup", "<!doctype html><p>Hello</p>"],
    ["zeros and ones", "\u0000\u0001\u0002\u0003\u0000\u0001\u0002\u0003"],
  ])("refuses %s with the line", (_name, text) => {
    expect(() => readTranscript(bytes(text))).toThrow(InputError);
    expect(() => readTranscript(bytes(text))).toThrow(/^line \d+: found .*, expected /);
  });

  it("leaves out a broken cue, reads the rest and names the line", () => {
    const read = parseTranscript(
      "WEBVTT\n\n00:99.000 --> 00:04.000\nlost\n\n00:05.000 --> 00:06.000\nkept\n\nno clock here\n",
    );
    expect(read.cues.map((cue) => cue.text)).toEqual(["kept"]);
    expect(read.warnings.map((one) => one.line)).toEqual([3, 9]);
  });

  it("sorts cues out of order, with a warning; overlapping cues are both read", () => {
    const read = parseTranscript(
      "WEBVTT\n\n00:10.000 --> 00:20.000\nb\n\n00:02.000 --> 00:06.000\na\n\n00:11.000 --> 00:12.000\nc\n",
    );
    expect(read.cues.map((cue) => cue.text)).toEqual(["a", "b", "c"]);
    expect(read.warnings.map((one) => one.line)).toEqual([6, 9]);
  });

  it("says how many faults there were instead of listing thousands", () => {
    const read = parseTranscript(
      `WEBVTT\n\n${"00:99.000 --> 00:99.500\nx\n\n".repeat(5000)}00:01.000 --> 00:02.000\nkept\n`,
    );
    expect(read.warnings.length).toBe(21);
    expect(read.warnings.at(-1)!.text).toContain("4980");
  });
});

describe("clock", () => {
  it("reads and refuses", () => {
    expect(clockSeconds("1:02")).toBe(62);
    expect(clockSeconds("00:01:12.061")).toBe(72.061);
    expect(clockSeconds("1:60")).toBeNull();
    expect(clockSeconds("1:75:00")).toBeNull();
    expect(clockText(3672.061)).toBe("01:01:12.061");
  });
});
