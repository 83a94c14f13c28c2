import type { Joint, TeardownRecord } from "../record/index.ts";

/**
 * Who comes out with whom. `D(p)` of the planning rules is a part together with everything that is `within` it, at any
 * depth; a joint is in `D(p)` when all that it holds is.
 */
export class Assemblies {
  /** D(p) by part id, p itself included. */
  private readonly inside = new Map<string, Set<string>>();
  /** p and every assembly that contains it. */
  private readonly around = new Map<string, string[]>();

  constructor(record: TeardownRecord) {
    const parent = new Map(record.parts.map((part) => [part.id, part.within]));
    for (const part of record.parts) this.inside.set(part.id, new Set([part.id]));
    for (const part of record.parts) {
      const chain = [part.id];
      for (let up = parent.get(part.id); up !== undefined; up = parent.get(up)) {
        chain.push(up);
        this.inside.get(up)?.add(part.id);
      }
      this.around.set(part.id, chain);
    }
  }

  /** D(p). */
  of(part: string): ReadonlySet<string> {
    return this.inside.get(part) ?? new Set();
  }

  /** p, then what contains it, from the inside out. */
  containing(part: string): readonly string[] {
    return this.around.get(part) ?? [];
  }

  /** The parts whose D holds the whole joint. */
  containingJoint(joint: Joint): readonly string[] {
    return this.containing(joint.holds[0]).filter((part) => joint.holds.every((held) => this.of(part).has(held)));
  }

  /** Does the joint hold both something in D(p) and something outside it? */
  crosses(joint: Joint, part: string): boolean {
    const inside = this.of(part);
    let within = false;
    let outside = false;
    for (const held of joint.holds) {
      if (inside.has(held)) within = true;
      else outside = true;
    }
    return within && outside;
  }

  /** The parts of which exactly one of the two (each given by what contains it) is inside: lifting one parts them. */
  parting(a: readonly string[], b: readonly string[]): string[] {
    return [...a.filter((part) => !b.includes(part)), ...b.filter((part) => !a.includes(part))];
  }
}
