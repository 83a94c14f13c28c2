import type { Condition, PriorityRole } from "../../core/record/index.ts";
import type { WayIn } from "../../core/route/ways/types.ts";
import { spokenTime } from "../../figures/index.ts";

export const CONDITION_WORDS: Readonly<Record<Condition, string>> = {
  swollen: "cell swollen",
  wet: "wet",
  "cracked-back": "back cracked",
  "cracked-display": "display cracked",
  "opened-before": "opened before",
  corroded: "corroded",
  "no-power": "no power",
};

export const ROLE_WORDS: Readonly<Record<PriorityRole, string>> = {
  battery: "battery",
  display: "display assembly",
  "back-cover": "back cover",
  "front-camera": "front camera",
  "rear-camera": "rear camera",
  "charging-port": "charging port",
  button: "buttons",
  "main-microphone": "main microphone",
  speaker: "speakers",
  hinge: "hinge",
};

export const money = (value: { amount: string; currency: string } | null): string =>
  value === null ? "no prices recorded" : `${Number(value.amount).toFixed(2)} ${value.currency}`;

/** What the proof says, in one sentence. */
export function proofWords(way: WayIn): string {
  const least = {
    seconds: ["no order of work is faster", spokenTime(way.lowerBound)],
    steps: ["no order of work has fewer legal steps", `${way.lowerBound} steps`],
    risk: ["no order of work risks less", `${way.lowerBound.toFixed(2)} ${way.risk?.currency ?? ""}`.trim()],
  }[way.least] as [string, string];
  if (way.proved) return `Proved: ${least[0]}.`;
  return `Not proved in the time given: this is the best found, and none can be below ${least[1]}.`;
}

type Cost = Pick<WayIn, "seconds" | "steps">;

/** What another way in takes less or more. */
export function differenceWords(before: Cost, after: Cost): string {
  const seconds = before.seconds - after.seconds;
  const steps = before.steps - after.steps;
  const time =
    Math.abs(seconds) < 0.05 ? "no time saved" : `${spokenTime(Math.abs(seconds))} ${seconds > 0 ? "less" : "more"}`;
  const count =
    steps === 0
      ? "as many steps"
      : `${Math.abs(steps)} ${Math.abs(steps) === 1 ? "step" : "steps"} ${steps > 0 ? "fewer" : "more"}`;
  return `${time}, ${count}.`;
}
