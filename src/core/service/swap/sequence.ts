/**
 * The way back as a bench needs it: every operation with what it takes (torque, new bond, press and cure), the test stop in
 * its place, and at the end pairing and the proof.
 */
import type { Joint, Quantity, TeardownRecord } from "../../record/index.ts";
import type { BackOperation, WayBack } from "../../route/ways/back.ts";
import { remoteSteps, type WayIn } from "../../route/ways/index.ts";
import { releaseTime, SET_A } from "../../structure/index.ts";
import { type TorqueWords, torqueWords } from "../torque.ts";
import { releasesOf, type TestStop } from "./closing.ts";
import type { Needs } from "./needs.ts";
import type { Disturbed } from "./prove.ts";
import { HANDLING } from "./question.ts";

export interface Laid {
  readonly joint: string;
  readonly clean: number;
  readonly lay: number;
  readonly press: number;
  readonly cure: number;
  readonly uses: readonly { readonly consumable: string; readonly amount: Quantity }[];
  /** It comes with the spare. */
  readonly brought?: true;
}

export type SwapBackOperation =
  | (BackOperation & {
      readonly new?: true;
      readonly fasten?: TorqueWords & { readonly drive: string; readonly thread?: string; readonly count: number };
      readonly laid?: Laid;
      /** Bonds that let go by themselves and are laid new before this part goes back. */
      readonly relaid?: readonly Laid[];
    })
  | {
      readonly kind: "test-stop";
      readonly tests: readonly string[];
      readonly cell: TestStop["cell"];
      readonly joint: string;
      readonly because: string;
      readonly tools: readonly string[];
      readonly fetch: readonly string[];
      readonly turn: false;
      readonly at: number;
      readonly seconds: number;
    }
  | {
      readonly kind: "pair";
      readonly part: string;
      readonly remoteSteps: number;
      readonly does: readonly ("notification" | "authorisation")[];
      readonly ifUnpaired?: string;
      readonly tools: readonly string[];
      readonly fetch: readonly string[];
      readonly turn: false;
      readonly at: number;
      readonly seconds: number;
    }
  | {
      readonly kind: "prove";
      readonly tests: readonly string[];
      readonly tools: readonly string[];
      readonly fetch: readonly string[];
      readonly turn: false;
      readonly at: number;
      readonly seconds: number;
    };

export interface SwapBack {
  /** Hands on and pressing; curing runs by itself. */
  readonly seconds: number;
  readonly handsOn: number;
  /** From the start of the way back until the last bond has cured. */
  readonly elapsed: number;
  readonly proved: boolean;
  readonly operations: readonly SwapBackOperation[];
  readonly testStops: readonly TestStop[];
  readonly assumptions: readonly string[];
  readonly warnings: readonly string[];
}

export interface SequenceInput {
  readonly record: TeardownRecord;
  readonly way: WayIn;
  readonly back: WayBack;
  readonly stops: readonly TestStop[];
  readonly needs: Needs;
  readonly disturbed: Disturbed;
  readonly replace: readonly string[];
}

const NOTHING = { tools: [], fetch: [], turn: false } as const;

export function swapBack({ record, way, back, stops, needs, disturbed, replace }: SequenceInput): SwapBack {
  const releases = releasesOf(record, way);
  const operations: SwapBackOperation[] = [];
  const refitted = new Set<string>();
  let late = 0;
  let end = 0;
  let cured = 0;
  let handsOff = 0;
  const power = record.joints.find((joint) => joint.power);
  back.operations.forEach((operation, index) => {
    const stop = stops.find(({ before }) => before === index);
    if (stop) {
      const found = power === undefined || stop.cell !== "for-the-test" ? undefined : releases.get(power.id);
      // The cell is connected for the test and taken off again.
      const twice = found
        ? (2 * releaseTime(found.joint, found.release).ms + 2 * SET_A.fetch * found.release.tools.length) / 1000
        : 0;
      const seconds = round(stop.tests.length * HANDLING.prove + twice);
      const { tests, cell, joint, because } = stop;
      operations.push({ kind: "test-stop", tests, cell, joint, because, ...NOTHING, at: round(end), seconds });
      late += seconds;
      end += seconds;
    }
    const joint = operation.joint === undefined ? undefined : releases.get(operation.joint)?.joint;
    const relaid = operation.kind === "refit" ? relaidFor(record, needs, operation.part ?? "", refitted) : [];
    const extra = relaid.reduce((sum, one) => sum + one.clean + one.lay + one.press, 0);
    const at = round(operation.at + late + extra);
    late += extra;
    const laid = joint?.remake ? laidOf(joint, needs) : undefined;
    operations.push({
      ...operation,
      at,
      ...(operation.renew ? { new: true as const } : {}),
      ...(joint?.screws ? { fasten: fastenOf(joint) } : {}),
      ...(laid === undefined ? {} : { laid }),
      ...(relaid.length > 0 ? { relaid } : {}),
    });
    end = at + operation.seconds;
    for (const one of [...relaid, ...(laid ? [laid] : [])]) {
      cured = Math.max(cured, end + one.cure);
      handsOff += one.press;
    }
    if (operation.part !== undefined && operation.kind === "refit") refitted.add(operation.part);
  });
  for (const part of record.parts.filter(({ id }) => replace.includes(id))) {
    const steps = remoteSteps(record, [part.id]);
    if (steps === 0) continue;
    operations.push({
      kind: "pair",
      part: part.id,
      remoteSteps: steps,
      does: (["notification", "authorisation"] as const).filter((name) => part.pairing?.[name]),
      ...(part.ifUnpaired === undefined ? {} : { ifUnpaired: part.ifUnpaired }),
      ...NOTHING,
      at: round(end),
      seconds: HANDLING.pair,
    });
    end += HANDLING.pair;
  }
  const seconds = disturbed.functions.length * HANDLING.prove;
  operations.push({ kind: "prove", tests: disturbed.functions, ...NOTHING, at: round(end), seconds });
  end += seconds;
  return {
    seconds: round(end),
    handsOn: round(end - handsOff),
    elapsed: round(Math.max(end, cured)),
    proved: back.proved,
    operations,
    testStops: stops,
    assumptions: [
      ...back.assumptions,
      `Each function takes ${HANDLING.prove} s to try, each pairing ${HANDLING.pair} s (own settings, no source).`,
      "Nothing says that ingress protection is as before until the device has been tested for leaks.",
    ],
    warnings: back.warnings,
  };
}

const round = (seconds: number): number => Math.round(seconds * 1000) / 1000;

function laidOf(joint: Joint, needs: Needs): Laid {
  const { clean = 0, lay = 0, press = 0, cure = 0, uses = [] } = joint.remake ?? {};
  return {
    joint: joint.id,
    clean,
    lay,
    press,
    cure,
    uses,
    ...(needs.brought.has(joint.id) ? { brought: true as const } : {}),
  };
}

/** A joint that let go by itself is laid again with the first part that it holds and that goes back. */
function relaidFor(record: TeardownRecord, needs: Needs, part: string, refitted: ReadonlySet<string>): Laid[] {
  const inside = new Set([part]);
  for (let grown = true; grown; ) {
    grown = false;
    for (const one of record.parts)
      if (one.within !== undefined && inside.has(one.within) && !inside.has(one.id)) {
        inside.add(one.id);
        grown = true;
      }
  }
  return needs.letGo
    .filter(({ holds }) => holds.some((id) => inside.has(id)) && !holds.every((id) => inside.has(id)))
    .filter(({ holds }) => !holds.some((id) => refitted.has(id)))
    .map((joint) => laidOf(joint, needs));
}

function fastenOf(joint: Joint): TorqueWords & { drive: string; thread?: string; count: number } {
  const { drive, thread, torque, torqueIs } = joint.screws!;
  return {
    drive,
    ...(thread === undefined ? {} : { thread }),
    count: joint.count ?? 1,
    ...torqueWords(thread, torque, torqueIs),
  };
}
