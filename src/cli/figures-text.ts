/** The figures of a record as text, at most 80 columns wide. */
import type { Budget, ClaimVerdict, Figures, ThicknessBudget } from "../core/measure/index.ts";
import { fixed, resultText, roundUncertainty } from "../core/measure/index.ts";
import type { TeardownRecord } from "../core/record/index.ts";
import { STRIP_LEGEND, stripText } from "./strip-text.ts";
import { wrap } from "./wrap.ts";

const WIDTH = 80;
const STRIP = 61;

export function figuresText(record: TeardownRecord, figures: Figures, all: boolean): string {
  const blocks = [
    `${record.device.name}: figures\n`,
    section("Mass", budgetText(record, figures.mass, "device", figures.mass.device, "g")),
    ...figures.thickness.map((stack) => section(`Thickness, ${stack.name}`, stackText(record, stack))),
    section("Battery", batteryText(figures)),
    figures.claims.length === 0
      ? ""
      : section("Claims", `  ${STRIP_LEGEND}\n${figures.claims.map(claimText).join("")}`),
    figures.flags.length === 0 ? "" : section("Hardly right", figures.flags.map(({ text }) => item(text)).join("")),
    figures.plan.length + figures.open.length === 0
      ? ""
      : section("To make a claim decidable, cheapest first", planText(figures)),
    readingsText(figures, all),
    figures.warnings.map((text) => item(text)).join(""),
  ];
  return blocks.filter((block) => block !== "").join("\n");
}

function section(title: string, body: string): string {
  return `${title}\n${body}`;
}

const item = (text: string, mark = "-"): string => `${wrap(text, WIDTH, `  ${mark} `, "    ")}\n`;
const line = (label: string, text: string): string => `${wrap(text, WIDTH, `  ${label.padEnd(14)}`, " ".repeat(16))}\n`;

function budgetText(record: TeardownRecord, budget: Budget, whole: string, value: number | null, unit: string): string {
  const digits = budget.U !== null && budget.U > 0 ? roundUncertainty(budget.U).place : -2;
  const number = (x: number | null) => (x === null ? "not measured" : `${fixed(x, digits)} ${unit}`);
  const names = (ids: readonly string[]) =>
    ids.map((id) => record.parts.find((part) => part.id === id)?.name ?? id).join(", ");
  let text = line(whole, number(value)) + line("sum", budget.sum === null ? "nothing measured" : number(budget.sum));
  if (budget.residual !== null && budget.U !== null) {
    const left = budget.residual < 0 ? "too much" : "unaccounted for";
    text += line("residual", `${resultText(budget.residual, budget.U, unit)} ${left}`);
  }
  text += line("closes", closesText(budget));
  if (budget.missing.length > 0) text += line("not measured", names(budget.missing));
  for (const check of budget.checks) {
    const difference = resultText(check.difference, 1.96 * check.u, unit);
    text += item(
      `${check.reading} against ${check.against.join(" + ")}: ${difference}, ${check.agrees ? "agrees" : "does not agree"}`,
    );
  }
  return text + budget.warnings.map((warning) => item(warning)).join("");
}

function closesText(budget: Budget): string {
  if (budget.closes === null) return budget.missing.length > 0 ? "cannot be told: parts are missing" : "cannot be told";
  return `${budget.closes ? "yes" : "no"} (z ${budget.z!.toFixed(2)}, p ${budget.p! < 0.001 ? "below 0.001" : budget.p!.toFixed(3)})`;
}

function stackText(record: TeardownRecord, stack: ThicknessBudget): string {
  const text = budgetText(record, stack, "body", stack.body, "mm");
  if (stack.tolerance === undefined) return text;
  const { worst, rss, inflated } = stack.tolerance;
  const spread = [worst, rss, inflated].map((x) => x.toFixed(3)).join(" / ");
  return `${text}${line("tolerance", `worst case / RSS / 1.5 RSS: ${spread} mm (${stack.tolerance.assumption}; another question than closure)`)}`;
}

function batteryText({ battery }: Figures): string {
  const { energy, perKg, perL, share } = battery.detail;
  let text = energy === undefined ? "" : line("energy", energy.text);
  if (perKg !== undefined) text += line("per mass", perKg.text);
  if (perL !== undefined) text += line("per volume", perL.text);
  if (share !== undefined) text += line("of the body", resultText(share.value * 100, share.U * 100, "%"));
  for (const remark of [...battery.assumptions, ...battery.transport, ...battery.warnings]) text += item(remark);
  return text;
}

const VERDICTS = { supported: "supported", "not-supported": "not supported", "cannot-tell": "cannot tell" } as const;

function claimText(claim: ClaimVerdict): string {
  const p =
    claim.probability === null
      ? ""
      : `, P ${claim.probability > 0.9995 ? "> 0.999" : claim.probability < 0.0005 ? "< 0.001" : claim.probability.toFixed(3)}`;
  const rests =
    claim.restsOn.length === 0
      ? ""
      : ` Rests on ${claim.restsOn.length > 6 ? `${claim.restsOn.length} readings` : claim.restsOn.join(", ")}.`;
  const strip = stripText(claim, STRIP);
  const shared = claim.shared.length === 0 ? "" : ` Shared: ${claim.shared.join(", ")}.`;
  return (
    `${wrap(`"${claim.text}"`, WIDTH, `  ${claim.id}  `, "    ")}\n` +
    `    ${VERDICTS[claim.verdict].toUpperCase()}${p}\n` +
    (strip === null ? "" : `    ${strip}\n`) +
    `${wrap(`${claim.wording}${rests}${shared}`, WIDTH, "    ", "    ")}\n`
  );
}

function planText(figures: Figures): string {
  const steps = figures.plan.filter((step) => step.cheapest);
  return [...steps, ...figures.open].map((step) => item(`${step.claim}: ${step.text}`)).join("");
}

function readingsText(figures: Figures, all: boolean): string {
  const remarks = new Map<string, number>();
  for (const { warnings } of figures.readings)
    for (const text of warnings) remarks.set(text, (remarks.get(text) ?? 0) + 1);
  const said = [...remarks].map(([text, n]) => item(`${text} (${n} reading${n === 1 ? "" : "s"})`)).join("");
  if (!all) return section(`Readings: ${figures.readings.length} (--readings lists them)`, said);
  const rows = figures.readings.map((r) => {
    const dof = Number.isFinite(r.dof) ? r.dof.toFixed(1) : "inf";
    return `${wrap(`${r.of.join(" + ")}: ${r.quantity} ${r.text}, dof ${dof}`, WIDTH, `  ${r.id}  `, "      ")}\n`;
  });
  return section(`Readings: ${figures.readings.length}`, rows.join("") + said);
}
