/** Small records for the checks of the law: one written by hand, others drawn from a seed. */

import type { LawOptions } from "../src/core/law/index.ts";
import type { Joint, Part, TeardownRecord, Tool } from "../src/core/record/index.ts";
import { findWayIn } from "../src/core/route/ways/index.ts";

/** The planner and a clock for `assessRecord`. */
export const planner: Pick<LawOptions, "findWayIn" | "control"> = {
  findWayIn,
  control: { now: () => performance.now() },
};

export function record(
  over: Partial<TeardownRecord> & Pick<TeardownRecord, "parts" | "joints" | "tools">,
): TeardownRecord {
  return {
    format: "unseam/1",
    id: "00000000-0000-4000-8000-0000000000aa",
    device: { name: "Invented", kind: "smartphone", foldable: false },
    instruments: [],
    log: [],
    readings: [],
    claims: [],
    media: [],
    ...over,
  };
}

export const TOOLS: Tool[] = [
  { id: "ph000", name: "Cross-recess driver 000", kind: "basic" },
  { id: "spudger", name: "Spudger", kind: "basic" },
  { id: "pick", name: "Pick", kind: "basic" },
  { id: "tweezers", name: "Tweezers", kind: "basic" },
  { id: "handle", name: "Suction handle", kind: "commercially-available" },
  { id: "plate", name: "Heating plate", kind: "commercially-available", heatSource: true },
];

/**
 * The example on paper behind W1:
 *
 *     back cover   rim: heat, then suction handle and pick at once        heating 1, second tool 1, off 1  = 3
 *     bracket      two screws, driver                                     off 1                            = 4
 *     battery      plug with the spudger, strips with the tweezers        change of tool 1, off 1          = 6
 */
export function paperPhone(): TeardownRecord {
  const parts: Part[] = [
    { id: "frame", name: "Frame", role: "frame", base: true },
    { id: "cover", name: "Back cover", role: "back-cover", spare: { to: "end-users", brings: ["rim"] } },
    { id: "bracket", name: "Battery bracket", role: "bracket", under: [["cover"]] },
    {
      id: "cell",
      name: "Battery",
      role: "battery",
      under: [["bracket"]],
      spare: { to: "end-users", brings: ["strips"] },
    },
  ];
  const joints: Joint[] = [
    {
      id: "rim",
      kind: "adhesive",
      holds: ["cover", "frame"],
      releases: [
        {
          action: "slice",
          tools: ["handle", "pick"],
          seconds: 60,
          leaves: "spent",
          heat: { zone: "rim", bond: 65, by: "plate", down: "back", seconds: 180, soft: 300 },
        },
      ],
    },
    {
      id: "bolts",
      kind: "screw",
      count: 2,
      holds: ["bracket", "frame"],
      reach: [["cover"]],
      releases: [{ action: "unscrew", tools: ["ph000"], leaves: "whole" }],
    },
    {
      id: "plug",
      kind: "connector",
      power: true,
      holds: ["cell", "frame"],
      reach: [["bracket"]],
      releases: [{ action: "unplug", tools: ["spudger"], leaves: "whole" }],
    },
    {
      id: "strips",
      kind: "tape",
      count: 2,
      holds: ["cell", "frame"],
      reach: [["bracket"]],
      releases: [{ action: "pull", tools: ["tweezers"], leaves: "spent" }],
    },
  ];
  return record({ parts, joints, tools: TOOLS });
}

/** Numbers from a seed (mulberry32), the same everywhere. */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

const ROLE_ORDER = [
  "back-cover",
  "battery",
  "display",
  "rear-camera",
  "front-camera",
  "charging-port",
  "button",
  "main-microphone",
  "speaker",
] as const;

export interface RandomSettings {
  /** Parts besides the base. */
  readonly parts: number;
  /** Some facts are left out: what joints leave, what spare parts bring, to whom they are sold. */
  readonly unknowns?: boolean;
  readonly doubts?: boolean;
  readonly heat?: boolean;
  /** Joints hold their part to the frame alone, and the priority parts lie at all depths. */
  readonly spread?: boolean;
}

/** A small device: parts lie under earlier parts, joints are reached past them; every part can be got out. */
export function randomRecord(seed: number, settings: RandomSettings): TeardownRecord {
  const random = seeded(seed);
  const below = (n: number): number => Math.floor(random() * n);
  const chance = (p: number): boolean => random() < p;
  const pick = <T>(list: readonly T[]): T => list[below(list.length)] as T;
  const kinds = ["basic", "basic", "with-spare-part", "with-product", "commercially-available"] as const;
  const tools: Tool[] = ["ta", "tb", "tc", "td"].map((id) => ({ id, name: id, kind: pick(kinds) }));
  const parts: Part[] = [{ id: "frame", name: "Frame", role: "frame", base: true }];
  const joints: Joint[] = [];
  const groups = (count: number): string[][] | undefined => {
    if (count === 0 || chance(0.35)) return undefined;
    const group = (): string[] => [...new Set([`p${below(count)}`, ...(chance(0.3) ? [`p${below(count)}`] : [])])];
    return chance(0.25) ? [group(), group()] : [group()];
  };
  const maybe = <K extends string, V>(key: K, value: V | undefined): { [key in K]?: V } =>
    (value === undefined ? {} : { [key]: value }) as { [key in K]?: V };
  const roleOf = (i: number): { role?: (typeof ROLE_ORDER)[number] } => {
    if (settings.spread) {
      const at = ROLE_ORDER.findIndex((_, n) => Math.floor(((n + 1) * settings.parts) / (ROLE_ORDER.length + 1)) === i);
      return at < 0 ? {} : { role: ROLE_ORDER[at] };
    }
    return i < ROLE_ORDER.length && chance(0.85) ? { role: ROLE_ORDER[i] } : {};
  };
  for (let i = 0; i < settings.parts; i += 1) {
    const id = `p${i}`;
    const count = 1 + below(2);
    const mine: string[] = [];
    const heating = 30 + below(30);
    for (let k = 0; k < count; k += 1) {
      const joint = `j${i}${k}`;
      mine.push(joint);
      const leaves = pick(settings.unknowns ? ["whole", "spent", "unknown"] : ["whole", "whole", "spent"]);
      const heated = settings.heat === true && chance(0.25);
      const releases: Joint["releases"] = [
        {
          action: "unscrew",
          tools: chance(0.15) ? [] : chance(0.15) ? ["ta", "tb"] : [pick(tools).id],
          seconds: 1 + below(30),
          leaves: leaves as "whole",
          ...(heated
            ? { heat: { zone: `z${i}`, bond: 60, seconds: heating, ...(i % 2 === 0 ? { by: "td" } : {}) } }
            : {}),
        },
      ];
      if (chance(0.25))
        releases.push({ action: "cut", tools: [pick(tools).id], seconds: 5, leaves: chance(0.5) ? "spent" : "broken" });
      const other = i > 0 && !settings.spread && chance(0.3) ? `p${below(i)}` : "frame";
      joints.push({
        id: joint,
        kind: "screw",
        holds: [id, other],
        ...maybe("reach", groups(i)),
        ...(chance(0.3) ? { side: pick(["front", "back"]) } : {}),
        ...(settings.doubts && chance(0.3) ? { basis: "inferred" as const } : {}),
        releases,
      });
    }
    if (chance(0.2)) joints.push({ id: `j${i}x`, kind: "magnet", holds: [id, "frame"], releases: [] });
    const brings = mine.filter(() => chance(0.4));
    const spare: Part["spare"] = {
      ...(settings.unknowns && chance(0.4) ? {} : { to: pick(["end-users", "end-users", "professionals"] as const) }),
      ...(settings.unknowns && chance(0.5) ? {} : { brings: [...brings, ...(chance(0.2) ? ["tc"] : [])] }),
    };
    parts.push({
      id,
      name: id,
      ...roleOf(i),
      ...(chance(0.1) ? { serves: [pick(ROLE_ORDER)] } : {}),
      ...maybe("under", groups(i)),
      ...(settings.doubts && chance(0.2) ? { basis: "sibling" as const } : {}),
      ...(chance(0.15) ? { shift: { freeing: [mine[0] as string] } } : {}),
      ...(chance(0.15) ? { pairing: { notification: chance(0.6), authorisation: chance(0.5) } } : {}),
      spare,
    });
  }
  return record({
    parts,
    joints,
    tools,
    market: {
      ...(settings.unknowns && chance(0.3) ? {} : { updateYears: 5 + below(3) }),
      ...(settings.unknowns && chance(0.3)
        ? {}
        : { repairInformation: pick(["free-for-all", "free-for-professionals", "fee"] as const) }),
    },
  });
}
