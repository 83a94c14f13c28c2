/** What is not known yet and can be learned on the bench: open questions, undecided claims, gaps of the record. */
import type { RankedQuestion } from "../../law/questions.ts";
import type { PlanStep } from "../../measure/index.ts";
import type { Claim, Joint, TeardownRecord } from "../../record/index.ts";
import { type FirstReading, firstReadings } from "./first-readings.ts";
import { type BenchState, Sight } from "./states.ts";

export type WantKind = "question" | "claim" | "length" | "place" | "fastener" | "photograph";

export interface Worth {
  /** The class may move by the answer: from and to. */
  readonly class?: readonly [string | null, string | null];
  /** Seconds of a way in that hang on it. */
  readonly seconds?: number;
  /** A claim that it decides. */
  readonly claim?: string;
  /** A claim needs this, and other readings beside it. */
  readonly among?: true;
  /** Nothing that was computed hangs on it: it completes the record. */
  readonly record?: true;
}

export interface Want {
  readonly id: string;
  readonly kind: WantKind;
  /** What to do: "weigh Bracket and Shield together". */
  readonly does: string;
  /** Seconds that it takes. */
  readonly seconds: number;
  readonly worth: Worth;
  /** Whether it can be settled in a state. */
  readonly when: (state: BenchState) => boolean;
}

/** Seconds on the bench, hands and eyes ready: common practice, no source. A measurement's come from its plan. */
export const LOOK = 5;
export const LENGTH_EACH = 8;
export const PLACE = 10;
export const FASTENER = 5;
export const PHOTOGRAPH = 8;

export interface Known {
  readonly questions: readonly RankedQuestion[];
  readonly plan: readonly PlanStep[];
  /** The other device, where claims compare with it. */
  readonly sibling?: TeardownRecord | undefined;
}

/** One weighing or gauging with the instrument in hand, as the measuring plan counts it. */
export const FIRST_READING = 21;

export function wantsOf(record: TeardownRecord, { questions, plan, sibling }: Known): Want[] {
  const sight = new Sight(record);
  const name = (id: string): string => record.parts.find((part) => part.id === id)?.name ?? id;
  const jointName = (joint: Joint): string => joint.holds.map(name).join(" and ");
  return [
    ...questions.map((question) => ofQuestion(record, sight, question)),
    ...plan.filter((step) => step.cheapest).map((step) => ofClaim(record, sight, step, name)),
    ...firstReadings(record, sibling).map((one) => ofReading(record, sight, one, name)),
    ...record.joints.flatMap((joint) => ofScrews(sight, joint, jointName)),
    ...photographs(record, sight, name),
  ];
}

function ofQuestion(record: TeardownRecord, sight: Sight, question: RankedQuestion): Want {
  const part = record.parts.find((one) => one.id === question.relation);
  const joint = record.joints.find((one) => one.id === question.relation);
  const [best, worst] = question.seconds;
  const classes = question.class;
  return {
    id: `question ${question.relation}`,
    kind: "question",
    does: `look: ${question.asks}`,
    seconds: LOOK,
    worth: {
      ...(classes[0] === classes[1] ? {} : { class: classes }),
      ...(best === null || worst === null || best === worst ? {} : { seconds: Math.abs(worst - best) }),
      ...(question.matters ? {} : { record: true as const }),
    },
    when: (state) =>
      part !== undefined
        ? sight.tells(part.id, part.under ?? [], !sight.away(part.id, state), state)
        : joint !== undefined && sight.tells(joint.id, joint.reach ?? [], !state.released.has(joint.id), state),
  };
}

function ofClaim(record: TeardownRecord, sight: Sight, step: PlanStep, name: (id: string) => string): Want {
  const claim: Claim | undefined = record.claims.find((one) => one.id === step.claim);
  const mass = step.readings.every((id) => record.readings.find((one) => one.id === id)?.quantity === "mass");
  const parts = [...new Set(step.of.flat())].filter((id) => record.parts.some((part) => part.id === id));
  const whole = step.of.some((of) => of.includes("device"));
  return {
    id: `claim ${step.claim}`,
    kind: "claim",
    does: `${mass ? "weigh" : "measure"} ${whole ? "the closed device" : parts.map(name).join(" and ")} ${step.repeats} times with ${step.instrument}`,
    seconds: step.seconds,
    worth: { claim: claim?.text ?? step.claim },
    when: (state) => (whole ? state.lifted.size === 0 : parts.every((part) => sight.held(part, parts, state))),
  };
}

function ofReading(record: TeardownRecord, sight: Sight, first: FirstReading, name: (id: string) => string): Want {
  const { of, quantity, instrument, claims, on, off } = first;
  const like = [...on.map((one) => `with ${one}`), ...off.map((one) => `without ${one}`)].join(", ");
  const what = of.map((id) => (id === "device" ? "the closed device" : name(id))).join(" and ");
  const does =
    quantity === "count"
      ? `count on ${of.includes("device") ? "the device" : what} what is claimed`
      : instrument === null
        ? `read the ${quantity} printed on ${what}`
        : quantity === "mass"
          ? `weigh ${what}${of.length > 1 ? " together" : ""} with ${instrument}`
          : `measure the ${quantity} of ${what} with ${instrument}`;
  const text = (id: string): string => record.claims.find((claim) => claim.id === id)?.text ?? id;
  return {
    id: `reading ${quantity} ${of.join(" ")}`,
    kind: "claim",
    does: like === "" ? does : `${does}, ${like}, as the other device was`,
    seconds: instrument === null ? LOOK : FIRST_READING,
    worth: { claim: claims.map(text).join("” and “"), ...(first.alone ? {} : { among: true as const }) },
    when: (state) => (of.includes("device") ? state.lifted.size === 0 : of.every((id) => sight.held(id, of, state))),
  };
}

function ofScrews(sight: Sight, joint: Joint, name: (joint: Joint) => string): Want[] {
  if (joint.kind !== "screw") return [];
  const count = joint.count ?? 1;
  const each = joint.screws?.each ?? [];
  const wants: Want[] = [];
  const lengths =
    joint.screws?.length !== undefined || (each.length >= count && each.every((one) => one.length !== undefined));
  if (!lengths)
    wants.push({
      id: `length ${joint.id}`,
      kind: "length",
      does: `measure the ${count === 1 ? "screw" : `${count} screws`} of ${name(joint)} under the head`,
      seconds: LENGTH_EACH * count,
      worth: { record: true },
      when: (state) => state.released.has(joint.id),
    });
  if (each.length < count || each.some((one) => one.at === undefined))
    wants.push({
      id: `place ${joint.id}`,
      kind: "place",
      does: `photograph where the ${count === 1 ? "screw" : "screws"} of ${name(joint)} ${count === 1 ? "sits" : "sit"}`,
      seconds: PLACE,
      worth: { record: true },
      when: (state) => sight.reached(joint, state) && joint.holds.some((part) => !sight.away(part, state)),
    });
  if (joint.screws?.drive === undefined)
    wants.push({
      id: `fastener ${joint.id}`,
      kind: "fastener",
      does: `say the drive of the screws of ${name(joint)}`,
      seconds: FASTENER,
      worth: { record: true },
      when: (state) => state.released.has(joint.id) || sight.reached(joint, state),
    });
  return wants;
}

/** Parts that the law or a shop asks for, of which no picture in place is tied to an entry. */
function photographs(record: TeardownRecord, sight: Sight, name: (id: string) => string): Want[] {
  const pictures = new Set(
    record.log.filter((entry) => entry.media !== undefined).flatMap((entry) => entry.parts ?? []),
  );
  return record.parts
    .filter((part) => !part.base && (part.role !== undefined || part.outline === undefined) && !pictures.has(part.id))
    .map((part) => ({
      id: `photograph ${part.id}`,
      kind: "photograph" as const,
      does: `photograph ${name(part.id)} in its place`,
      seconds: PHOTOGRAPH,
      worth: { record: true as const },
      // Bare, and what holds it in sight: a relation that nobody wrote down must not make it seen at once.
      when: (state) => {
        const holding = record.joints.filter((joint) => joint.holds.includes(part.id));
        return (
          sight.bare(part.id, state) &&
          (holding.length === 0 || holding.some((joint) => state.released.has(joint.id) || sight.reached(joint, state)))
        );
      },
    }));
}
