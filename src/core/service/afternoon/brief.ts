/**
 * The brief for the evening before: what to lay out, from which face to begin, what to heat and for how long, where a cable
 * lies close to the rim, what to look at and photograph first. From a thin record or from the sibling's structure; whatever
 * is a guess is said to be one until it is tried.
 */
import { InputError, InputFaults } from "../../errors.ts";
import { type Caution, cautions, heatOfRelease, SETTINGS } from "../../heat/index.ts";
import type { RankedQuestion } from "../../law/questions.ts";
import type { PlanStep } from "../../measure/index.ts";
import type { Hazard, Part, TeardownRecord } from "../../record/index.ts";
import type { Control } from "../../route/problem.ts";
import { wayBackFrom } from "../../route/ways/in-and-back.ts";
import { findWayIn, type Question, type WayIn, type WayOperation } from "../../route/ways/index.ts";
import { type Chance, chancesAlong } from "./chances.ts";
import type { Doing } from "./states.ts";
import { wantsOf } from "./wants.ts";

export interface BriefOptions {
  readonly control: Control;
  /** Parts to get to; left out: the battery, else the board, else every part that the law names. */
  readonly to?: readonly string[];
  /** Milliseconds for each way in. */
  readonly limit?: number;
  readonly questions: readonly RankedQuestion[];
  readonly plan: readonly PlanStep[];
  /** The other device, where claims compare with it. */
  readonly sibling?: TeardownRecord | undefined;
}

export interface FaceWay {
  /** Which face is opened. */
  readonly face: "back" | "display";
  readonly to: readonly string[];
  readonly way: WayIn | null;
  /** Why there is none. */
  readonly why?: string;
  readonly hazards: readonly Hazard[];
  /** Releases that damage what they undo, by joint. */
  readonly damages: readonly string[];
  /** Relations that it rests on and that nobody has tried. */
  readonly guesses: readonly string[];
}

export interface HeatPlan {
  readonly zone: string;
  readonly joint: string;
  readonly bond: number;
  readonly plate?: number;
  readonly source: string | null;
  readonly seconds: number | null;
  readonly soft: number | null;
  readonly rounds: number | null;
  /** Seconds between 45 and 55 degC in the cell, over all rounds; null where the layers are not known. */
  readonly counted: number | null;
  readonly peak: number | null;
  readonly from: "layers" | "record" | "assumption" | "none";
  readonly note: string;
  readonly cautions: readonly Caution[];
}

export interface NearCable {
  readonly part: string;
  /** Least distance from the edge of the device, mm. */
  readonly distance: number;
  readonly edge: "top" | "bottom" | "left" | "right";
  /** Where along that edge, mm from the left or from the bottom, seen from the back. */
  readonly from: number;
  readonly until: number;
}

export interface Brief {
  readonly device: string;
  readonly targets: readonly string[];
  readonly ways: readonly FaceWay[];
  readonly heat: readonly HeatPlan[];
  readonly tools: readonly string[];
  readonly consumables: readonly { readonly id: string; readonly amount: number; readonly unit: string }[];
  readonly cables: readonly NearCable[];
  readonly charge: { readonly atMost: number; readonly source: string; readonly last: number | null };
  readonly photographs: readonly Chance[];
  /** Open questions in the order in which they can be answered. */
  readonly questions: readonly Chance[];
  /** The first of the two ways in and back, the order that the chances are told along. */
  readonly along: "back" | "display" | null;
  /** That way in, and back. */
  readonly order: readonly (Doing | WayOperation)[];
  readonly chances: readonly Chance[];
  readonly guesses: { readonly relations: number; readonly guessed: number };
  readonly warnings: readonly string[];
}

const LIMIT = 3000;
/** A cable closer to the rim than a pick reaches in: common practice, no source. */
const NEAR_RIM = 6;
const FIRST_PHOTOGRAPHS = 6;

/** @throws InputError when there is nothing to get to, or a target is no part */
export function briefOf(record: TeardownRecord, options: BriefOptions): Brief {
  const targets = options.to ?? usualTargets(record);
  if (targets.length === 0)
    throw new InputError({
      path: "parts",
      found: "no part beside the base",
      expected: "a structure: begin from the sibling, from a narration, or name a part with --to",
    });
  const ways = (["back", "display"] as const).map((face) => faceWay(record, face, targets, options));
  const first = ways.filter((one) => one.way !== null).sort((a, b) => a.way!.seconds - b.way!.seconds)[0];
  const order = first === undefined ? [] : inAndBack(record, first.way!, targets, options);
  const chances = chancesAlong(wantsOf(record, options), order);
  const soonest = (a: Chance, b: Chance) =>
    (a.opens ?? Number.POSITIVE_INFINITY) - (b.opens ?? Number.POSITIVE_INFINITY);
  const operations = ways.flatMap((one) => one.way?.operations ?? []);
  const owners = [
    ...record.parts.filter((part) => (part.under ?? []).length > 0),
    ...record.joints.filter((joint) => (joint.reach ?? []).length > 0),
  ];
  return {
    device: record.device.name,
    targets,
    ways,
    heat: heatPlans(record, operations),
    tools: [...new Set(operations.flatMap((one) => one.tools))],
    consumables: consumablesFor(
      record,
      operations.flatMap((one) => (one.kind === "release" ? (one.joint ?? []) : [])),
    ),
    cables: nearCables(record),
    charge: {
      atMost: SETTINGS.charge.value,
      source: SETTINGS.charge.source,
      last: record.sessions?.findLast((session) => session.charge !== undefined)?.charge ?? null,
    },
    photographs: chances
      .filter((one) => one.kind === "photograph" || one.kind === "place")
      .filter((one) => one.opens !== null)
      .sort(soonest)
      .slice(0, FIRST_PHOTOGRAPHS),
    questions: chances.filter((one) => one.kind === "question").sort(soonest),
    along: first?.face ?? null,
    order,
    chances,
    guesses: {
      relations: owners.length,
      guessed: owners.filter((one) => one.basis === "inferred" || one.basis === "sibling").length,
    },
    warnings: [...new Set(ways.flatMap((one) => one.way?.warnings ?? []))],
  };
}

function usualTargets(record: TeardownRecord): string[] {
  const of = (role: Part["role"]) =>
    record.parts.filter((part) => part.role === role && !part.base).map((part) => part.id);
  for (const role of ["battery", "board"] as const) if (of(role).length > 0) return of(role).slice(0, 1);
  return record.parts.filter((part) => part.role !== undefined && !part.base).map((part) => part.id);
}

/** The way in through one face: the other one stays where it is. */
function faceWay(
  record: TeardownRecord,
  face: FaceWay["face"],
  targets: readonly string[],
  options: BriefOptions,
): FaceWay {
  const shut = record.parts.filter(
    (part) => part.role === (face === "back" ? "display" : "back-cover") && !part.base && !targets.includes(part.id),
  );
  const base = record.parts.find((part) => part.base)?.id;
  const ids = new Set(shut.map((part) => part.id));
  // Under the base, which never comes away, it stays shut.
  const seen: TeardownRecord =
    base === undefined || shut.length === 0
      ? record
      : {
          ...record,
          parts: record.parts.map((part) =>
            ids.has(part.id) ? { ...part, under: [[base]], within: undefined } : part,
          ),
        };
  const question: Question = { to: targets, least: "seconds", damage: true, accept: ["puncture", "short"] };
  const { control } = options;
  const answer = findWayIn(seen, question, { ...control, deadline: control.now() + (options.limit ?? LIMIT) });
  if ("unreachable" in answer)
    return {
      face,
      to: targets,
      way: null,
      why: answer.unreachable.map((one) => one.because).join("; "),
      hazards: [],
      damages: [],
      guesses: [],
    };
  const releases = answer.operations.flatMap((one) => {
    const joint = one.kind === "release" ? record.joints.find((other) => other.id === one.joint) : undefined;
    return joint === undefined ? [] : [{ joint, release: joint.releases[one.release ?? 0]! }];
  });
  const touched = new Set(answer.operations.flatMap((one) => one.part ?? one.joint ?? []));
  return {
    face,
    to: targets,
    way: answer,
    hazards: [...new Set(releases.flatMap(({ release }) => release.hazard ?? []))],
    damages: releases
      .filter(({ release }) => release.leaves === "broken" || (release.destroys?.length ?? 0) > 0)
      .map(({ joint }) => joint.id),
    guesses: [...record.parts, ...record.joints]
      .filter((one) => touched.has(one.id) && (one.basis === "inferred" || one.basis === "sibling"))
      .map((one) => one.id),
  };
}

function inAndBack(
  record: TeardownRecord,
  way: WayIn,
  targets: readonly string[],
  { control, limit }: BriefOptions,
): (Doing | WayOperation)[] {
  const question: Question = { to: targets, least: "seconds", damage: true, accept: ["puncture", "short"] };
  const back = wayBackFrom(record, question, way, { ...control, deadline: control.now() + (limit ?? LIMIT) });
  return [...way.operations, ...(back?.operations ?? [])];
}

function heatPlans(record: TeardownRecord, operations: readonly WayIn["operations"][number][]): HeatPlan[] {
  const plans = new Map<string, HeatPlan>();
  for (const { kind, joint: id, release: at } of operations) {
    if (kind !== "release") continue;
    const joint = record.joints.find((one) => one.id === id);
    const release = joint?.releases[at ?? 0];
    const heat = release?.heat;
    if (joint === undefined || release === undefined || heat === undefined || plans.has(joint.id)) continue;
    const common = {
      zone: heat.zone,
      joint: joint.id,
      bond: heat.bond,
      ...(heat.plate === undefined ? {} : { plate: heat.plate }),
      source: heat.by ?? null,
      cautions: cautions(heat.plate ?? heat.bond),
    };
    const recorded = (note: string): HeatPlan => ({
      ...common,
      seconds: heat.seconds ?? null,
      soft: heat.soft ?? null,
      rounds: null,
      counted: null,
      peak: null,
      from: heat.seconds === undefined ? "assumption" : "record",
      note,
    });
    if (!record.zones?.some((zone) => zone.id === heat.zone)) {
      plans.set(
        joint.id,
        recorded(
          "The layers under this zone are not recorded: the cell's minutes cannot be counted. Measure with a thermocouple.",
        ),
      );
      continue;
    }
    try {
      const answer = heatOfRelease(record, heat.zone, release.seconds ?? 0);
      plans.set(
        joint.id,
        answer.kind === "none"
          ? { ...recorded(answer.why), from: "none" }
          : {
              ...common,
              seconds: answer.seconds,
              soft: answer.soft,
              rounds: answer.rounds,
              counted: answer.counted,
              peak: answer.peak,
              from: "layers",
              note: answer.assumptions.join(" "),
            },
      );
    } catch (error) {
      if (!(error instanceof InputFaults || error instanceof InputError)) throw error;
      plans.set(joint.id, recorded(error.message));
    }
  }
  return [...plans.values()];
}

function consumablesFor(record: TeardownRecord, joints: readonly string[]) {
  const sums = new Map<string, { amount: number; unit: string }>();
  for (const id of new Set(joints))
    for (const { consumable, amount } of record.joints.find((joint) => joint.id === id)?.remake?.uses ?? []) {
      const key = `${consumable} ${amount.unit}`;
      sums.set(key, { amount: (sums.get(key)?.amount ?? 0) + amount.value, unit: amount.unit });
    }
  return [...sums].map(([key, sum]) => ({ id: key.slice(0, key.lastIndexOf(" ")), ...sum }));
}

/** Cables whose run comes close to the outer edge, edge by edge: where a pick must not go deep. */
function nearCables(record: TeardownRecord): NearCable[] {
  const points = record.parts.flatMap((part) => part.outline?.[0] ?? []);
  if (points.length === 0) return [];
  const [left, right] = [Math.min(...points.map(([x]) => x)), Math.max(...points.map(([x]) => x))];
  const [bottom, top] = [Math.min(...points.map(([, y]) => y)), Math.max(...points.map(([, y]) => y))];
  const edges = [
    { edge: "left", along: 1, off: ([x]: readonly [number, number]) => x - left, from: bottom },
    { edge: "right", along: 1, off: ([x]: readonly [number, number]) => right - x, from: bottom },
    { edge: "bottom", along: 0, off: ([, y]: readonly [number, number]) => y - bottom, from: left },
    { edge: "top", along: 0, off: ([, y]: readonly [number, number]) => top - y, from: left },
  ] as const;
  return record.parts.flatMap((part) =>
    edges.flatMap(({ edge, along, off, from }): NearCable[] => {
      const run = sampled(part.path ?? []).filter((point) => off(point) <= NEAR_RIM);
      if (run.length === 0) return [];
      const places = run.map((point) => point[along] - from);
      const tenth = (value: number) => Math.round(10 * value) / 10;
      return [
        {
          part: part.id,
          distance: tenth(Math.min(...run.map(off))),
          edge,
          from: tenth(Math.min(...places)),
          until: tenth(Math.max(...places)),
        },
      ];
    }),
  );
}

/** A run of straight pieces as points no more than a millimetre apart. */
function sampled(path: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  return path.flatMap((to, index) => {
    const from = path[index - 1];
    if (from === undefined) return [to];
    const pieces = Math.max(1, Math.ceil(Math.hypot(to[0] - from[0], to[1] - from[1])));
    return Array.from({ length: pieces }, (_, i): [number, number] => {
      const share = (i + 1) / pieces;
      return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
    });
  });
}
