import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { randomRecord, seeded } from "../../../../test/helpers/random-record.ts";
import type { Joint, Part, TeardownRecord } from "../../record/index.ts";
import { emptyRecord, fromSibling } from "../../record/index.ts";
import { countingClock } from "../../route/counting-clock.ts";
import { findWayIn } from "../../route/ways/index.ts";
import {
  briefOf,
  chancesAlong,
  closedNext,
  type Doing,
  firstReadings,
  lastChanceText,
  type Want,
  wantsOf,
  withinMinutes,
  workSoFar,
  worthText,
} from "./index.ts";

const read = (name: string): TeardownRecord =>
  JSON.parse(readFileSync(new URL(`../../../../examples/${name}.json`, import.meta.url), "utf8"));
const phone = read("thrandle-5");

/** The same questions by counting, operation by operation, from the record's words alone. */
function bruteWindow(record: TeardownRecord, order: readonly Doing[], want: Want): boolean[] {
  const [kind, id] = want.id.split(" ") as [string, string];
  return Array.from({ length: order.length + 1 }, (_, done) => {
    const off: string[] = [];
    const undone: string[] = [];
    const aside: string[] = [];
    for (const { kind: doing, part, joint } of order.slice(0, done)) {
      if (doing === "lift") off.push(part!);
      if (doing === "refit") off.splice(off.indexOf(part!), 1);
      if (doing === "release") undone.push(joint!);
      if (doing === "close" && undone.includes(joint!)) undone.splice(undone.indexOf(joint!), 1);
      if (doing === "shift") aside.push(part!);
      if (doing === "unshift") aside.splice(aside.indexOf(part!), 1);
    }
    const gone = (part: string): boolean => {
      for (let one: string | undefined = part; one !== undefined; one = partOf(record, one)?.within)
        if (off.includes(one)) return true;
      return false;
    };
    const notInTheWay = (part: string, of: string) => {
      const shift = partOf(record, part)?.shift;
      return gone(part) || (aside.includes(part) && (shift?.freeing.includes(of) || shift?.freeing.length === 0));
    };
    const free = (groups: readonly (readonly string[])[] | undefined, of: string) =>
      !groups?.length || groups.some((group) => group.every((part) => notInTheWay(part, of)));
    const lies = (part: string) => !gone(part) && free(partOf(record, part)?.under, part);
    const joint = record.joints.find((one) => one.id === id);
    switch (kind) {
      case "length":
        return undone.includes(id);
      case "place":
        return free(joint!.reach, id) && joint!.holds.some((part) => !gone(part));
      case "fastener":
        return undone.includes(id) || free(joint!.reach, id);
      case "photograph": {
        const holding = record.joints.filter((one) => one.holds.includes(id));
        return (
          lies(id) &&
          (holding.length === 0 || holding.some((one) => undone.includes(one.id) || free(one.reach, one.id)))
        );
      }
      default: {
        const part = partOf(record, id);
        const groups = (part?.under ?? joint?.reach ?? []).flat().filter((one) => one !== id);
        const here = part ? !gone(id) : !undone.includes(id);
        return here && groups.some(lies);
      }
    }
  });
}

describe("readings that a claim lacks", () => {
  const sibling = read("thrandle-4");
  const claim = phone.claims.find((one) => one.id === "s1-c05")!;
  const bare: TeardownRecord = { ...phone, readings: [], claims: [claim] };
  it("are asked for with the finest instrument, what is in one piece together", () => {
    expect(firstReadings(bare, sibling)).toEqual([
      { of: ["loudspeaker"], quantity: "mass", instrument: "scale", on: [], off: [], claims: ["s1-c05"], alone: true },
    ]);
  });
  it("are not asked for where no reading of this device helps", () => {
    expect(firstReadings(bare)).toEqual([]);
    expect(firstReadings({ ...bare, instruments: [] }, sibling)).toEqual([]);
    expect(firstReadings({ ...bare, claims: [{ ...claim, about: "model" }] }, sibling)).toEqual([]);
    expect(firstReadings({ ...phone, claims: [claim] }, sibling)).toEqual([]);
  });
  it("are as the other device's were: screws counted on both", () => {
    const count = phone.claims.find((one) => one.id === "s1-c15")!;
    expect(firstReadings({ ...bare, claims: [count] }, sibling)).toMatchObject([
      { of: ["device"], quantity: "count", instrument: null, on: ["screws"] },
    ]);
  });
  it("can be had while the part is away by itself; of the base, when all else is", () => {
    const wants = wantsOf(
      { ...bare, claims: [{ ...claim, subject: ["main-camera"], than: "device" }] },
      { questions: [], plan: [] },
    );
    const camera = wants.find((one) => one.id === "reading mass main-camera")!;
    const away = (...lifted: string[]) => ({
      lifted: new Set(lifted),
      shifted: new Set<string>(),
      released: new Set<string>(),
    });
    expect([away(), away("rear-cradle"), away("rear-cradle", "main-camera")].map(camera.when)).toEqual([
      false,
      false,
      true,
    ]);
    expect(wants.find((one) => one.id === "reading mass device")!.when(away("rear-cradle"))).toBe(false);
    expect(worthText(camera)).toMatch(/^one of the readings that decide “/);
    const base = wantsOf(
      { ...bare, claims: [{ ...claim, subject: ["band"], than: "device" }] },
      { questions: [], plan: [], sibling },
    );
    const band = base.find((one) => one.id === "reading mass band")!;
    const rest = phone.parts.filter((part) => !part.base).map((part) => part.id);
    expect([away(...rest.slice(1)), away(...rest)].map(band.when)).toEqual([false, true]);
  });
});

const partOf = (record: TeardownRecord, id: string): Part | undefined => record.parts.find((part) => part.id === id);

/** Screws without lengths and places, relations in doubt: everything that can be wanted. */
function doubtful(record: TeardownRecord, random: () => number): TeardownRecord {
  return {
    ...record,
    parts: record.parts.map(
      (part): Part => (part.base || random() < 0.5 ? part : { ...part, basis: "inferred", role: "other" }),
    ),
    joints: record.joints.map(
      (joint): Joint => ({
        ...joint,
        ...(random() < 0.5 ? { basis: "sibling" as const } : {}),
        ...(random() < 0.5 ? { kind: "screw" as const, screws: undefined, plug: undefined, bond: undefined } : {}),
      }),
    ),
  };
}

describe("chances along an order of work", () => {
  it("agree with counting, operation by operation, on 1 000 small records", () => {
    let compared = 0;
    for (let seed = 0; seed < 1000; seed += 1) {
      const random = seeded(seed + 77);
      const record = doubtful(randomRecord(seed), random);
      const targets = record.parts.filter((part) => !part.base).map((part) => part.id);
      const target = targets[Math.floor(random() * targets.length)]!;
      const now = countingClock();
      const way = findWayIn(
        record,
        { to: [target], least: "seconds", damage: true, accept: ["puncture", "short"] },
        { now, deadline: 200 },
      );
      if ("unreachable" in way) continue;
      const back = [...way.operations]
        .reverse()
        .flatMap((one): Doing[] =>
          one.kind === "release"
            ? [{ kind: "close", joint: one.joint! }]
            : one.kind === "lift"
              ? [{ kind: "refit", part: one.part! }]
              : one.kind === "shift"
                ? [{ kind: "unshift", part: one.part! }]
                : [],
        );
      const order: Doing[] = [...way.operations, ...back];
      const questions = [
        ...record.parts.filter((part) => part.basis === "inferred" && part.under?.length),
        ...record.joints.filter((joint) => joint.basis === "sibling" && joint.reach?.length),
      ].map((one) => ({
        relation: one.id,
        asks: "?",
        seconds: [1, 2] as const,
        class: [null, null] as const,
        parts: [],
        matters: true,
      }));
      const wants = wantsOf(record, { questions, plan: [] });
      for (const [index, chance] of chancesAlong(wants, order).entries()) {
        const open = bruteWindow(record, order, wants[index]!);
        const first = open.indexOf(true);
        const last = open.lastIndexOf(true);
        expect([seed, chance.id, chance.opens]).toEqual([seed, chance.id, first < 0 ? null : first]);
        expect([seed, chance.id, chance.closedBy]).toEqual([
          seed,
          chance.id,
          last < 0 || last === order.length ? null : last,
        ]);
        expect(
          chance.windows.flatMap(([from, to]) => Array.from({ length: to - from + 1 }, (_, i) => from + i)),
        ).toEqual(open.flatMap((one, at) => (one ? [at] : [])));
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(3000);
  });

  const weigh: Want = {
    id: "claim c1",
    kind: "claim",
    does: "weigh the brackets together",
    seconds: 20,
    worth: { claim: "lighter than" },
    when: (state) => state.lifted.has("bracket") && !state.lifted.has("board"),
  };
  const order: Doing[] = [
    { kind: "lift", part: "bracket" },
    { kind: "lift", part: "board" },
  ];
  it("are said before the operation that closes them for good", () => {
    const chances = chancesAlong([weigh], order, 1);
    expect(chances[0]).toMatchObject({ opens: 1, closedBy: 1, now: true, gone: false });
    expect(lastChanceText("lift the board", closedNext(chances, 1))).toBe(
      "Before you lift the board, last chance: weigh the brackets together, 20 s, decides “lighter than”.",
    );
    expect(lastChanceText("lift the board", [])).toBeNull();
  });
  it("that were passed over are named as gone", () => {
    expect(chancesAlong([weigh], order, 2)[0]).toMatchObject({ now: false, gone: true });
  });
  it("fit into the minutes left by what they decide", () => {
    const want = (id: string, seconds: number, worth: Want["worth"]): Want => ({
      id,
      kind: "photograph",
      does: id,
      seconds,
      worth,
      when: () => true,
    });
    const chances = chancesAlong(
      [
        want("a", 10, { record: true }),
        want("b", 50, { class: ["B", "C"] }),
        want("c", 30, { claim: "x" }),
        want("d", 5, { seconds: 100 }),
      ],
      order,
    );
    const { take, leave } = withinMinutes(chances, 1.5);
    expect(take.map((one) => one.id).sort()).toEqual(["b", "c", "d"]);
    expect(leave.map((one) => one.id)).toEqual(["a"]);
    expect(withinMinutes(chances, 0).take).toEqual([]);
  });
  it("follow the log where it left the plan", () => {
    const record: TeardownRecord = { ...phone, log: phone.log.filter((entry) => entry.session === "s1").slice(0, 12) };
    const planned: Doing[] = [
      { kind: "release", joint: "sim-latch" },
      { kind: "lift", part: "coil" },
    ];
    const { operations, done } = workSoFar(record, planned, "s1");
    expect(operations.slice(0, done)).toContainEqual({ kind: "lift", part: "sim-tray" });
    expect(operations.slice(done)).toEqual([{ kind: "lift", part: "coil" }]);
  });
});

describe("the brief", () => {
  const options = () => {
    const now = countingClock();
    return { control: { now }, limit: 400, questions: [], plan: [] };
  };
  it("of the slim phone has a way in, its heat from the layers, and what to lay out", () => {
    const brief = briefOf(phone, options());
    expect(brief.targets).toEqual(["cell"]);
    expect(brief.along).toBe("back");
    const back = brief.ways.find((one) => one.face === "back")!;
    expect(back.way).not.toBeNull();
    expect(back.way!.operations.some((one) => one.part === "display")).toBe(false);
    const heat = brief.heat.find((one) => one.joint === "back-rim")!;
    expect(heat).toMatchObject({ from: "layers", zone: "back" });
    expect(heat.counted).toBeGreaterThan(0);
    expect(heat.cautions.length).toBeGreaterThan(0);
    expect(brief.tools).toContain("ph000");
    expect(brief.consumables.length).toBeGreaterThan(0);
    expect(brief.cables.map((one) => one.part)).toContain("coax-long");
    expect(brief.charge.atMost).toBe(30);
    expect(brief.photographs.length).toBeGreaterThan(0);
  });
  it("from the sibling alone: everything is a guess", () => {
    const begun = fromSibling(phone, "00000000-0000-4000-8000-000000000009", { ...phone.device, name: "Next" });
    const brief = briefOf(begun, options());
    expect(brief.guesses.guessed).toBe(brief.guesses.relations);
    expect(brief.ways.find((one) => one.face === "back")!.guesses.length).toBeGreaterThan(5);
  });
  it("of a record with nothing in it says what to do", () => {
    const empty = emptyRecord("00000000-0000-4000-8000-000000000009", {
      name: "Next",
      kind: "smartphone",
      foldable: false,
    });
    expect(() => briefOf(empty, options())).toThrow(/sibling/);
  });
});
