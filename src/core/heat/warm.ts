/** The whole answer to a stack: what the programme does, the warm window, the rounds of a cut, what was assumed. */
import { materialEntry } from "./materials.ts";
import { type Remedy, remedies } from "./remedies.ts";
import { planRounds, type Rounds } from "./rounds.ts";
import { type Band, type KnownContact, sensitivity } from "./sensitivity.ts";
import { type FaceSeries, type Reached, type Simulation, simulate } from "./simulate.ts";
import type { Stack } from "./stack.ts";
import { AIR_COOL, AIR_HOT, heatingOf, type Window, type WindowAnswer, warmWindow } from "./window.ts";

export interface WarmQuestion {
  /** Seconds of cutting in all; adds `rounds`. */
  readonly cut?: number;
  /** Adds the band over what is not well known. */
  readonly band?: boolean;
  /** The pad's contact, where it was fitted: narrows the band. */
  readonly contact?: KnownContact;
}

export interface WarmAnswer {
  readonly reached: readonly Reached[];
  readonly faces: readonly FaceSeries[];
  readonly window: Window | null;
  /** Why there is no window, or no sequence of rounds. */
  readonly why?: string;
  /** Changes that would make a window, each tried; only where there is none. */
  readonly wouldHelp?: readonly Remedy[];
  readonly rounds?: Rounds | null;
  readonly band?: Band;
  /** |stored - summed flux| over the heat exchanged. */
  readonly energyError: number;
  readonly steps: number;
  readonly assumptions: readonly string[];
}

/** Everything after the programme itself has been run. */
export function warmAnswer(
  stack: Stack,
  question: WarmQuestion = {},
  simulation: Simulation = simulate(stack),
): WarmAnswer {
  const { refine } = simulation;
  const answer = warmWindow(stack, refine);
  const none = answer.kind === "none";
  const rounds = question.cut === undefined || none ? undefined : planRounds(stack, question.cut, refine);
  const why = none ? answer.why : rounds?.kind === "none" ? rounds.why : undefined;
  return {
    reached: simulation.reached,
    faces: simulation.faces,
    window: none ? null : answer.window,
    ...(why === undefined ? {} : { why }),
    ...(none ? { wouldHelp: remedies(stack, refine) } : {}),
    ...(question.cut === undefined ? {} : { rounds: rounds?.kind === "rounds" ? rounds.rounds : null }),
    ...(question.band === true ? { band: sensitivity(stack, answer, refine, question.contact) } : {}),
    energyError: simulation.energyError,
    steps: simulation.steps,
    assumptions: assumptionsOf(stack, answer),
  };
}

function assumptionsOf(stack: Stack, answer: WindowAnswer): string[] {
  const heating = heatingOf(stack);
  const found = [
    "Heat goes straight through the layers: nothing is lost sideways, so near corners and long metal frames the times are lower bounds. A source that is moved along a rim is not described by this model.",
    "Properties do not change with temperature.",
  ];
  found.push(
    `The window holds stage ${heating.stage + 1} of ${stack.programme.length}, the hottest (of equal ones the last).`,
  );
  if (heating.airAssumed)
    found.push(
      `After lift-off both faces are in air at ${stack.start} degC: ${AIR_HOT} W/(m2.K) on the hot side, ${AIR_COOL} on the cool side (usual for free convection and radiation, from memory).`,
    );
  if (answer.kind === "window") {
    const { to, after, counted } = answer.window;
    if (to === null)
      found.push(
        "No lift-off within an hour of the hottest stage passes a limit; `after` is that of a lift-off at the end of that hour.",
      );
    if (after === null && stack.lines.some((line) => line.watch.some((watch) => watch.soft !== undefined)))
      found.push("After a lift-off at `to` the bond stays soft for more than an hour.");
    const allowed = Math.min(
      ...stack.lines.flatMap((line) => line.watch.map((watch) => watch.counted?.seconds ?? Number.POSITIVE_INFINITY)),
    );
    if (counted !== undefined && counted > allowed)
      found.push(
        `A lift-off at \`to\` would use ${Math.round(counted)} counted seconds, more than the ${allowed} allowed: lift off earlier.`,
      );
  }
  const recalled = new Set<string>();
  for (const line of stack.lines) {
    for (const [i, layer] of line.layers.entries()) {
      const entry = layer.materialId === undefined ? undefined : materialEntry(layer.materialId);
      if (entry?.k.mark === "recalled") recalled.add(`${entry.id} (${entry.k.value} W/(m.K): ${entry.k.source})`);
      if (i === line.layers.length - 1 && layer.contactAfter !== undefined)
        found.push(`${layer.name} is the last layer of its line: its contactAfter joins nothing and was left out.`);
    }
  }
  if (recalled.size > 0)
    found.push(`Conductivities from memory, to be replaced by your own: ${[...recalled].join("; ")}.`);
  if (heating.held.hot.h !== null && heating.held.hot.h > 0)
    found.push(
      `The contact of the heat source, ${heating.held.hot.h} W/(m2.K), decides most: fit it to a thermocouple log of your bench (--fit).`,
    );
  return found;
}
