/**
 * Device-like problems of any size: two covers (one cut on each side), then modules under screwed brackets with connectors,
 * each lying under earlier ones, some of them reachable in two ways; last a battery that is either pulled or cut out.
 * Modelled on the shape of the problems in checks/data/routes (`describe` prints both for comparison).
 */

export interface BareDocument {
  readonly format: "unseam-problem/1";
  readonly operations: readonly BareOperation[];
  readonly setup: { readonly fetch: number; readonly turn: number };
  readonly start: { readonly tools: readonly string[]; readonly side: string };
  readonly targets: readonly string[];
  readonly zones?: { readonly [id: string]: { readonly seconds: number; readonly soft: number } };
}

export interface BareOperation {
  readonly id: string;
  readonly seconds: number;
  readonly tools: readonly string[];
  readonly side: string;
  readonly needs: readonly (readonly string[])[];
  readonly heat?: string;
}

export interface Wanted {
  readonly seed: number;
  /** About so many operations. */
  readonly size: number;
  readonly heated: boolean;
  /** "one": the battery; "all": every operation. */
  readonly targets: "one" | "all";
}

const COVERS = { back: "o5", front: "o10" } as const;
type Side = keyof typeof COVERS;

export function generate(wanted: Wanted): BareDocument {
  const random = mulberry32(wanted.seed * 7919 + wanted.size);
  const between = (least: number, most: number) => least + Math.floor(random() * (most - least + 1));
  const chance = (p: number) => random() < p;
  const operations: BareOperation[] = [];
  const add = (
    seconds: number,
    tool: string,
    side: string,
    needs: readonly (readonly string[])[],
    heat?: string,
  ): string => {
    const id = `o${operations.length}`;
    const warm = heat !== undefined && wanted.heated ? { heat } : {};
    operations.push({ id, seconds, tools: [tool], side, needs, ...warm });
    return id;
  };
  const cover = (tool: "back" | "front", first: readonly (readonly string[])[], heat: string): string[] => {
    const cuts = [add(between(17, 30), "pick", tool, first, heat)];
    for (let k = 1; k < 3; k += 1) cuts.push(add(between(17, 34), "pick", tool, [[cuts[k - 1]!]], heat));
    return cuts;
  };
  add(between(5, 12), "driverA", "back", []);
  add(between(5, 12), "driverA", "back", []);
  add(between(6, 8), "hand", "back", [cover("back", [], "back")]);
  const display = cover("front", [["o0", "o1"]], "front");
  add(between(6, 8), "hand", "front", [[add(between(4, 6), "spudger", "front", [display])]]);

  const mostly: Side = chance(0.5) ? "back" : "front";
  const out: string[] = [];
  while (operations.length < wanted.size - 8) {
    const side: Side = chance(0.65) ? mostly : mostly === "back" ? "front" : "back";
    const needs = access(side);
    const driver = ["driverA", "driverB", "driverC"][between(0, 2)]!;
    const screws = Array.from({ length: between(1, 3) }, () => add(between(5, 12), driver, side, needs));
    const bracket = add(between(3, 7), "tweezers", side, [screws]);
    const holding = Array.from({ length: between(1, 2) }, () =>
      add(between(3, 6), "spudger", side, chance(0.33) && out.length > 0 ? [[bracket], under(side)] : [[bracket]]),
    );
    if (chance(0.55)) {
      const other = ["driverA", "driverB", "driverC"][between(0, 2)]!;
      holding.push(add(between(5, 12), other, side, needs));
    }
    out.push(add(between(4, 15), chance(0.4) ? "hand" : "tweezers", side, [holding]));
  }
  const side: Side = mostly;
  const last = out.at(-1)!;
  const connector = add(between(4, 6), "spudger", side, access(side));
  const tabs = [
    add(between(12, 23), "tweezers", side, [[connector, last]]),
    add(between(11, 25), "tweezers", side, [[connector]]),
  ];
  const slit = add(between(17, 30), "pick", side, [[connector]]);
  const cuts = [slit, add(between(17, 30), "pick", side, [[slit]])];
  const battery = add(between(4, 8), "hand", side, [tabs, cuts]);
  return {
    format: "unseam-problem/1",
    operations,
    setup: { fetch: 4, turn: 5 },
    start: { tools: [], side: "back" },
    targets: wanted.targets === "one" ? [battery] : operations.map(({ id }) => id),
    ...(wanted.heated ? { zones: { back: { seconds: 60, soft: 60 }, front: { seconds: 60, soft: 60 } } } : {}),
  };

  function under(on: Side): string[] {
    return [out[between(Math.max(0, out.length - 8), out.length - 1)]!, COVERS[on]];
  }

  /** Under earlier modules, one way or two. */
  function access(on: Side): string[][] {
    const recent = out.slice(-7);
    if (recent.length === 0) return chance(0.5) ? [[COVERS[on]]] : [["o5", "o10"]];
    const group = () => {
      const chosen = recent.filter(() => chance(0.2));
      return [...(chosen.length > 0 ? chosen : [recent[between(0, recent.length - 1)]!]), COVERS[on]];
    };
    return chance(0.33) ? [group(), group()] : [group()];
  }
}

/** Shares that say whether two problems are of a kind. */
export function describe(problem: BareDocument) {
  const { operations } = problem;
  const n = operations.length;
  const depth = new Map<string, number>();
  for (const { id, needs } of operations) {
    const of = (group: readonly string[]) => Math.max(0, ...group.map((other) => depth.get(other) ?? 0));
    depth.set(id, 1 + (needs.length === 0 ? 0 : Math.min(...needs.map(of))));
  }
  const share = (test: (o: BareOperation) => boolean) => operations.filter(test).length / n;
  return {
    operations: n,
    alternatives: share((o) => o.needs.length > 1),
    tools: new Set(operations.flatMap((o) => o.tools)).size,
    drivers: share((o) => o.tools[0]!.startsWith("driver")),
    spudger: share((o) => o.tools[0] === "spudger"),
    tweezers: share((o) => o.tools[0] === "tweezers"),
    back: share((o) => o.side === "back"),
    depth: Math.max(...depth.values()),
    seconds: operations.reduce((sum, o) => sum + o.seconds, 0) / n,
  };
}

/** T. Ettinger's generator, public domain: numbers in [0, 1) from a 32-bit seed. */
export function mulberry32(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
