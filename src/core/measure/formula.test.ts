import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { alongLine, compileFormula, parseFormula } from "./formula.ts";

const value = (text: string, inputs: Record<string, number> = {}) =>
  compileFormula(parseFormula(text, Object.keys(inputs)))(Object.values(inputs));

describe("formulae", () => {
  it("bind as mathematics does", () => {
    expect(value("2 + 3*4^2/8 - 1")).toBe(7);
    expect(value("-a^2", { a: 3 })).toBe(-9);
    expect(value("2^3^2")).toBe(512);
    expect(value("2**-1")).toBe(0.5);
    expect(value("8/4/2")).toBe(1);
    expect(value("--3 - -2")).toBe(5);
    expect(value("1.5e-3*2E3 + .5")).toBe(3.5);
    expect(value("hypot(3, 4) + max(1, 2, 3) + sqrt(abs(-4))")).toBe(10);
    expect(value("sin(pi/2) + log(exp(2)) + log10(1000)")).toBeCloseTo(6, 12);
    expect(value("α·t₀ − 1".replace("₀", "0"), { α: 2, t0: 3 })).toBe(5);
  });

  it.each([
    ["", /nothing/],
    ["a +", /the end of the formula/],
    ["a b", /"b" at character 3, expected an operator/],
    ["(a", /expected "\)"/],
    ["a; b", /";/],
    ["frobnicate(a)", /expected a function/],
    ["sqrt(a, b)", /1 argument for sqrt/],
    ["lenght", /nearest: length/],
    ["constructor(a)", /expected a function/],
    ["a = b", /"=/],
  ])("refuse %j and say where", (text, message) => {
    expect(() => parseFormula(text, ["a", "b", "length"])).toThrow(message);
  });

  it("refuse what would exhaust the stack", () => {
    expect(() => parseFormula(`${"(".repeat(5000)}a${")".repeat(5000)}`, ["a"])).toThrow(/levels/);
    expect(() => parseFormula(`a^${"a^".repeat(500)}a`, ["a"])).toThrow(/levels/);
    expect(() => parseFormula("a+".repeat(20000), ["a"])).toThrow(/at most/);
  });

  it("have the derivatives of the textbook, to third order", () => {
    const taylor = (text: string, x: number) => alongLine(parseFormula(text, ["x"]), [x], [1], 3);
    const close = (found: number[], wanted: number[]) => wanted.forEach((w, k) => expect(found[k]).toBeCloseTo(w, 11));
    close(taylor("exp(2*x)", 0), [1, 2, 2, 4 / 3]);
    close(taylor("log(1 + x)", 0), [0, 1, -1 / 2, 1 / 3]);
    close(taylor("sin(x)", 0), [0, 1, 0, -1 / 6]);
    close(taylor("cos(x)", 0), [1, 0, -1 / 2, 0]);
    close(taylor("tan(x)", 0), [0, 1, 0, 1 / 3]);
    close(taylor("atan(x)", 0), [0, 1, 0, -1 / 3]);
    close(taylor("asin(x)", 0), [0, 1, 0, 1 / 6]);
    close(taylor("acos(x)", 0), [Math.PI / 2, -1, 0, -1 / 6]);
    close(taylor("tanh(x)", 0), [0, 1, 0, -1 / 3]);
    close(taylor("sinh(x)", 0), [0, 1, 0, 1 / 6]);
    close(taylor("cosh(x)", 0), [1, 0, 1 / 2, 0]);
    close(taylor("sqrt(1 + x)", 0), [1, 1 / 2, -1 / 8, 1 / 16]);
    close(taylor("1/(1 - x)", 0), [1, 1, 1, 1]);
    close(taylor("x^3", 0), [0, 0, 0, 1]);
    close(taylor("(1 + x)^x", 0), [1, 0, 1, -1 / 2]);
    close(taylor("abs(x)", -2), [2, -1, 0, 0]);
    close(taylor("atan2(x, 1)", 0), [0, 1, 0, -1 / 3]);
    close(taylor("atan2(1, x)", 0), [Math.PI / 2, -1, 0, 1 / 3]);
  });

  it("have the slope that small steps show, for any mixture", () => {
    const forms = [
      "a*sin(b)/(1 + a^2)",
      "sqrt(a^2 + b^2)*exp(-b)",
      "log(a + 3)*tan(b/4) - a^b",
      "hypot(a, b)/max(a, b + 9)",
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...forms),
        fc.double({ min: 0.2, max: 3, noNaN: true }),
        fc.double({ min: 0.2, max: 3, noNaN: true }),
        (text, a, b) => {
          const formula = parseFormula(text, ["a", "b"]);
          const f = compileFormula(formula);
          const h = 1e-5;
          const slope = (f([a + h, b + 2 * h]) - f([a - h, b - 2 * h])) / (2 * h);
          expect(alongLine(formula, [a, b], [1, 2], 1)[1]).toBeCloseTo(slope, 5);
        },
      ),
    );
  });
});
