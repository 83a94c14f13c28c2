/**
 * Small random records for checks by brute force: every rule of the bench occurs, few operations each.
 */
import { requireRecord, type TeardownRecord } from "../../src/core/record/index.ts";

/** Mulberry32: a small seeded generator of numbers in [0, 1). */
export function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = a;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function randomRecord(seed: number): TeardownRecord {
  const random = seeded(seed);
  const chance = (p: number): boolean => random() < p;
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)];
  const some = <T>(list: readonly T[], most: number): T[] => {
    const out = new Set<T>();
    for (let i = 0; i < most; i += 1) out.add(pick(list));
    return [...out];
  };
  const partCount = 2 + Math.floor(random() * 4);
  const ids = Array.from({ length: partCount }, (_, i) => `p${i}`);
  const soft = 10 + Math.floor(random() * 50);
  const heat = {
    zone: "z",
    bond: 65,
    seconds: 30 + Math.floor(random() * 60),
    ...(chance(0.8) ? { soft } : {}),
    ...(chance(0.4) ? { by: "gun" } : {}),
    ...(chance(0.3) ? { down: pick(["back", "front"]) } : {}),
  };
  const groups = (not: string): string[][] =>
    Array.from({ length: chance(0.4) ? 2 : 1 }, () =>
      some(
        ids.filter((id) => id !== not),
        chance(0.3) ? 2 : 1,
      ),
    );
  const side = (): object => (chance(0.3) ? { side: pick(["back", "front"]) } : {});
  const joints: object[] = [];
  let power = false;
  ids.forEach((id, i) => {
    const count = 1 + (chance(0.35) ? 1 : 0);
    for (let n = 0; n < count; n += 1) {
      const other = i > 0 && chance(0.3) ? `p${Math.floor(random() * i)}` : "frame";
      const kind = pick(["screw", "connector", "adhesive", "clip"] as const);
      const action = { screw: "unscrew", connector: "unplug", adhesive: "slice", clip: "pry" }[kind];
      const releases = Array.from({ length: chance(0.25) ? 2 : 1 }, () => ({
        action,
        tools: chance(0.15) ? [] : some(["drv", "pick", "spudger", "gun"], chance(0.25) ? 2 : 1),
        leaves: chance(0.1) ? "broken" : "whole",
        ...(chance(0.4) ? { seconds: 2 + Math.floor(random() * 30) } : {}),
        ...(chance(0.1) ? { hazard: ["puncture"] } : {}),
        ...(kind === "adhesive" && chance(0.7)
          ? { heat: { ...heat, ...(chance(0.5) && heat.soft !== undefined ? { passes: true } : {}) } }
          : {}),
      }));
      const isPower = kind === "connector" && !power && chance(0.5);
      power ||= isPower;
      joints.push({
        id: `j${i}${n}`,
        kind,
        holds: [id, other],
        releases: chance(0.05) ? [] : releases,
        ...(chance(0.3) ? { reach: groups(id) } : {}),
        ...side(),
        ...(isPower ? { power: true } : {}),
        ...(chance(0.2) ? { basis: "inferred" } : {}),
      });
    }
  });
  const parts = ids.map((id, i) => ({
    id,
    name: `Part ${i}`,
    ...(chance(0.25) ? { under: groups(id) } : {}),
    ...(i > 0 && chance(0.25) ? { within: `p${Math.floor(random() * i)}` } : {}),
    ...(chance(0.25) ? { live: true } : {}),
    ...(chance(0.3) &&
    joints.some(
      (joint) =>
        (joint as { id: string; releases: unknown[] }).id === `j${i}0` &&
        (joint as { releases: unknown[] }).releases.length > 0,
    )
      ? { shift: { freeing: [`j${i}0`] } }
      : {}),
    ...side(),
    ...(chance(0.2) ? { basis: "sibling" } : {}),
  }));
  return requireRecord({
    format: "unseam/1",
    id: `00000000-0000-4000-8000-${seed.toString(16).padStart(12, "0")}`,
    device: { name: `random ${seed}`, kind: "other", foldable: false },
    parts: [{ id: "frame", name: "Frame", base: true }, ...parts],
    joints,
    tools: [
      { id: "drv", name: "driver", kind: "basic" },
      { id: "pick", name: "pick", kind: "basic" },
      { id: "spudger", name: "spudger", kind: "basic", ...(seed % 2 ? { conductive: true } : {}) },
      { id: "gun", name: "gun", kind: "commercially-available", heatSource: true },
    ],
    instruments: [],
    log: [],
    readings: [],
    claims: [],
    media: [],
  });
}
