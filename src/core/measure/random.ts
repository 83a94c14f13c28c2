/**
 * Seeded generator for Monte Carlo work: the same seed gives the same draws on every machine.
 *
 * xoshiro128** (Blackman & Vigna 2018, period 2^128 - 1), seeded through splitmix32 so that near seeds give unlike
 * streams. Normal draws by the polar method (Marsaglia & Bray 1964), gamma by Marsaglia & Tsang (2000).
 */
export interface Random {
  /** Uniform on the open interval (0, 1), 53 bits. */
  readonly uniform: () => number;
  /** Standard normal. */
  readonly normal: () => number;
  /** Student's t with the degrees of freedom given. */
  readonly student: (dof: number) => number;
  /** What turns a standard normal into a t: √(dof/χ²). */
  readonly studentScale: (dof: number) => number;
}

export function seededRandom(seed: number): Random {
  let mix = seed >>> 0;
  // Seeds above 32 bits keep their upper half.
  let upper = Math.floor(Math.abs(seed) / 2 ** 32) >>> 0;
  const splitmix = () => {
    mix = (mix + 0x9e3779b9 + upper) >>> 0;
    upper = Math.imul(upper, 0x85ebca6b) >>> 0;
    let z = mix;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) >>> 0;
  };
  let a = splitmix();
  let b = splitmix();
  let c = splitmix();
  let d = splitmix();
  if ((a | b | c | d) === 0) a = 1;

  const next = () => {
    const x = Math.imul(b, 5);
    const result = Math.imul((x << 7) | (x >>> 25), 9);
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = (d << 11) | (d >>> 21);
    return result >>> 0;
  };
  const uniform = () => ((next() >>> 5) * 67108864 + (next() >>> 6) + 0.5) / 9007199254740992;

  let spare = 0;
  let hasSpare = false;
  const normal = () => {
    if (hasSpare) {
      hasSpare = false;
      return spare;
    }
    for (;;) {
      // 32 bits a side are enough here: the radius takes its digits from both.
      const u = (next() + 0.5) / 2147483648 - 1;
      const v = (next() + 0.5) / 2147483648 - 1;
      const s = u * u + v * v;
      if (s >= 1 || s === 0) continue;
      const f = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * f;
      hasSpare = true;
      return u * f;
    }
  };

  const gamma = (shape: number): number => {
    if (shape < 1) return gamma(shape + 1) * uniform() ** (1 / shape);
    const k = shape - 1 / 3;
    const w = 1 / Math.sqrt(9 * k);
    for (;;) {
      const x = normal();
      const v = (1 + w * x) ** 3;
      if (v > 0 && Math.log(uniform()) < 0.5 * x * x + k - k * v + k * Math.log(v)) return k * v;
    }
  };
  const studentScale = (dof: number) => 1 / Math.sqrt(gamma(dof / 2) / (dof / 2));
  const student = (dof: number) => normal() * studentScale(dof);
  return { uniform, normal, student, studentScale };
}
