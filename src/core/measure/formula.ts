/**
 * Formulae as text: parsed without `eval`, compiled for fast values, and carried along Taylor series for derivatives.
 *
 * Grammar: sum of products of signed powers; `^` and `**` bind to the right and before the sign (-a^2 is -(a^2));
 * functions by name; `pi` is known unless an input takes the name. Names: a letter or underscore, then letters, digits, underscores.
 */
import type { Fault } from "../errors.ts";
import { InputError } from "../errors.ts";
import { nearest } from "../record/nearest.ts";
import * as series from "./series.ts";

export type Expression =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "name"; readonly index: number }
  | { readonly kind: "sign"; readonly of: Expression }
  | { readonly kind: "operation"; readonly operator: Operator; readonly left: Expression; readonly right: Expression }
  | { readonly kind: "call"; readonly call: keyof typeof CALLS; readonly of: readonly Expression[] };

type Operator = "+" | "-" | "*" | "/" | "^";

interface Call {
  /** Least and greatest number of arguments. */
  readonly takes: readonly [number, number];
  readonly value: (...x: number[]) => number;
  readonly series: (...x: series.Series[]) => series.Series;
}

const one = (value: (x: number) => number, of: (x: series.Series) => series.Series): Call => ({
  takes: [1, 1],
  value,
  series: of,
});

/** Every function that a formula may call. */
const CALLS = {
  sqrt: one(Math.sqrt, series.sqrt),
  exp: one(Math.exp, series.exp),
  log: one(Math.log, series.log),
  ln: one(Math.log, series.log),
  log10: one(Math.log10, (x) => series.scale(series.log(x), Math.LOG10E)),
  log2: one(Math.log2, (x) => series.scale(series.log(x), Math.LOG2E)),
  sin: one(Math.sin, series.sin),
  cos: one(Math.cos, series.cos),
  tan: one(Math.tan, (x) => series.divide(series.sin(x), series.cos(x))),
  asin: one(Math.asin, series.asin),
  acos: one(Math.acos, series.acos),
  atan: one(Math.atan, series.atan),
  sinh: one(Math.sinh, (x) => series.scale(series.subtract(series.exp(x), series.exp(series.scale(x, -1))), 0.5)),
  cosh: one(Math.cosh, (x) => series.scale(series.add(series.exp(x), series.exp(series.scale(x, -1))), 0.5)),
  tanh: one(Math.tanh, series.tanh),
  abs: one(Math.abs, series.abs),
  atan2: { takes: [2, 2], value: Math.atan2, series: series.atan2 },
  hypot: {
    takes: [2, 8],
    value: Math.hypot,
    series: (...x) => series.sqrt(x.map((v) => series.multiply(v, v)).reduce(series.add)),
  },
  pow: { takes: [2, 2], value: (a, b) => a ** b, series: series.power },
  min: { takes: [1, 64], value: Math.min, series: (...x) => x.reduce((a, b) => (b[0]! < a[0]! ? b : a)) },
  max: { takes: [1, 64], value: Math.max, series: (...x) => x.reduce((a, b) => (b[0]! > a[0]! ? b : a)) },
} as const satisfies Record<string, Call>;

/** Longer or deeper formulae are refused, so that a file cannot exhaust the stack. */
const LONGEST = 20_000;
const DEEPEST = 200;

export interface Formula {
  readonly text: string;
  /** Names of the inputs, in the order in which values are handed in. */
  readonly names: readonly string[];
  readonly expression: Expression;
  /** Names that the formula does not use. */
  readonly unused: readonly string[];
}

/**
 * Parses a formula over the inputs named.
 *
 * @throws InputError at `path` naming the character where the text stops being a formula, or the unknown name.
 */
export function parseFormula(text: string, names: readonly string[], path = "model"): Formula {
  if (text.length > LONGEST) {
    throw new InputError({ path, found: `${text.length} characters`, expected: `a formula of at most ${LONGEST}` });
  }
  const index = new Map(names.map((name, i) => [name, i]));
  const used = new Set<string>();
  const tokens = tokenise(text, path);
  let at = 0;
  let depth = 0;

  const fail = (expected: string, more: Partial<Fault> = {}): never => {
    const token = tokens[at];
    const found = token === undefined ? "the end of the formula" : `"${token.text}" at character ${token.at + 1}`;
    throw new InputError({ path, found, expected, ...more });
  };
  const is = (symbol: string) => tokens[at]?.kind === "symbol" && tokens[at]?.text === symbol;
  const take = (symbol: string) => {
    if (!is(symbol)) fail(`"${symbol}"`);
    at++;
  };

  const sum = (): Expression => {
    if (++depth > DEEPEST) fail(`at most ${DEEPEST} levels of brackets and signs`);
    let left = product();
    while (is("+") || is("-")) {
      const operator = tokens[at++]!.text as Operator;
      left = { kind: "operation", operator, left, right: product() };
    }
    depth--;
    return left;
  };
  const product = (): Expression => {
    let left = signed();
    while (is("*") || is("/")) {
      const operator = tokens[at++]!.text as Operator;
      left = { kind: "operation", operator, left, right: signed() };
    }
    return left;
  };
  const signed = (): Expression => {
    let negative = false;
    while (is("-") || is("+")) if (tokens[at++]!.text === "-") negative = !negative;
    const of = power();
    return negative ? { kind: "sign", of } : of;
  };
  const power = (): Expression => {
    const left = atom();
    if (!is("^")) return left;
    at++;
    if (++depth > DEEPEST) fail(`at most ${DEEPEST} levels of brackets and signs`);
    const right = signed();
    depth--;
    return { kind: "operation", operator: "^", left, right };
  };
  const atom = (): Expression => {
    const token = tokens[at];
    if (token === undefined) return fail("a number, an input, a function or a bracket");
    if (token.kind === "number") {
      at++;
      return { kind: "number", value: token.value };
    }
    if (token.kind === "name") {
      if (tokens[at + 1]?.text === "(" && !index.has(token.text)) return call(token.text);
      const i = index.get(token.text);
      if (i !== undefined) {
        at++;
        used.add(token.text);
        return { kind: "name", index: i };
      }
      if (token.text === "pi") {
        at++;
        return { kind: "number", value: Math.PI };
      }
      const close = nearest(token.text, names);
      return fail(
        `one of the inputs ${names.join(", ") || "(none is given)"}`,
        close === undefined ? {} : { nearest: close },
      );
    }
    take("(");
    const inside = sum();
    take(")");
    return inside;
  };
  const call = (name: string): Expression => {
    if (!Object.hasOwn(CALLS, name)) {
      const close = nearest(name, Object.keys(CALLS));
      return fail(`a function: ${Object.keys(CALLS).join(", ")}`, close === undefined ? {} : { nearest: close });
    }
    const [least, most] = CALLS[name as keyof typeof CALLS].takes;
    at++;
    take("(");
    const of = [sum()];
    while (is(",")) {
      at++;
      of.push(sum());
    }
    if (of.length < least || of.length > most) {
      fail(
        `${least === most ? least : `${least} to ${most}`} argument${most === 1 ? "" : "s"} for ${name}, not ${of.length}`,
      );
    }
    take(")");
    return { kind: "call", call: name as keyof typeof CALLS, of };
  };

  const expression = sum();
  if (at < tokens.length) fail("an operator or the end of the formula");
  return { text, names, expression, unused: names.filter((name) => !used.has(name)) };
}

type Token =
  | { readonly kind: "number"; readonly text: string; readonly at: number; readonly value: number }
  | { readonly kind: "name" | "symbol"; readonly text: string; readonly at: number };

const TOKEN =
  /\s*(?:(\d+\.?\d*(?:[eE][+-]?\d+)?|\.\d+(?:[eE][+-]?\d+)?)|([\p{L}_][\p{L}\p{N}_]*)|(\*\*|[-+*/^(),·×−]))/uy;
const SAME: Readonly<Record<string, string>> = { "**": "^", "·": "*", "×": "*", "−": "-" };

function tokenise(text: string, path: string): Token[] {
  const tokens: Token[] = [];
  const end = text.trimEnd().length;
  let at = 0;
  while (at < end) {
    TOKEN.lastIndex = at;
    const match = TOKEN.exec(text);
    if (match === null) {
      const skipped = at + (/^\s*/.exec(text.slice(at))?.[0].length ?? 0);
      throw new InputError({
        path,
        found: `"${text.slice(skipped, skipped + 12)}" at character ${skipped + 1}`,
        expected: "a formula of numbers, inputs, functions, + - * / ^ and round brackets",
      });
    }
    const [whole, number, name, symbol] = match;
    const start = at + whole.length - (number ?? name ?? symbol ?? "").length;
    if (number !== undefined) tokens.push({ kind: "number", text: number, at: start, value: Number(number) });
    else if (name !== undefined) tokens.push({ kind: "name", text: name, at: start });
    else tokens.push({ kind: "symbol", text: SAME[symbol!] ?? symbol!, at: start });
    at += whole.length;
  }
  if (tokens.length === 0) throw new InputError({ path, found: "nothing", expected: 'a formula, such as "m1 - m0"' });
  return tokens;
}

/** The formula as a function of its inputs, for many evaluations. */
export function compileFormula(formula: Formula): (values: ArrayLike<number>) => number {
  const build = (e: Expression): ((v: ArrayLike<number>) => number) => {
    switch (e.kind) {
      case "number": {
        const { value } = e;
        return () => value;
      }
      case "name": {
        const { index } = e;
        return (v) => v[index]!;
      }
      case "sign": {
        const of = build(e.of);
        return (v) => -of(v);
      }
      case "operation": {
        const a = build(e.left);
        const b = build(e.right);
        if (e.operator === "+") return (v) => a(v) + b(v);
        if (e.operator === "-") return (v) => a(v) - b(v);
        if (e.operator === "*") return (v) => a(v) * b(v);
        if (e.operator === "/") return (v) => a(v) / b(v);
        return (v) => a(v) ** b(v);
      }
      case "call": {
        const of = e.of.map(build);
        const { value } = CALLS[e.call] as Call;
        const [first] = of;
        if (of.length === 1) return (v) => value(first!(v));
        return (v) => value(...of.map((f) => f(v)));
      }
    }
  };
  return build(formula.expression);
}

/**
 * Taylor coefficients of t -> f(x + t·direction), up to the order given: exact derivatives along a line.
 */
export function alongLine(
  formula: Formula,
  x: readonly number[],
  direction: readonly number[],
  order: 1 | 2 | 3,
): series.Series {
  const constant = (value: number) => series.constant(value, order);
  const walk = (e: Expression): series.Series => {
    switch (e.kind) {
      case "number":
        return constant(e.value);
      case "name": {
        const s = constant(x[e.index]!);
        s[1] = direction[e.index]!;
        return s;
      }
      case "sign":
        return series.scale(walk(e.of), -1);
      case "operation": {
        const a = walk(e.left);
        const b = walk(e.right);
        if (e.operator === "+") return series.add(a, b);
        if (e.operator === "-") return series.subtract(a, b);
        if (e.operator === "*") return series.multiply(a, b);
        if (e.operator === "/") return series.divide(a, b);
        return series.power(a, b);
      }
      case "call":
        return (CALLS[e.call] as Call).series(...e.of.map(walk));
    }
  };
  return walk(formula.expression);
}
