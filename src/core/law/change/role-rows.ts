/**
 * How much further changes can add to the three scores of one priority part.
 *
 * A row says: whatever set T of further changes is made, the score gains at most min(cap, sum of the shares of T). It rests on a
 * hitting argument. A level asks for n things (a fastener that must be better, a tool, fewer steps); each thing has the
 * changes one of which must be in T (for a joint that every way undoes in its segment: what makes it better, and what
 * lets a way do without it); so a T that reaches the level hits n things, and each hit is worth the gain over n. Where
 * nothing in the structure holds the score down, either the way stays (then what is met on it must change) or it does
 * not (then a change of the certificate is in T).
 */
import type { TeardownRecord } from "../../record/schema.ts";
import type { RuleSet } from "../rules/types.ts";
import { depthPoints } from "../score.ts";
import { changeKey } from "./changes.ts";
import { depthUnder, fastenerUnder, type RoleSpace, remoteFlags, toolUnder, type WayModel } from "./role-space.ts";

export interface Row {
  readonly cap: number;
  readonly shares: ReadonlyMap<number, number>;
  /** Set where a closer look may take shares away: names the row to `Goal.refine`. */
  readonly loose?: string;
}

export type ScoreKind = "depth" | "fastener" | "tool";
export const SCORE_KINDS = ["depth", "fastener", "tool"] as const satisfies readonly ScoreKind[];

/**
 * `fixed`: the ways stay as they are; `loose`: what is quick to come by; `exact`: which structural changes can shorten or alter a
 * way is found out.
 */
export type Mode = "fixed" | "loose" | "exact";

export interface RowContext {
  readonly rules: RuleSet;
  readonly record: TeardownRecord;
  readonly indexOf: (key: string) => number | undefined;
  /** Ten-thousandths of the index for one point of each score. */
  readonly worth: { readonly depth: number; readonly fastener: number; readonly tool: number };
}

/** Where the role stands: the structural changes that its ways were found with, and the keys of all that count. */
export interface Stand {
  readonly base: readonly number[];
  readonly keys: ReadonlySet<string>;
  readonly points: { readonly depth: number | null; readonly fastener: number | null; readonly tool: number | null };
}

/** What a level asks for: `things` is their number; each change with how many of them it may see to. */
interface Asked {
  readonly things: number;
  readonly hits: Map<number, number>;
}

const LEVELS: { readonly [kind in ScoreKind]: readonly number[] } = {
  depth: [2, 3, 4, 5],
  fastener: [3, 5],
  tool: [2, 3, 4, 5],
};

/**
 * @param gain what `level` adds to `now`; no points count as far below
 * @returns undefined where nothing can be added
 */
export function roleRow(
  kind: ScoreKind,
  context: RowContext,
  space: RoleSpace,
  stand: Stand,
  mode: Mode,
  gain: (worth: number, now: number | null, level: number) => number,
): Row | undefined {
  const worth = context.worth[kind];
  const now = stand.points[kind];
  const shares = new Map<number, number>();
  let cap = 0;
  const give = (most: number, indices: Iterable<readonly [number, number]>): void => {
    cap = Math.max(cap, most);
    for (const [index, part] of indices) shares.set(index, Math.max(shares.get(index) ?? 0, most * part));
  };
  if (space.state(stand.base).ways.some((way) => way.kind !== "told")) {
    const most = gain(worth, now, 5);
    if (most > 0)
      give(
        most,
        altering(space, stand, mode).map((index) => [index, 1] as const),
      );
    return shares.size === 0 ? undefined : { cap, shares };
  }
  for (const level of LEVELS[kind]) {
    if (now !== null && level <= now) continue;
    const asked =
      kind === "depth"
        ? depthAsked(context, space, stand, mode, level)
        : metAsked(kind === "fastener" ? FASTENERS : TOOLS, context, space, stand, mode, level);
    if (asked === null || asked.things === 0) continue;
    give(
      gain(worth, now, level),
      [...asked.hits].map(([index, hits]) => [index, hits / asked.things] as const),
    );
  }
  return shares.size === 0 ? undefined : { cap, shares };
}

/** Structural changes one of which is in every set that alters a way. */
function altering(space: RoleSpace, { base }: Stand, mode: Mode): readonly number[] {
  if (mode === "fixed") return [];
  return mode === "loose" ? space.others(base) : space.certificate(base);
}

function hit(hits: Map<number, number>, indices: Iterable<number>, by = 1): void {
  for (const index of indices) hits.set(index, (hits.get(index) ?? 0) + by);
}

/** The most steps that have so many points. */
function stepsFor(rules: RuleSet, level: number): number {
  let most = 0;
  for (const { upTo } of rules.depthBands)
    if (upTo !== null && depthPoints(rules, upTo) >= level) most = Math.max(most, upTo);
  return most;
}

function depthAsked(context: RowContext, space: RoleSpace, stand: Stand, mode: Mode, level: number): Asked | null {
  const { rules, indexOf } = context;
  const hits = new Map<number, number>();
  const most = stepsFor(rules, level);
  let things = 0;
  const { ways } = space.state(stand.base);
  for (const [instance, way] of ways.entries()) {
    if (depthUnder(rules, way, stand.keys) >= level) continue;
    things += 1;
    const flags = remoteFlags(way.part, stand.keys);
    const needed = flags.findIndex((_, gone) => way.steps + rules.remoteSteps * (flags.length - gone - 1) <= most);
    // With fewer remote steps gone than are needed by themselves the way must be so much shorter.
    const left = needed < 0 ? 0 : flags.length - needed;
    const shorter = most - rules.remoteSteps * left;
    const structural =
      mode === "fixed" || shorter < 1
        ? []
        : mode === "loose"
          ? space.others(stand.base)
          : space.shortening(stand.base, instance, shorter);
    if (needed >= 0)
      hit(
        hits,
        flags.flatMap((key) => indexOf(key) ?? []),
        1 / (needed + 1),
      );
    else if (structural.length === 0) return null;
    hit(hits, structural);
  }
  return { things, hits };
}

/** Fasteners and tools ask for the same, of different things met. */
interface Kind {
  /** What is met on a found way and falls short of the level: for each thing the changes that would do; null: none would. */
  readonly short: (
    context: RowContext,
    space: RoleSpace,
    way: WayModel,
    keys: ReadonlySet<string>,
    level: number,
  ) => readonly (readonly string[])[] | null;
  /** For each joint that every way undoes in its segment and that falls short: what would change that, the structure aside. */
  readonly held: (
    context: RowContext,
    space: RoleSpace,
    way: WayModel,
    stand: Stand,
    instance: number,
    level: number,
  ) => readonly { readonly keys: readonly string[]; readonly free: () => readonly number[] }[];
}

function metAsked(
  kind: Kind,
  context: RowContext,
  space: RoleSpace,
  stand: Stand,
  mode: Mode,
  level: number,
): Asked | null {
  const { indexOf } = context;
  const hits = new Map<number, number>();
  let things = 0;
  for (const [instance, way] of space.state(stand.base).ways.entries()) {
    const short = kind.short(context, space, way, stand.keys, level);
    if (short !== null && short.length === 0) continue;
    const held = mode === "fixed" ? [] : kind.held(context, space, way, stand, instance, level);
    for (const { keys, free } of held) {
      things += 1;
      hit(hits, new Set([...keys.flatMap((key) => indexOf(key) ?? []), ...free()]));
    }
    if (held.length > 0) continue;
    things += 1;
    const structural = new Set(altering(space, stand, mode));
    if (short === null && structural.size === 0) return null;
    const byKeys = new Map<number, number>();
    for (const keys of short ?? [])
      hit(byKeys, new Set(keys.flatMap((key) => indexOf(key) ?? [])), 1 / (short?.length ?? 1));
    hit(hits, structural);
    for (const [index, share] of byKeys) if (!structural.has(index)) hit(hits, [index], share);
  }
  return { things, hits };
}

function reaches(points: number | null, level: number): boolean {
  return points !== null && points >= level;
}

const FASTENERS: Kind = {
  short: ({ rules, record, indexOf }, _space, way, keys, level) => {
    const short = new Map<string, readonly string[]>();
    for (const met of way.fasteners) {
      if (reaches(fastenerUnder(rules, record, way, met, keys), level)) continue;
      const would = bettering(met.joint.id).filter(
        (key) =>
          indexOf(key) !== undefined && reaches(fastenerUnder(rules, record, way, met, new Set([...keys, key])), level),
      );
      if (would.length === 0) return null;
      short.set(met.joint.id, would);
    }
    return [...short.values()];
  },
  held: ({ rules, record }, space, way, { base, keys }, instance, level) =>
    space.heldBy(base, instance).flatMap((held) => {
      const { joint, releases } = held;
      if (releases.some(({ release }) => reaches(fastenerUnder(rules, record, way, { joint, release }, keys), level)))
        return [];
      return [{ keys: bettering(joint.id), free: () => space.freeing(base, instance, held) }];
    }),
};

function bettering(joint: string): string[] {
  return [changeKey({ change: "whole", joint }), changeKey({ change: "brings", joint })];
}

const TOOLS: Kind = {
  short: ({ rules, record, indexOf }, { role }, way, keys, level) => {
    const short = new Map<string, readonly string[]>();
    for (const tool of way.tools) {
      if (reaches(toolUnder(rules, record, way, role, tool, keys), level)) continue;
      if (tool === null) return null;
      const would = supplying(tool, role).filter(
        (key) =>
          indexOf(key) !== undefined &&
          reaches(toolUnder(rules, record, way, role, tool, new Set([...keys, key])), level),
      );
      if (would.length === 0) return null;
      short.set(tool, would);
    }
    return [...short.values()];
  },
  held: ({ rules, record }, space, way, { base, keys }, instance, level) => {
    const { role } = space;
    const all = space.heldBy(base, instance);
    const whole = all.length > 0 && space.wholeWay(base, instance);
    return all.flatMap((held) => {
      const { joint, releases } = held;
      const would = new Set<string>();
      for (const { release, index } of releases) {
        // The heating itself may lie before the segment, where something else can come off in between.
        const heat = whole && release.heat ? [release.heat.by ?? null] : [];
        const short = [...release.tools, ...heat].filter(
          (tool) => !reaches(toolUnder(rules, record, way, role, tool, keys), level),
        );
        if (short.length === 0) return [];
        for (const tool of short) if (tool !== null) for (const key of supplying(tool, role)) would.add(key);
        if (heat.length > 0) would.add(changeKey({ change: "no-heat", joint: joint.id, release: index }));
      }
      // A way to undo it that is possible only once it leaves the joint whole may take other tools.
      would.add(changeKey({ change: "whole", joint: joint.id }));
      return [{ keys: [...would], free: () => space.freeing(base, instance, held) }];
    });
  },
};

function supplying(tool: string, role: RoleSpace["role"]): string[] {
  return [changeKey({ change: "basic", tool }), changeKey({ change: "with-spare-part", tool, role })];
}
