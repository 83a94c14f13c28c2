/** The example workspace: made by its scripts, valid, drawn without contradictions, and rich enough to show the trade. */
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { exampleFiles, RECORDS } from "../examples/authoring/files.ts";
import { areaOf, covers, overlaps } from "../examples/authoring/overlaps.ts";
import { look as look4 } from "../examples/authoring/thrandle-4/index.ts";
import { look as look5 } from "../examples/authoring/thrandle-5/index.ts";
import { fitStack, readLog, readStack, stackFromZone, warmWindow } from "../src/core/heat/index.ts";
import { assessRecord, parseSheet } from "../src/core/law/index.ts";
import { PRIORITY_ROLES, type PriorityRole, type TeardownRecord } from "../src/core/record/index.ts";
import { findWayIn } from "../src/core/route/ways/index.ts";
import { examineRecord } from "../src/core/structure/index.ts";

const folder = fileURLToPath(new URL("../examples/", import.meta.url));
const read = (name: string): string => readFileSync(`${folder}${name}`, "utf8");
const records = Object.entries(RECORDS) as [keyof typeof RECORDS, TeardownRecord][];
const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;
const control = () => ({ now: () => performance.now(), deadline: performance.now() + 20_000 });

/** Parts drawn through a pocket or slot of the frame, which a single prism cannot show. */
const THROUGH = ["sim-tray", "power-cap", "volume-cap", "audio-jack", "key-flex", "cross-flex"];

describe("the files", () => {
  it.each(Object.entries(exampleFiles()))("%s is what its script makes", (name, text) => {
    expect(read(name)).toBe(text);
  });

  it.each(records)("%s points to drawings that are there", (_, record) => {
    for (const media of record.media) expect(existsSync(`${folder}${media.file}`), media.file).toBe(true);
  });
});

describe.each(records)("%s", (_, record) => {
  const byId = new Map(record.parts.map((part) => [part.id, part]));

  it("is valid, and every part can be got out without damage", () => {
    const check = examineRecord(JSON.parse(JSON.stringify(record)));
    expect(check.faults).toEqual([]);
    expect(check.warnings).toEqual([]);
  });

  it("has a proved way in to each battery, cell isolated first", () => {
    for (const cell of record.parts.filter(({ role }) => role === "battery")) {
      const way = findWayIn(record, { to: [cell.id], least: "steps" }, control());
      if ("unreachable" in way) throw new Error(`${cell.id}: ${way.unreachable[0]!.because}`);
      expect(way.warnings.filter((text) => text.includes("isolated"))).toEqual([]);
      expect(way.steps - way.remoteSteps).toBeGreaterThanOrEqual(5);
    }
  });

  it("draws no two parts in the same place", () => {
    expect(overlaps(record.parts, THROUGH)).toEqual([]);
  });

  it("puts every screw where its part is, and no two heads on one spot", () => {
    const placed = record.joints.flatMap((joint) =>
      (joint.screws?.each ?? []).map((each) => ({ joint, at: each.at!, length: each.length! })),
    );
    for (const { joint, at } of placed)
      expect(covers(byId.get(joint.holds[0]!)!, at[0], at[1]), `${joint.id} at ${at.join(", ")}`).toBe(true);
    placed.forEach((a, i) => {
      for (const b of placed.slice(i + 1)) {
        const distance = Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]);
        expect(distance, `${a.joint.id} and ${b.joint.id}`).toBeGreaterThan(1.6);
      }
    });
    const screwed = record.joints.filter(({ kind }) => kind === "screw");
    for (const joint of screwed) expect(joint.screws?.each, joint.id).toHaveLength(joint.count ?? 1);
    const counted = record.readings.find(({ quantity }) => quantity === "count");
    if (counted) expect(counted.values).toEqual([screwed.reduce((total, { count = 1 }) => total + count, 0)]);
  });

  it("keeps torques under half of what breaks the thread", () => {
    // Breaking torque in pure torsion, property class 8.8, from the formula of ISO 898-7:1992 (M1.2 0.075, M1.4 0.12,
    // M1.6 0.16 N.m; table values recalled, reproduced by the formula).
    const breaks: Record<string, number> = { "M1.2x0.25": 7.5, "M1.4x0.3": 12, "M1.6x0.35": 16 };
    for (const { id, screws } of record.joints) {
      if (screws?.torque === undefined) continue;
      expect(screws.torque.unit).toBe("cN.m");
      expect(screws.torque.value, id).toBeLessThan(breaks[screws.thread!]! / 2);
    }
  });

  it("adds up in mass to less than half a gram, with nothing missing and something for the glue", () => {
    const weighed = record.readings
      .filter(({ quantity, of, record: other }) => quantity === "mass" && !other && byId.has(of[0]!))
      .sort((a, b) => b.of.length - a.of.length);
    const seen = new Set<string>();
    let sum = 0;
    for (const reading of weighed) {
      if (reading.of.some((id) => seen.has(id))) continue;
      for (const id of reading.of) seen.add(id);
      sum += mean(reading.values);
    }
    const device = record.readings.find(({ quantity, of }) => quantity === "mass" && of[0] === "device")!;
    expect(record.parts.filter(({ id }) => !seen.has(id)).map(({ id }) => id)).toEqual([]);
    const residual = mean(device.values) - sum;
    expect(residual).toBeGreaterThan(0.05);
    expect(residual).toBeLessThan(0.35);
  });

  it("adds up in thickness: levels and gaps to the body, readings to within what calipers tell", () => {
    for (const { name, place, gaps = [] } of record.device.stackups ?? []) {
      const stack = record.parts.filter((part) => part.level && covers(part, place[0], place[1]));
      const body = Math.max(...stack.map(({ level }) => level![1]));
      const air = gaps.reduce((total, gap) => total + gap.value, 0);
      const solid = stack.reduce((total, { level }) => total + level![1] - level![0], 0);
      expect(solid + air, name).toBeCloseTo(body, 6);
      const whole = record.readings.find(
        ({ of, quantity, place: at }) => of[0] === "device" && quantity === "thickness" && at?.join() === place.join(),
      )!;
      expect(Math.abs(mean(whole.values) - body), name).toBeLessThan(0.02);
      for (const part of stack) {
        const measured = record.readings.find(
          ({ of, quantity, place: at }) =>
            of.length === 1 && of[0] === part.id && quantity === "thickness" && at?.join() === place.join(),
        );
        if (measured === undefined || part.id === "main-board") continue;
        expect(Math.abs(mean(measured.values) - (part.level![1] - part.level![0])), part.id).toBeLessThan(0.02);
      }
    }
  });

  it("gives its cells an energy per mass and per volume that cells reach", () => {
    const cells = record.parts.filter(({ role }) => role === "battery");
    const { capacity, voltage } = record.device.cell!;
    const energy = (capacity.value * voltage.value) / 1000;
    const grams = cells.reduce(
      (total, { id }) =>
        total + mean(record.readings.find(({ of, quantity }) => quantity === "mass" && of.join() === id)!.values),
      0,
    );
    const litres = cells.reduce((total, part) => total + (areaOf(part) * (part.level![1] - part.level![0])) / 1e6, 0);
    expect((energy / grams) * 1000).toBeGreaterThan(240);
    expect((energy / grams) * 1000).toBeLessThan(280);
    expect(energy / litres).toBeGreaterThan(550);
    expect(energy / litres).toBeLessThan(720);
  });

  it("says the figure that was read", () => {
    for (const entry of record.log.filter(({ action, text }) => action === "measure" && text !== undefined)) {
      const said = (entry.text!.match(/\d+(\.\d+)?/g) ?? []).map(Number);
      const agrees = record.readings
        .filter(({ session, at, of }) => session === entry.session && at === entry.at && of[0] !== "zero")
        .map(({ values }) => mean(values))
        .some((value) => said.some((number) => Math.abs(number - value) <= Math.max(0.011, 0.002 * value)));
      expect(agrees, entry.text).toBe(true);
    }
  });

  it("logs the work in order, and names the instrument of nearly every reading", () => {
    for (const session of record.sessions ?? []) {
      const times = record.log.filter((entry) => entry.session === session.id).map(({ at }) => at!);
      expect([...times].sort((a, b) => a - b)).toEqual(times);
    }
    const bare = record.readings.filter(({ instrument }) => instrument === undefined);
    expect(bare.length).toBeLessThanOrEqual(4);
  });
});

describe("the slim phone", () => {
  const record: TeardownRecord = RECORDS["thrandle-5"];
  const releases = record.joints.flatMap((joint) => joint.releases);

  it("is as rich as a real one", () => {
    expect(record.parts.length).toBeGreaterThanOrEqual(45);
    expect(record.joints.length).toBeGreaterThanOrEqual(70);
    expect(record.log.length).toBeGreaterThanOrEqual(90);
    expect(record.readings.filter(({ instrument }) => instrument !== undefined).length).toBeGreaterThanOrEqual(60);
  });

  it("carries every priority part that does not fold", () => {
    const carried = new Set(record.parts.flatMap(({ role, serves = [] }) => [role, ...serves]));
    const wanted = PRIORITY_ROLES.filter((role): role is PriorityRole => role !== "hinge");
    expect(wanted.filter((role) => !carried.has(role))).toEqual([]);
    expect(record.parts.filter(({ role }) => role === "speaker")).toHaveLength(2);
  });

  it("shows each of the bench's cases", () => {
    expect(record.joints.some(({ reach = [] }) => reach.length > 1)).toBe(true);
    expect(record.parts.some(({ role, shift }) => role === "board" && shift !== undefined)).toBe(true);
    expect(record.parts.some(({ within, role }) => within === undefined && role === "rear-camera")).toBe(true);
    expect(record.parts.some(({ pairing }) => pairing?.notification && pairing.authorisation)).toBe(true);
    expect(releases.some(({ heat }) => heat?.passes)).toBe(true);
    expect(releases.some(({ heat }) => heat?.by === "plate" && heat.down === "back")).toBe(true);
    expect(releases.some(({ heat }) => heat?.by === "warm-bag" && heat.down === undefined)).toBe(true);
    const cell = record.joints.find(({ id }) => id === "cell-tabs-joint")!.releases;
    expect(cell.some(({ fails }) => fails !== undefined)).toBe(true);
    expect(cell.some(({ destroys, hazard }) => destroys?.includes("cell") && hazard?.includes("puncture"))).toBe(true);
    const bases = [...record.parts, ...record.joints].map(({ basis }) => basis);
    expect(bases.filter((basis) => basis === "sibling")).toHaveLength(1);
    expect(bases).toContain("inferred");
    expect(record.parts.some(({ outline = [] }) => outline.length > 1)).toBe(true);
    expect(record.checks?.map(({ when }) => when)).toEqual(expect.arrayContaining(["before", "stop", "after"]));
  });

  it("isolates the cell under a bracket", () => {
    const power = record.joints.filter((joint) => joint.power);
    expect(power).toHaveLength(1);
    expect(power[0]!.reach).toEqual([["cell-bracket"]]);
  });

  it("names a sibling that is in the workspace", () => {
    expect(Object.values(RECORDS).map(({ id }) => id)).toContain(record.sibling);
  });

  it("talks for twelve to twenty minutes, and says what the log says", () => {
    const last = look5.cues.at(-1)!;
    expect(last.until).toBeGreaterThan(12 * 60);
    expect(last.until).toBeLessThan(20 * 60);
    const spoken = look5.cues.map(({ text }) => text).join(" ");
    for (const entry of look5.log) if (entry.text) expect(spoken).toContain(entry.text);
    for (const { at, until } of look5.cues) expect(until).toBeGreaterThan(at);
  });
});

describe("the narrations", () => {
  it("put each entry at the beginning of a caption", () => {
    for (const look of [look4, look5]) {
      const begins = look.cues.map(({ at }) => at);
      for (const entry of look.log) {
        if (entry.text === undefined) continue;
        expect(Math.min(...begins.map((at) => Math.abs(at - entry.at!)))).toBeLessThan(0.06);
      }
    }
  });
});

describe("the foldable", () => {
  it("folds, and has its hinge", () => {
    const record: TeardownRecord = RECORDS["plicarn-1"];
    expect(record.device.foldable).toBe(true);
    expect(record.parts.map(({ role }) => role)).toEqual(expect.arrayContaining(["hinge", "protective-foil"]));
    expect(record.parts.length).toBeGreaterThanOrEqual(20);
  });
});

describe("the described procedures", () => {
  const described = records.filter(([, record]) => record.described !== undefined);

  it.each(described)("of %s can be done as they stand, and give an index", (_, record) => {
    const { answer } = assessRecord(record, { findWayIn, control: { now: () => performance.now() } });
    expect(answer.basis).toBe("described");
    expect(answer.warnings.filter((text) => text.includes("cannot be done"))).toEqual([]);
    expect(answer.index).not.toBeNull();
    const steps = Object.values(answer.parts).flatMap((part) => (part ? [part.steps] : []));
    expect(steps).not.toContain(null);
  });
});

describe("heat", () => {
  const zones = records.flatMap(([slug, record]) => (record.zones ?? []).map(({ id }) => [slug, id, record] as const));

  it.each(zones)("%s, zone %s: the bond softens before the cell is too hot, in the time recorded", (_, id, record) => {
    const { stack } = stackFromZone(record, id);
    const answer = warmWindow(stack);
    if (answer.kind === "none") throw new Error(answer.why);
    const { window } = answer;
    const recorded = record.joints.flatMap(({ releases }) =>
      releases.flatMap(({ heat }) => (heat?.zone === id ? [heat] : [])),
    )[0]!;
    expect(recorded.seconds).toBeGreaterThan(window.from);
    expect(recorded.seconds).toBeLessThan(window.to ?? 3600);
  });

  it("has a thermocouple log from which the plate's contact can be fitted", () => {
    const stack = readStack(JSON.parse(read("heat/spare-glass-on-plate.json")));
    const fit = fitStack(stack, readLog(read("heat/spare-glass-on-plate.csv")));
    // The log was drawn from the model with 236 W/(m2.K).
    expect(Math.abs(fit.contact.value - 236)).toBeLessThan(236 * 0.05);
  });
});

it("declares a sheet for the slim phone that can be read", () => {
  const sheet = parseSheet(JSON.parse(read("declared/thrandle-5.json")));
  expect(sheet.ok).toBe(true);
});
