/**
 * The ledger of a work sheet as data: what lies bare, do, in hand, true before you go on; a change of tool or a turn is a rule
 * across. The way in, the way back, what may go otherwise and the cautions, in the words of one list.
 */
import type { Joint, Part, TeardownRecord } from "../core/record/index.ts";
import type { WayOperation } from "../core/route/ways/types.ts";
import type { Laid, Swap, SwapBackOperation } from "../core/service/swap/index.ts";
import type { Scene } from "../figures/index.ts";
import { type NumberedScrew, numberScrews, stagesOf } from "./screw-numbers.ts";
import { type PlanState, planOf } from "./small-plan.ts";
import type { Say, WordKey } from "./words/index.ts";

export type LedgerRow =
  | { readonly kind: "part"; readonly title: string }
  | { readonly kind: "rule"; readonly text: string }
  | {
      readonly kind: "work";
      /** Stands at the first row of a stage. */
      readonly plan?: { readonly scene: Scene | null; readonly caption: string };
      readonly does: readonly string[];
      readonly hand: string;
      readonly true: readonly string[];
      /** Heat or softness: the warm wash. */
      readonly warm?: true;
    };

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

/** Names and numbers as a sheet says them. */
export class Words {
  private readonly parts: ReadonlyMap<string, Part>;
  private readonly base: string | undefined;
  readonly say: Say;

  constructor(record: TeardownRecord, say: Say) {
    this.parts = new Map(record.parts.map((part) => [part.id, part]));
    this.base = record.parts.find((part) => part.base)?.id;
    this.say = say;
  }

  part(id: string): string {
    return this.parts.get(id)?.name ?? id;
  }

  of(joint: Joint): string {
    const held = joint.holds.filter((id) => id !== this.base);
    return (held.length > 0 ? held : joint.holds).map((id) => this.part(id)).join(" / ");
  }

  what(joint: Joint): string {
    const n = joint.count ?? 1;
    const kind = this.say(`joint.${joint.kind}` as WordKey, { n });
    return n === 1 ? kind : `${n} ${kind}`;
  }

  time(seconds: number): string {
    if (seconds < 90) return `${Math.round(seconds)} ${this.say("unit.s")}`;
    if (seconds < 5400) return `${Math.round(seconds / 60)} ${this.say("unit.min")}`;
    return `${Math.round(seconds / 360) / 10} ${this.say("unit.h")}`;
  }
}

function handOf(record: TeardownRecord, tools: readonly string[], say: Say): string {
  if (tools.length === 0) return say("hand.none");
  return tools.map((id) => record.tools.find((tool) => tool.id === id)?.name ?? id).join(" + ");
}

function ruleFor(
  record: TeardownRecord,
  operation: Pick<WayOperation, "fetch" | "turn" | "tools"> & { side?: string },
  say: Say,
): LedgerRow[] {
  const texts = [
    ...(operation.turn && operation.side !== undefined
      ? [say("turn", { side: say(`side.${operation.side}` as WordKey) })]
      : []),
    ...(operation.fetch.length > 0 ? [say("take", { tools: handOf(record, operation.tools, say) })] : []),
  ];
  return texts.length === 0 ? [] : [{ kind: "rule", text: texts.join(" · ") }];
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

/** Runs of numbers of one stage: "3–8B". */
export function spans(screws: readonly NumberedScrew[]): string {
  const out: string[] = [];
  for (let i = 0; i < screws.length; ) {
    let j = i;
    while (
      j + 1 < screws.length &&
      screws[j + 1]!.number === screws[j]!.number + 1 &&
      screws[j + 1]!.stage === screws[i]!.stage
    )
      j += 1;
    const [a, b] = [screws[i]!, screws[j]!];
    out.push(a === b ? a.label : `${a.number}–${b.number}${a.stage}`);
    i = j + 1;
  }
  return out.join(", ");
}

function backRows(record: TeardownRecord, swap: Swap, words: Words, screws: readonly NumberedScrew[]): LedgerRow[] {
  const { say } = words;
  const { operations } = swap.wayBack;
  const inside = (part: string): string[] => [
    part,
    ...record.parts.filter(({ within }) => within === part).flatMap(({ id }) => inside(id)),
  ];
  const away = new Set(
    swap.wayIn.operations.flatMap(({ kind, part }) =>
      part === undefined ? [] : kind === "lift" ? inside(part) : [part],
    ),
  );
  const released = new Set(swap.wayIn.operations.flatMap(({ joint }) => (joint === undefined ? [] : [joint])));
  const isMove = (operation: SwapBackOperation | undefined): boolean =>
    operation?.kind === "refit" || operation?.kind === "unshift";
  let seen: PlanState["seen"] =
    swap.wayIn.operations.findLast(({ side }) => side !== undefined)?.side === "front" ? "front" : "back";
  return operations.flatMap((operation, index): LedgerRow[] => {
    const sideOf = sideFor(record, operation);
    if (sideOf === "front" || sideOf === "back") seen = sideOf;
    const begins = index === 0 || (isMove(operation) && !isMove(operations[index - 1]));
    let plan = {};
    if (begins) {
      const group = [operation];
      for (let i = index + 1; i < operations.length && !(isMove(operations[i]) && !isMove(operations[i - 1])); i += 1)
        group.push(operations[i]!);
      const moved = new Set(
        group.flatMap((one) => (isMove(one) && "part" in one && one.part !== undefined ? [one.part] : [])),
      );
      const closing = new Set(
        group.flatMap((one) => (one.kind === "close" && one.joint !== undefined ? [one.joint] : [])),
      );
      for (const part of moved) for (const one of inside(part)) away.delete(one);
      for (const joint of closing) released.delete(joint);
      const caption = say(`seen.${seen}`);
      plan = {
        plan: {
          scene: planOf(
            record,
            { seen, away: new Set(away), released: new Set(released), parts: moved, joints: closing },
            caption,
          ),
          caption,
        },
      };
    }
    const row = backRow(record, swap, operation, words, screws);
    return [
      ...ruleFor(record, { ...operation, ...(sideOf === undefined ? {} : { side: sideOf }) }, say),
      { kind: "work", ...plan, ...row },
    ];
  });
}

function sideFor(record: TeardownRecord, operation: SwapBackOperation): string | undefined {
  if (operation.kind === "close") return record.joints.find(({ id }) => id === operation.joint)?.side;
  if (operation.kind === "refit" || operation.kind === "unshift")
    return record.parts.find(({ id }) => id === operation.part)?.side;
  return undefined;
}

type Work = Omit<Extract<LedgerRow, { kind: "work" }>, "kind" | "plan">;

function backRow(
  record: TeardownRecord,
  swap: Swap,
  operation: SwapBackOperation,
  words: Words,
  screws: readonly NumberedScrew[],
): Work {
  const { say } = words;
  const hand = handOf(record, operation.tools, say);
  switch (operation.kind) {
    case "test-stop":
      return {
        does: [
          operation.tests.length > 0 ? say("back.test", { tests: operation.tests.join(", ") }) : say("back.test.none"),
          ...(operation.cell === "for-the-test" ? [say("back.test.cell")] : []),
        ],
        hand,
        true: operation.tests.length > 0 ? [say("true.test")] : [],
      };
    case "pair":
      return {
        does: [
          say("back.pair", {
            part: words.part(operation.part),
            does: operation.does.map((one) => say(`back.pair.${one}`)).join(", "),
          }),
        ],
        hand,
        true:
          operation.ifUnpaired === undefined
            ? []
            : [say("true.pair", { consequence: say(`true.pair.${operation.ifUnpaired}` as WordKey) })],
      };
    case "prove":
      return {
        does: [
          operation.tests.length > 0
            ? say("back.prove", { tests: operation.tests.join(", ") })
            : say("back.prove.none"),
        ],
        hand,
        true: [
          say("true.prove"),
          ...(screws.length > 0 ? [say("true.count", { n: screws.length })] : []),
          say("true.tight"),
        ],
      };
    case "refit": {
      const isNew = swap.replace.includes(operation.part ?? "");
      const relaid = operation.relaid ?? [];
      const texts = relaid.flatMap((laid) => {
        const joint = record.joints.find(({ id }) => id === laid.joint);
        const lay = joint ? say("back.bond.new", { of: words.of(joint), what: words.what(joint) }) : laid.joint;
        return [lay, ...layingWords(record, laid, words)];
      });
      return {
        does: [say(isNew ? "back.refit.new" : "back.refit", { part: words.part(operation.part ?? "") }), ...texts],
        hand,
        true: [say("true.refit"), ...relaid.flatMap((laid) => laidWords(laid, words))],
      };
    }
    case "unshift":
      return {
        does: [say("back.unshift", { part: words.part(operation.part ?? "") })],
        hand,
        true: [say("true.refit")],
      };
    case "close":
      return closeRow(record, operation, words, screws, hand);
  }
}

function closeRow(
  record: TeardownRecord,
  operation: Extract<SwapBackOperation, { kind: "close" | "refit" | "unshift" }>,
  words: Words,
  screws: readonly NumberedScrew[],
  hand: string,
): Work {
  const { say } = words;
  const joint = record.joints.find(({ id }) => id === operation.joint);
  if (!joint) return { does: [operation.joint ?? ""], hand, true: [] };
  const values = {
    n: joint.count ?? 1,
    of: words.of(joint),
    what: words.what(joint),
    drive: joint.screws?.drive ?? "",
  };
  const { laid, fasten } = operation;
  const laying = laid ? layingWords(record, laid, words) : [];
  const after = laid ? laidWords(laid, words) : [];
  if (joint.kind === "screw") {
    const own = screws.filter((screw) => screw.joint === joint.id);
    return {
      does: [say("back.screws", values).replace(/: $/, ""), ...(own.length > 0 ? [spans(own)] : []), ...laying],
      hand,
      true: [...(fasten ? torqueLines(fasten, say) : [say("true.torque.none")]), ...after],
    };
  }
  if (joint.kind === "connector")
    return {
      does: [say("back.connector", values), ...laying],
      hand,
      true: [say("true.connector"), ...(joint.power ? [say("true.last")] : [])],
    };
  if (joint.kind === "solder" || joint.kind === "weld")
    return { does: [say("back.solder", values), ...laying], hand, true: [say("true.cold")] };
  const bond =
    joint.kind === "adhesive" || joint.kind === "tape" || joint.kind === "debondable-adhesive" || joint.kind === "seal";
  const key: WordKey = bond
    ? operation.new
      ? "back.bond.new"
      : "back.bond"
    : operation.new
      ? "back.other.new"
      : "back.other";
  return { does: [say(key, values), ...laying], hand, true: after };
}

/** What has to be done and taken before a bond is laid. */
function layingWords(record: TeardownRecord, laid: Laid, words: Words): string[] {
  const { say } = words;
  return [
    ...(laid.clean > 0 ? [say("back.clean", { time: words.time(laid.clean) })] : []),
    ...laid.uses.map(({ consumable, amount }) =>
      say("back.uses", {
        amount: amount.unit === "1" ? `${amount.value} ×` : `${amount.value} ${amount.unit}`,
        name: record.consumables?.find(({ id }) => id === consumable)?.name ?? consumable,
      }),
    ),
  ];
}

function laidWords(laid: Laid, words: Words): string[] {
  const { say } = words;
  return [
    ...(laid.press > 0 ? [say("true.press", { time: words.time(laid.press) })] : []),
    ...(laid.cure > 0 ? [say("true.cure", { time: words.time(laid.cure) })] : []),
  ];
}

function torqueLines(
  fasten: { torque: number | null; torqueIs?: string; breaking: number | null },
  say: Say,
): string[] {
  const { torque, breaking } = fasten;
  if (torque === null) return [say("true.torque.none")];
  return [
    fasten.torqueIs === "stated" ? say("true.torque", { torque }) : say("true.torque.backoff", { torque }),
    ...(breaking === null
      ? [say("true.torque.thread")]
      : torque > breaking / 2
        ? [say("true.torque.high", { breaking })]
        : [say("true.torque.breaks", { breaking })]),
  ];
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
