/**
 * Logs made at random from every example record: a way in to a part that the seed chooses, each screw into a cup, and all of it
 * back. Then each screw joint and each connection of it is left out in turn. What has to be tried is counted by another rule
 * than the program's own.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { seeded } from "../../../../test/helpers/random-record.ts";
import type { Entry, Joint, TeardownRecord } from "../../record/index.ts";
import { countingClock } from "../../route/counting-clock.ts";
import { findWayIn } from "../../route/ways/index.ts";
import { closingOf } from "./index.ts";

const ELECTRICAL: ReadonlySet<string> = new Set(["connector", "spring-contact", "solder"]);
const CLOSES: Partial<Record<Joint["kind"], Entry["action"]>> = { screw: "fasten", connector: "plug" };
const BY_ITSELF: ReadonlySet<string> = new Set(["clip", "press-fit", "magnet", "spring-contact"]);

/** In and back to a part; null where the seed's part cannot be reached. */
function afternoon(record: TeardownRecord, seed: number): Entry[] | null {
  const random = seeded(seed);
  const targets = record.parts.filter((part) => !part.base);
  const target = targets[Math.floor(random() * targets.length)]!;
  const way = findWayIn(
    record,
    { to: [target.id], least: "seconds", damage: true, accept: ["puncture", "short"] },
    { now: countingClock(), deadline: 60 },
  );
  if ("unreachable" in way) return null;
  let at = 0;
  let cup = 0;
  const entry = (more: Omit<Entry, "id" | "session" | "at">): Entry => {
    at += 1 + Math.floor(random() * 30);
    return { id: `e${at}`, session: "a", at, ...more };
  };
  const joint = (id: string): Joint => record.joints.find((one) => one.id === id)!;
  const done = way.operations.filter((one) => one.kind !== "heat");
  const into = done.map((one): Entry => {
    if (one.kind !== "release") return entry({ action: one.kind as "lift" | "shift", parts: [one.part!] });
    const { kind, releases } = joint(one.joint!);
    const { action } = releases[one.release ?? 0]!;
    if (kind === "screw") cup += 1;
    return entry({ action, joints: [one.joint!], ...(kind === "screw" ? { lies: `cup ${cup}` } : {}) } as Entry);
  });
  const back = [...done].reverse().flatMap((one): Entry[] => {
    if (one.kind !== "release") return [entry({ action: "refit", parts: [one.part!] })];
    const { kind } = joint(one.joint!);
    return BY_ITSELF.has(kind) ? [] : [entry({ action: CLOSES[kind] ?? "lay", joints: [one.joint!] })];
  });
  return [...into, ...back];
}

const withLog = (record: TeardownRecord, log: readonly Entry[]): TeardownRecord => ({
  ...record,
  sessions: [{ id: "a", started: "2026-10-06T13:05:00Z", by: "bench 1", kind: "repair" }],
  checks: [],
  log: [...log],
});
const hard = (record: TeardownRecord) =>
  closingOf(record, "a").differences.filter((one) => one.kind !== "proof" && one.kind !== "failed");

/** Functions by the words of the record: of what was carried off, and of both sides of each contact that parted. */
function functionsOf(record: TeardownRecord, log: readonly Entry[]): string[] {
  const within = (id: string): string[] => {
    const part = record.parts.find((one) => one.id === id)!;
    return part.within === undefined ? [id] : [id, ...within(part.within)];
  };
  const lifted = log.filter((one) => one.action === "lift").flatMap((one) => one.parts!);
  const carried = record.parts.filter((part) => within(part.id).some((one) => lifted.includes(one)));
  const undone = new Set(log.flatMap((one) => one.joints ?? []));
  const parted = record.joints.filter(
    (joint) =>
      ELECTRICAL.has(joint.kind) &&
      (undone.has(joint.id) ||
        (joint.releases.length === 0 &&
          lifted.some((part) => new Set(joint.holds.map((id) => within(id).includes(part))).size === 2))),
  );
  const touched = new Set([...carried.map((part) => part.id), ...parted.flatMap((joint) => joint.holds)]);
  return [...new Set(record.parts.filter((part) => touched.has(part.id)).flatMap((part) => part.gives ?? []))].sort();
}

describe.each(["thrandle-5", "thrandle-4", "halverim-11", "plicarn-1"])("random afternoons on %s", (name) => {
  const record: TeardownRecord = JSON.parse(
    readFileSync(new URL(`../../../../examples/${name}.json`, import.meta.url), "utf8"),
  );
  const logs = Array.from({ length: 30 }, (_, seed) => afternoon(record, 100 + seed)).filter((log) => log !== null);
  const kind = (entry: Entry) => record.joints.find((joint) => joint.id === entry.joints?.[0])?.kind;

  it("come out whole, every cup empty, and ask for the functions that were disturbed and no other", () => {
    expect(logs.length).toBeGreaterThan(4);
    for (const log of logs) {
      const closing = closingOf(withLog(record, log), "a");
      expect(hard(withLog(record, log))).toEqual([]);
      expect([closing.cups, closing.covered, closing.warnings]).toEqual([[], [], []]);
      expect([...closing.prove].sort()).toEqual(functionsOf(record, log));
    }
  });

  it("name each screw joint that stays out, one screw of it too, with its cup", () => {
    let tried = 0;
    for (const log of logs)
      for (const fasten of log.filter((one) => one.action === "fasten")) {
        const id = fasten.joints![0]!;
        const out = log.find((one) => one.joints?.includes(id))!;
        const count = record.joints.find((joint) => joint.id === id)!.count ?? 1;
        const left = withLog(
          record,
          log.filter((one) => one !== fasten),
        );
        const named = hard(left);
        expect(named.map((one) => [one.kind, one.of, one.cup, one.at])).toEqual([["screws", id, out.lies, out.at]]);
        expect(named[0]!.text).toContain(out.lies!);
        expect(closingOf(left, "a").cups.map((one) => one.cup)).toEqual([out.lies]);
        expect(closingOf(left, "a").state).toBe("unexplained");
        if (count > 1) {
          const one = log.map((entry) => (entry === fasten ? { ...entry, text: `${count - 1} screws in.` } : entry));
          expect(hard(withLog(record, one)).map(({ of, cup, out, back }) => [of, cup, out, back])).toEqual([
            [id, out.lies, count, count - 1],
          ]);
        }
        tried += 1;
      }
    expect(tried).toBeGreaterThan(5);
  });

  it("name each connection that is left open, before the first seal over it and after", () => {
    let tried = 0;
    let sealed = 0;
    const closes = (lay: Entry, refit: Entry) =>
      record.joints.some((joint) => joint.id === lay.joints![0] && joint.holds.includes(refit.parts![0]!));
    for (const log of logs)
      for (const plug of log.filter((one) => one.action === "plug" && kind(one) === "connector")) {
        const id = plug.joints![0]!;
        const left = log.filter((one) => one !== plug);
        const named = (some: readonly Entry[]) =>
          hard(withLog(record, some)).filter((one) => one.kind === "connection" && one.of === id).length;
        expect([id, named(left)]).toEqual([id, 1]);
        const seal = left.findIndex((one) => one.action === "lay" && one.at! > plug.at!);
        if (seal >= 0) expect([id, named(left.slice(0, seal))]).toEqual([id, 1]);
        // Glue that was laid before the part came back covers what it does, too.
        const early = left.map((one, at) => (at === seal - 1 ? left[seal]! : at === seal ? left[seal - 1]! : one));
        if (seal > 0 && left[seal - 1]!.action === "refit" && closes(left[seal]!, left[seal - 1]!)) {
          const covered = (some: readonly Entry[]) =>
            closingOf(withLog(record, some), "a").covered.map((one) => `${one.joint} ${one.by}`);
          expect(covered(early)).toEqual(covered(left));
          sealed += 1;
        }
        tried += 1;
      }
    expect(tried).toBeGreaterThan(0);
    expect(sealed).toBeGreaterThan(0);
  });

  it("keep the order of the log when its clock jumps, and say so", () => {
    const log = logs[0]!;
    const jumped = log.map((one, index) => (index === 3 ? { ...one, at: 100_000 } : one));
    const closing = closingOf(withLog(record, jumped), "a");
    expect(hard(withLog(record, jumped))).toEqual([]);
    expect(closing.warnings.length).toBe(1);
    expect(closing.warnings[0]).toContain(`Entry ${jumped[4]!.id}`);
  });
});
