/** What has happened so far to the watched faces of a line: peaks, limits passed, seconds counted. */
import type { Span } from "./march.ts";
import { fallsBelow, highest, parabola, risesTo, shareAbove } from "./parabola.ts";
import type { Line } from "./stack.ts";

/** The temperature that a plan keeps a face below: its `plan`, its `stop` where it has no plan. */
export function capOf(watch: { readonly plan?: number; readonly stop?: number }): number | undefined {
  return watch.plan ?? watch.stop;
}

export class Ledger {
  readonly line: Line;
  /** By watch: seconds at which `soft` was first reached, and the cap first passed; NaN: not yet. */
  readonly softAt: Float64Array;
  readonly passedAt: Float64Array;
  /** By watch: highest degC since the heating began and since ever, and seconds above `counted.above`. */
  readonly peak: Float64Array;
  readonly top: Float64Array;
  readonly counted: Float64Array;
  /** By watch: degC now. */
  readonly now: Float64Array;
  /** When the first face that has a `soft` was found below it since `watchSoft`; NaN: all are soft. */
  lostAt = Number.NaN;

  constructor(line: Line, from?: Ledger) {
    const n = line.watch.length;
    this.line = line;
    this.softAt = from?.softAt.slice() ?? new Float64Array(n).fill(Number.NaN);
    this.passedAt = from?.passedAt.slice() ?? new Float64Array(n).fill(Number.NaN);
    this.peak = from?.peak.slice() ?? new Float64Array(n).fill(Number.NEGATIVE_INFINITY);
    this.top = from?.top.slice() ?? new Float64Array(n).fill(Number.NEGATIVE_INFINITY);
    this.counted = from?.counted.slice() ?? new Float64Array(n);
    this.now = from?.now.slice() ?? new Float64Array(n);
    this.lostAt = from?.lostAt ?? Number.NaN;
  }

  /** A ledger for a stack that lies at `start` at time 0. */
  static begin(line: Line, start: number): Ledger {
    const ledger = new Ledger(line);
    for (const [w, watch] of line.watch.entries()) {
      ledger.peak[w] = start;
      ledger.top[w] = start;
      ledger.now[w] = start;
      if (watch.soft !== undefined && start >= watch.soft) ledger.softAt[w] = 0;
      const cap = capOf(watch);
      if (cap !== undefined && start > cap) ledger.passedAt[w] = 0;
    }
    return ledger;
  }

  copy(): Ledger {
    return new Ledger(this.line, this);
  }

  /** A new heating begins: what became soft, peaked or passed before is history. */
  beginAgain(): void {
    this.softAt.fill(Number.NaN);
    this.passedAt.fill(Number.NaN);
    this.peak.set(this.now);
  }

  see(span: Span): void {
    const length = span.to - span.from;
    for (const [w, watch] of this.line.watch.entries()) {
      const p = parabola(span.p0[w], span.pm[w], span.p1[w]);
      const top = highest(p);
      this.now[w] = span.p1[w];
      if (top > this.peak[w]) this.peak[w] = top;
      if (top > this.top[w]) this.top[w] = top;
      if (watch.soft !== undefined) {
        if (Number.isNaN(this.softAt[w])) {
          const s = risesTo(p, watch.soft);
          if (s !== undefined) this.softAt[w] = span.from + s * length;
        }
        const s = fallsBelow(p, watch.soft);
        if (s !== undefined) {
          const at = span.from + s * length;
          if (!(this.lostAt <= at)) this.lostAt = at;
        }
      }
      const cap = capOf(watch);
      if (cap !== undefined && Number.isNaN(this.passedAt[w]) && top > cap)
        this.passedAt[w] = span.from + (risesTo(p, cap) ?? 1) * length;
      if (watch.counted !== undefined) this.counted[w] += length * shareAbove(p, watch.counted.above);
    }
  }

  /** Seconds at which the last face that has a `soft` reached it; NaN: not all have. Minus infinity where none has one. */
  allSoftAt(): number {
    let latest = Number.NEGATIVE_INFINITY;
    for (const [w, watch] of this.line.watch.entries()) {
      if (watch.soft === undefined) continue;
      if (Number.isNaN(this.softAt[w])) return Number.NaN;
      latest = Math.max(latest, this.softAt[w]);
    }
    return latest;
  }

  /** Seconds at which the first cap was passed; NaN: none. */
  firstPassed(): number {
    let first = Number.NaN;
    for (const at of this.passedAt) if (!Number.isNaN(at) && !(first <= at)) first = at;
    return first;
  }

  /** K by which the worst face has passed its cap; negative: the margin left; minus infinity: no caps. */
  excess(): number {
    let most = Number.NEGATIVE_INFINITY;
    for (const [w, watch] of this.line.watch.entries()) {
      const cap = capOf(watch);
      if (cap !== undefined) most = Math.max(most, this.peak[w] - cap);
    }
    return most;
  }
}
