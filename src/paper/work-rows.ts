/**
 * The ledger of a work sheet as data: what lies bare, do, in hand, true before you go on; a change of tool or a turn is a rule
 * across. The way in, the way back, what may go otherwise and the cautions, in the words of one list.
 */
import type { TeardownRecord } from "../core/record/index.ts";
import type { WayOperation } from "../core/route/ways/types.ts";
import type { Swap } from "../core/service/swap/index.ts";
import { handOf, type LedgerRow, ruleFor, spans, Words } from "./ledger-words.ts";
import { type NumberedScrew, numberScrews, stagesOf } from "./screw-numbers.ts";
import { type PlanState, planOf } from "./small-plan.ts";
import type { Say, WordKey } from "./words/index.ts";
import { backRows } from "./work-back-rows.ts";

export interface WorkSheet {
  readonly title: string;
  readonly time: string;
  readonly rows: readonly LedgerRow[];
  readonly cautions: readonly string[];
  readonly screws: readonly NumberedScrew[];
}

/** What the warm window says about the heatings of a zone: seconds, seconds of work, rounds, counted seconds, peak. */
export type WarmWords = { readonly kind: "none"; readonly why: string } | WarmTimes;

interface WarmTimes {
  readonly kind: "computed";
  readonly seconds: number;
  readonly soft: number | null;
  readonly rounds: number;
  readonly counted: number;
  readonly peak: number;
}

export interface WorkSheetInput {
  readonly record: TeardownRecord;
  readonly swap: Swap;
  readonly say: Say;
  /** By zone, where the layers under it are recorded. */
  readonly warm: ReadonlyMap<string, WarmWords>;
}

export function workSheet({ record, swap, say, warm }: WorkSheetInput): WorkSheet {
  const words = new Words(record, say);
  const screws = numberScrews(record, swap.wayIn);
  const rows: LedgerRow[] = [
    { kind: "part", title: say("part.in") },
    ...inRows(record, swap, words, screws, warm),
    { kind: "part", title: say("part.back") },
    ...backRows(record, swap, words, screws),
  ];
  return {
    title: say("title.work", { parts: swap.replace.map((id) => words.part(id)).join(", ") }),
    time: say("time", {
      usual: words.time(swap.seconds.p50),
      most: words.time(swap.seconds.p90),
      elapsed: words.time(swap.seconds.elapsed),
    }),
    rows,
    cautions: [...unsafeHeat(swap, say, warm), ...cautionsOf(record, swap, say, words)],
    screws,
  };
}

/** Heat for which no window was found comes before all other cautions. */
function unsafeHeat(swap: Swap, say: Say, warm: WorkSheetInput["warm"]): string[] {
  const zones = new Set(swap.wayIn.operations.flatMap(({ zone }) => zone ?? []));
  return [...zones].flatMap((zone) => {
    const found = warm.get(zone);
    return found?.kind === "none" ? [say("true.window.none", { why: found.why.replaceAll("degC", "°C") })] : [];
  });
}

function inRows(
  record: TeardownRecord,
  swap: Swap,
  words: Words,
  screws: readonly NumberedScrew[],
  warm: WorkSheetInput["warm"],
): LedgerRow[] {
  const { say } = words;
  const said = new Set<string>();
  return stagesOf(record, swap.wayIn).flatMap((stage) => {
    const moved = new Set(stage.operations.flatMap(({ part }) => (part === undefined ? [] : [part])));
    const state: PlanState = {
      seen: stage.up === "front" ? "front" : "back",
      away: stage.away,
      released: stage.released,
      parts: moved,
      joints: new Set(stage.operations.flatMap(({ joint }) => (joint === undefined ? [] : [joint]))),
    };
    const caption = `${stage.letter} · ${say(`seen.${state.seen}`)}`;
    let first = true;
    return stage.operations.flatMap((operation): LedgerRow[] => {
      const plan = first ? { plan: { scene: planOf(record, state, caption), caption } } : {};
      first = false;
      const heated = operation.kind === "heat" || operation.passes !== undefined;
      const lines: LedgerRow = {
        kind: "work",
        ...plan,
        does: [...inDoes(record, operation, words), ...branchAt(record, swap, operation, words)],
        hand: handOf(record, operation.tools, say),
        true: inTrue(record, operation, words, screws, warm, said),
        ...(heated ? { warm: true as const } : {}),
      };
      return [...ruleFor(record, operation, say), lines];
    });
  });
}

function inDoes(record: TeardownRecord, operation: WayOperation, words: Words): string[] {
  const { say } = words;
  if (operation.kind === "lift") return [say("do.lift", { part: words.part(operation.part ?? "") })];
  if (operation.kind === "shift") return [say("do.shift", { part: words.part(operation.part ?? "") })];
  if (operation.kind === "heat") {
    const heat = heatOf(record, operation.zone);
    return [
      heat
        ? say("do.heat", { zone: operation.zone ?? "", bond: heat.bond })
        : say("do.heat.plain", { zone: operation.zone ?? "" }),
    ];
  }
  const joint = record.joints.find(({ id }) => id === operation.joint);
  const release = joint?.releases[operation.release ?? 0];
  if (!joint || !release) return [operation.joint ?? ""];
  const text = say(`do.${release.action}` as WordKey, {
    n: joint.count ?? 1,
    of: words.of(joint),
    what: words.what(joint),
    drive: joint.screws?.drive ?? "",
  });
  return [
    text.replace(/: $/, ""),
    ...(release.solvent ? [say("do.solvent")] : []),
    ...(operation.passes === undefined ? [] : [say("do.rounds", { n: operation.passes })]),
  ];
}

/** How the work goes on where this release may fail: beside the step, where it is needed. */
function branchAt(record: TeardownRecord, swap: Swap, operation: WayOperation, words: Words): string[] {
  const joint = record.joints.find(({ id }) => id === operation.joint);
  return swap.branches
    .filter((branch) => operation.kind === "release" && branch.joint === operation.joint)
    .map((branch) => {
      const action = joint?.releases[branch.then]?.action;
      return words.say("branch", {
        chance: Math.round(branch.chance * 1000) / 10,
        action: action === undefined ? "" : words.say(`action.${action}` as WordKey),
        time: words.time(branch.seconds),
      });
    });
}

const heatOf = (record: TeardownRecord, zone: string | undefined) =>
  record.joints.flatMap(({ releases }) => releases).find(({ heat }) => heat?.zone === zone)?.heat;

function inTrue(
  record: TeardownRecord,
  operation: WayOperation,
  words: Words,
  screws: readonly NumberedScrew[],
  warm: WorkSheetInput["warm"],
  said: Set<string>,
): string[] {
  const { say } = words;
  if (operation.kind === "lift") return [say("true.lift")];
  if (operation.kind === "shift") return [say("true.shift")];
  const warmed = (): string[] => {
    const found = operation.zone === undefined || said.has(operation.zone) ? undefined : warm.get(operation.zone);
    if (!found) return [];
    said.add(operation.zone!);
    if (found.kind === "none") return [say("true.window.none", { why: found.why.replaceAll("degC", "°C") })];
    return [
      say("true.window", {
        seconds: Math.round(found.seconds),
        soft: found.soft === null ? "∞" : Math.floor(found.soft),
        rounds: found.rounds,
        counted: Math.round(found.counted),
        peak: Math.round(found.peak * 10) / 10,
      }),
    ];
  };
  if (operation.kind === "heat") {
    const heat = heatOf(record, operation.zone);
    const bond =
      heat?.soft === undefined ? say("true.heat.plain") : say("true.heat", { bond: heat.bond, soft: heat.soft });
    return [bond, ...warmed()];
  }
  const joint = record.joints.find(({ id }) => id === operation.joint);
  const release = joint?.releases[operation.release ?? 0];
  if (!joint || !release) return [];
  switch (release.action) {
    case "unscrew":
      return [
        screwsOut(
          screws.filter((screw) => screw.joint === joint.id),
          say,
        ),
      ];
    case "unplug":
      return [joint.power ? say("true.power") : say("true.unplug")];
    case "peel":
      return [say("true.peel")];
    case "pull":
      return [say("true.pull")];
    case "desolder":
      return [say("true.cold")];
    default:
      return [say("true.free"), ...warmed()];
  }
}

/** "2 out, 4.2 mm: 1A, 2A"; of several lengths how many of each. */
function screwsOut(screws: readonly NumberedScrew[], say: Say): string {
  const ids = spans(screws);
  const counts = new Map<number, number>();
  for (const { length } of screws) if (length !== undefined) counts.set(length, (counts.get(length) ?? 0) + 1);
  const known = [...counts.values()].reduce((sum, one) => sum + one, 0);
  if (known < screws.length) return say("true.unscrew.unknown", { n: screws.length, ids });
  const lengths = [...counts]
    .map(([length, n]) => (counts.size === 1 ? `${length} mm` : `${n} × ${length} mm`))
    .join(", ");
  return say("true.unscrew", { n: screws.length, lengths, ids });
}

function cautionsOf(record: TeardownRecord, swap: Swap, say: Say, words: Words): string[] {
  const releases = swap.wayIn.operations.flatMap((operation) => {
    const joint = record.joints.find(({ id }) => id === operation.joint);
    const release = joint?.releases[operation.release ?? 0];
    return joint && release ? [{ joint, release }] : [];
  });
  const hazards = new Set(releases.flatMap(({ release }) => release.hazard ?? []));
  const moved = new Set(swap.wayIn.operations.flatMap(({ part }) => part ?? []));
  const flagged = (flag: "esd" | "laser" | "magnet"): string =>
    record.parts
      .filter((part) => part[flag] && moved.has(part.id))
      .map(({ id }) => words.part(id))
      .join(", ");
  const glass = releases.some(({ joint }) =>
    joint.holds.some((id) => /glass/i.test(record.parts.find((part) => part.id === id)?.material ?? "")),
  );
  const list: string[] = [
    ...swap.intake.map(({ condition }) => say(`intake.${condition}` as WordKey)),
    ...(record.parts.some(({ role }) => role === "battery") ? [say("caution.cell")] : []),
    ...(releases.some(({ release }) => release.heat) ? [say("caution.heat")] : []),
    ...(releases.some(({ release }) => release.solvent) ? [say("caution.solvent")] : []),
    ...(hazards.has("puncture") ? [say("caution.puncture")] : []),
    ...(hazards.has("short") ? [say("caution.short")] : []),
    ...(hazards.has("shard") || glass ? [say("caution.glass")] : []),
    ...(hazards.has("fume") ? [say("caution.fume")] : []),
    ...(hazards.has("burn") ? [say("caution.burn")] : []),
  ];
  for (const [flag, key] of [
    ["esd", "caution.still"],
    ["laser", "caution.laser"],
    ["magnet", "caution.magnet"],
  ] as const) {
    const parts = flagged(flag);
    if (parts !== "") list.push(say(key, { parts }));
  }
  return [...list, say("caution.rules")];
}
