import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { corrected, readCorrections, writeCorrections } from "./match.ts";

describe("corrections of a matching", () => {
  it("stand in the address and come back from it", () => {
    const id = fc.stringMatching(/^[a-z][a-z0-9-]{0,8}[a-z0-9]$/);
    fc.assert(
      fc.property(fc.dictionary(id, fc.option(id)), (match) => {
        expect(readCorrections(writeCorrections(match))).toEqual({ ...match });
      }),
    );
  });
  it("give a part of the other device to one part only", () => {
    const first = corrected({}, "coil", "coil-2");
    expect(corrected(first, "foil", "coil-2")).toEqual({ foil: "coil-2" });
    expect(corrected(first, "coil", null)).toEqual({ coil: null });
    expect(corrected({ foil: null }, "coil", null)).toEqual({ foil: null, coil: null });
  });
  it("leave out what is no pair", () => {
    expect(readCorrections("a=b,=c,d,e=,f=g=h,i=-")).toEqual({ a: "b", i: null });
    expect(readCorrections(null)).toEqual({});
    expect(writeCorrections({})).toBeNull();
  });
});
