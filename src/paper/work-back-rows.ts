/** The way back as rows of the ledger: what is laid, fastened with what torque, tested, paired and proved. */
import type { TeardownRecord } from "../core/record/index.ts";
import type { Laid, Swap, SwapBackOperation } from "../core/service/swap/index.ts";
import { handOf, type LedgerRow, ruleFor, spans, type Words } from "./ledger-words.ts";
import type { NumberedScrew } from "./screw-numbers.ts";
import { type PlanState, planOf } from "./small-plan.ts";
import type { Say, WordKey } from "./words/index.ts";

export function backRows(
  record: TeardownRecord,
  swap: Swap,
  words: Words,
  screws: readonly NumberedScrew[],
): LedgerRow[] {
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
