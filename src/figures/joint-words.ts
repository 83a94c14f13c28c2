import type { Joint } from "../core/record/index.ts";

const WORDS: Readonly<Record<Joint["kind"], readonly [string, string]>> = {
  screw: ["screw", "screws"],
  clip: ["clip", "clips"],
  "press-fit": ["press fit", "press fits"],
  connector: ["connector", "connectors"],
  adhesive: ["adhesive bond", "adhesive bonds"],
  tape: ["tape", "tapes"],
  "debondable-adhesive": ["debondable adhesive", "debondable adhesives"],
  magnet: ["magnet", "magnets"],
  solder: ["solder joint", "solder joints"],
  weld: ["weld", "welds"],
  "spring-contact": ["spring contact", "spring contacts"],
  seal: ["seal", "seals"],
};

/** "3 screws", "adhesive bond". */
export function jointWords(joint: Pick<Joint, "kind" | "count">): string {
  const count = joint.count ?? 1;
  const [one, many] = WORDS[joint.kind];
  return count === 1 ? one : `${count} ${many}`;
}

/** The same with what a hand needs to know: drive, heat. */
export function jointDetail(joint: Joint): string {
  const drive = joint.screws?.drive;
  const heat = joint.releases.find((release) => release.heat)?.heat;
  return [jointWords(joint), ...(drive ? [drive] : []), ...(heat ? [`heat to ${heat.bond} °C`] : [])].join(", ");
}
