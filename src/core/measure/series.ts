/**
 * Truncated Taylor series in one variable: automatic differentiation to any low order.
 *
 * A series is the array of its coefficients c0 + c1 t + c2 t² + …; the recurrences are those of
 * Griewank & Walther, Evaluating Derivatives (2nd ed. 2008), table 13.2. A derivative that does not exist
 * comes out as NaN or Infinity, which the caller reports.
 */
export type Series = number[];

export function constant(value: number, order: number): Series {
  const s = new Array<number>(order + 1).fill(0);
  s[0] = value;
  return s;
}

export function add(a: Series, b: Series): Series {
  return a.map((v, k) => v + b[k]!);
}

export function subtract(a: Series, b: Series): Series {
  return a.map((v, k) => v - b[k]!);
}

export function scale(a: Series, factor: number): Series {
  return a.map((v) => v * factor);
}

export function multiply(a: Series, b: Series): Series {
  return a.map((_, k) => {
    let sum = 0;
    for (let j = 0; j <= k; j++) sum += a[j]! * b[k - j]!;
    return sum;
  });
}

export function divide(a: Series, b: Series): Series {
  const q: Series = [];
  for (let k = 0; k < a.length; k++) {
    let sum = a[k]!;
    for (let j = 1; j <= k; j++) sum -= b[j]! * q[k - j]!;
    q.push(sum / b[0]!);
  }
  return q;
}

export function exp(a: Series): Series {
  const e: Series = [Math.exp(a[0]!)];
  for (let k = 1; k < a.length; k++) {
    let sum = 0;
    for (let j = 1; j <= k; j++) sum += j * a[j]! * e[k - j]!;
    e.push(sum / k);
  }
  return e;
}

export function log(a: Series): Series {
  const l: Series = [Math.log(a[0]!)];
  for (let k = 1; k < a.length; k++) {
    let sum = 0;
    for (let j = 1; j < k; j++) sum += j * l[j]! * a[k - j]!;
    l.push((a[k]! - sum / k) / a[0]!);
  }
  return l;
}

function isConstant(a: Series): boolean {
  return a.every((v, k) => k === 0 || v === 0);
}

/** a^r for a constant r; whole powers by multiplication, so that a base of zero or below is no trouble. */
function powerConstant(a: Series, r: number): Series {
  if (isConstant(a)) return constant(a[0]! ** r, a.length - 1);
  if (Number.isInteger(r) && Math.abs(r) <= 64) {
    let result = constant(1, a.length - 1);
    for (let i = 0; i < Math.abs(r); i++) result = multiply(result, a);
    return r < 0 ? divide(constant(1, a.length - 1), result) : result;
  }
  const p: Series = [a[0]! ** r];
  for (let k = 1; k < a.length; k++) {
    let sum = 0;
    for (let j = 1; j <= k; j++) sum += (r * j - (k - j)) * a[j]! * p[k - j]!;
    p.push(sum / (k * a[0]!));
  }
  return p;
}

export function power(a: Series, b: Series): Series {
  return isConstant(b) ? powerConstant(a, b[0]!) : exp(multiply(b, log(a)));
}

export function sqrt(a: Series): Series {
  return powerConstant(a, 0.5);
}

function sinCos(a: Series): readonly [Series, Series] {
  const s: Series = [Math.sin(a[0]!)];
  const c: Series = [Math.cos(a[0]!)];
  for (let k = 1; k < a.length; k++) {
    let up = 0;
    let down = 0;
    for (let j = 1; j <= k; j++) {
      up += j * a[j]! * c[k - j]!;
      down += j * a[j]! * s[k - j]!;
    }
    s.push(up / k);
    c.push(-down / k);
  }
  return [s, c];
}

export function sin(a: Series): Series {
  return sinCos(a)[0];
}

export function cos(a: Series): Series {
  return sinCos(a)[1];
}

/** The series with the value given and the derivative a'·slope, where slope is a series too. */
function integrate(value: number, a: Series, slope: Series): Series {
  const result: Series = [value];
  for (let k = 1; k < a.length; k++) {
    let sum = 0;
    for (let j = 1; j <= k; j++) sum += j * a[j]! * slope[k - j]!;
    result.push(sum / k);
  }
  return result;
}

const unit = (a: Series) => constant(1, a.length - 1);

export function atan(a: Series): Series {
  return integrate(Math.atan(a[0]!), a, divide(unit(a), add(unit(a), multiply(a, a))));
}

export function atan2(y: Series, x: Series): Series {
  const value = Math.atan2(y[0]!, x[0]!);
  // The angle of the quotient that stays finite differs by a constant only.
  const turned = Math.abs(x[0]!) >= Math.abs(y[0]!) ? atan(divide(y, x)) : scale(atan(divide(x, y)), -1);
  return turned.map((v, k) => (k === 0 ? value : v));
}

export function asin(a: Series): Series {
  return integrate(Math.asin(a[0]!), a, divide(unit(a), sqrt(subtract(unit(a), multiply(a, a)))));
}

export function acos(a: Series): Series {
  return scale(asin(a), -1).map((v, k) => (k === 0 ? Math.acos(a[0]!) : v));
}

export function tanh(a: Series): Series {
  const e = exp(scale(a, 2));
  if (!Number.isFinite(e[0]!)) return constant(1, a.length - 1);
  return divide(subtract(e, unit(a)), add(e, unit(a))).map((v, k) => (k === 0 ? Math.tanh(a[0]!) : v));
}

/** At zero the modulus has no derivative: NaN. */
export function abs(a: Series): Series {
  if (a[0] === 0) return a.map((v, k) => (k === 0 ? 0 : v === 0 ? 0 : Number.NaN));
  return a[0]! < 0 ? scale(a, -1) : a;
}
