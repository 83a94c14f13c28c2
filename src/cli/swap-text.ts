/** A swap for people, 80 columns wide. */
import type { Money, TeardownRecord } from "../core/record/index.ts";
import type { Swap, SwapBackOperation } from "../core/service/swap/index.ts";
import { operationWords } from "../figures/index.ts";
import { wrap } from "./wrap.ts";

export function swapText(record: TeardownRecord, swap: Swap): string {
  const name = namer(record);
  const { seconds, price, repairUpTo } = swap;
  const lines: string[] = [
    `Replace ${swap.replace.map(name).join(", ")}`,
    "",
    `Hands on ${minutes(seconds.p50)} (half of jobs), ${minutes(seconds.p90)} (nine in ten).`,
    `Until everything has cured ${minutes(seconds.elapsed)}.`,
    price === null
      ? `No price: ${swap.why}`
      : `Price ${price.p50} ${price.currency}, from ${price.p10} to ${price.p90} (8 of 10 jobs).`,
    repairUpTo === null
      ? "The price of the device is not recorded: up to what price repair pays cannot be told."
      : `Repair pays up to ${repairUpTo.amount} ${repairUpTo.currency} (${repairUpTo.low} to ${repairUpTo.high}).`,
    ...swap.intake.map(({ changes }) => changes),
    ...swap.risk.hazards.map(({ joint, hazard, who }) => `Caution, ${hazard} at ${joint}: ${who}`),
    "A swollen, hot or venting cell: no heat, no prying; leave it, ventilate, follow your site's rules.",
    "",
    "At hand",
    ...swap.parts.map((part) => `  ${part.amount} × ${part.name}: ${money(part.price)}`),
    ...swap.consumables.map((one) => `  ${one.amount.value} ${unit(one.amount.unit)} ${one.name}: ${money(one.price)}`),
    ...swap.tools.map((tool) => `  ${tool.name}${tool.brought ? " (comes with the spare)" : ""}`),
    "",
    `Way in, ${minutes(swap.wayIn.seconds)}`,
    ...swap.wayIn.operations.map((operation) => `  ${operationWords(record, operation).full}`),
    "",
    `Way back, ${minutes(swap.wayBack.handsOn)} hands on`,
    ...swap.wayBack.operations.flatMap((operation) => backLines(operation, name)),
    "",
    ...swap.branches.map(
      (branch) => `May fail at ${branch.joint}: ${percent(branch.chance)}, then ${minutes(branch.seconds)} more.`,
    ),
    `Chance of damage ${percent(swap.risk.chance)}${swap.risk.expected === null ? "" : `, expected ${money(swap.risk.expected)}`}.`,
    ...frontLines(swap),
    ...(swap.ownTimes.length === 0
      ? []
      : [
          `Own times against standard: ${swap.ownTimes.map(({ action, ratio, n }) => `${action} ${ratio.toFixed(2)} (${n})`).join(", ")}.`,
        ]),
    "",
    "Assumptions",
    ...swap.assumptions.map((text) => `  ${text}`),
    ...(swap.warnings.length === 0 ? [] : ["", "Warnings", ...swap.warnings.map((text) => `  ${text}`)]),
  ];
  return `${lines.map(fold).join("\n")}\n`;
}

/** More than one point: time can be given for safety. */
function frontLines({ front = [] }: Swap): string[] {
  if (front.length < 2) return [];
  return [
    "",
    "Time against risk of the way in (--cap-risk chooses)",
    ...front.map(
      ({ seconds, risk, proved }) =>
        `  ${minutes(seconds)}, expected damage ${money(risk)}${proved ? "" : ", not proved"}`,
    ),
    "",
  ];
}

function backLines(operation: SwapBackOperation, name: (id: string) => string): string[] {
  switch (operation.kind) {
    case "test-stop":
      return [
        `  -- Test before ${name(operation.joint)} (${operation.because}): ${operation.tests.join(", ") || "nothing can be tried yet"}`,
      ];
    case "pair":
      return [`  Pair ${name(operation.part)} (${operation.does.join(", ")})`];
    case "prove":
      return [`  Prove: ${operation.tests.join(", ") || "no function was disturbed"}`];
    case "refit":
      return [
        ...(operation.relaid ?? []).map((laid) => `  lay ${name(laid.joint)} new`),
        `  put back ${name(operation.part ?? "")}`,
      ];
    case "unshift":
      return [`  move back ${name(operation.part ?? "")}`];
    case "close": {
      const { fasten, laid } = operation;
      const torque = fasten
        ? `, ${fasten.count} × ${fasten.drive}${fasten.torque === null ? "" : `, ${fasten.torque} cN.m${fasten.torqueIs === "stated" ? "" : " read while undoing"}`}`
        : "";
      const bond = laid
        ? `${laid.press > 0 ? `, press ${minutes(laid.press)}` : ""}${laid.cure > 0 ? `, cures ${minutes(laid.cure)}` : ""}`
        : "";
      return [`  close ${name(operation.joint ?? "")}${operation.new ? ", new" : ""}${torque}${bond}`];
    }
  }
}

function namer(record: TeardownRecord): (id: string) => string {
  const names = new Map(record.parts.map((part) => [part.id, part.name]));
  return (id) => names.get(id) ?? id;
}

const money = (value: Money | null): string =>
  value === null ? "price not known" : `${value.amount} ${value.currency}`;
const unit = (name: string): string => (name === "1" ? "×" : name);
const percent = (share: number): string => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;
const minutes = (seconds: number): string =>
  seconds < 90
    ? `${Math.round(seconds)} s`
    : seconds < 5400
      ? `${Math.round(seconds / 60)} min`
      : `${(seconds / 3600).toFixed(1)} h`;

function fold(line: string): string {
  const indent = line.slice(0, line.length - line.trimStart().length);
  return line.trim() === "" ? "" : wrap(line.trim(), 80, indent, `${indent}  `);
}
