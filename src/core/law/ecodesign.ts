/**
 * The disassembly table of 2023/1670, row by row, and the battery by both routes. The whole way to a part is looked at, not
 * the segment that the index takes. Environment and skill are the assessor's to judge; what on the way speaks against them
 * (heat, solvent, a stated hazard, desoldering) is named.
 */
import type { Joint, Part, Release, TeardownRecord } from "../record/schema.ts";
import type { Assessed } from "./assess.ts";
import { instancesOf } from "./role.ts";
import { type DisassemblyRow, EU_2023_1670 } from "./rules/eu-2023-1670.ts";
import type { RuleSet } from "./rules/types.ts";
import { fastenerKind, toolKind } from "./segment.ts";
import type { Sequence } from "./sequence.ts";
import { either, type Finding, together, type Verdict } from "./verdict.ts";
import { type Kind, type WorkAnswer, workOf } from "./work.ts";

export interface RowResult {
  readonly row: DisassemblyRow["row"];
  readonly what: string;
  readonly part: string;
  readonly role: string;
  readonly verdict: Verdict;
  /** Fasteners, tools, environment, skill; for c(ii) endurance and tightness too. */
  readonly findings: readonly Finding[];
}

export interface Ecodesign {
  readonly act: string;
  readonly where: string;
  readonly appliesFrom: string;
  readonly rows: readonly RowResult[];
  readonly battery: { readonly "c(i)": Verdict; readonly "c(ii)": Verdict; readonly verdict: Verdict };
  readonly notes: readonly string[];
}

export type SequenceOf = (part: Part) => Sequence;

export function checkEcodesign(
  rules: RuleSet,
  record: TeardownRecord,
  basis: Assessed["basis"],
  sequenceOf: SequenceOf,
): Ecodesign {
  const rows = EU_2023_1670.rows.flatMap((row) =>
    partsOf(record, row, sequenceOf).map((part) => rowResult(rules, record, row, part, basis, sequenceOf(part))),
  );
  const route = (row: DisassemblyRow["row"]): Verdict => {
    const mine = rows.filter((one) => one.row === row);
    return mine.length === 0 ? "cannot-tell" : together(mine);
  };
  const first = route("c(i)");
  const second = route("c(ii)");
  return {
    act: EU_2023_1670.act,
    where: EU_2023_1670.where,
    appliesFrom: EU_2023_1670.appliesFrom,
    rows,
    battery: {
      "c(i)": first,
      "c(ii)": second,
      verdict: either([{ verdict: first }, { verdict: second }]),
    },
    notes: [
      "The text says nothing of heat in row c(i): a source of heat is taken as a tool, which passes only when it is basic or supplied (own reading). Read without it, heat alone would fail nothing.",
      "Environment and skill are for the assessor to judge; a pass means that nothing in the record speaks against them.",
      ...(basis === "least"
        ? ["A row passes when some order of work passes, not only the one with the fewest steps."]
        : []),
    ],
  };
}

/** The parts that a row speaks of: the back cover only where it comes off for the battery, the foil only on foldables. */
function partsOf(record: TeardownRecord, row: DisassemblyRow, sequenceOf: SequenceOf): Part[] {
  return record.parts.filter((part) => {
    if (part.base) return false;
    const roles = row.roles.filter((role) => part.role === role || part.serves?.includes(role));
    return roles.some((role) => {
      if (role === "protective-foil" || role === "hinge") return record.device.foldable;
      return role !== "back-cover" || comesOffForBattery(record, part, sequenceOf);
    });
  });
}

function comesOffForBattery(record: TeardownRecord, cover: Part, sequenceOf: SequenceOf): boolean {
  return instancesOf(record, "battery").some((battery) => {
    const sequence = sequenceOf(battery);
    if (sequence.kind !== "told") return true;
    return sequence.operations.some((operation) => operation.kind === "lift" && operation.part.id === cover.id);
  });
}

function rowResult(
  rules: RuleSet,
  record: TeardownRecord,
  row: DisassemblyRow,
  part: Part,
  basis: Assessed["basis"],
  sequence: Sequence,
): RowResult {
  const work = (kind: Kind): WorkAnswer => workOf(record, part, sequence, basis === "least", kind);
  const fasteners = fastenerFinding(rules, record, row, part, work);
  const tools = toolFinding(rules, record, row, part, work);
  const findings: Finding[] = [fasteners, tools, ...circumstances(row, sequence)];
  if (row.row === "c(ii)") findings.push(...durability(record));
  if (basis === "least" && fasteners.verdict === "pass" && tools.verdict === "pass") {
    // Each passes by some way; one way must pass both.
    const both = work((joint, release) =>
      least(fastenerIs(rules, record, row, part)(joint, release), toolIs(rules, record, row, part)(joint, release)),
    );
    if (both.verdict !== "pass")
      findings.push({
        asks: "one way for both",
        verdict: both.verdict,
        because: "no single order of work passes on fasteners and on tools",
      });
  }
  const role = row.roles.find((one) => part.role === one || part.serves?.includes(one)) ?? "";
  return { row: row.row, what: row.what, part: part.id, role, verdict: together(findings), findings };
}

const ORDER = ["no", "maybe", "yes"] as const;
function least(a: "yes" | "maybe" | "no", b: "yes" | "maybe" | "no"): "yes" | "maybe" | "no" {
  return ORDER[Math.min(ORDER.indexOf(a), ORDER.indexOf(b))];
}

function fastenerIs(rules: RuleSet, record: TeardownRecord, row: DisassemblyRow, part: Part): Kind {
  return (joint, release) => {
    const [low, high] = fastenerKind(rules, record, joint, release, part).kinds;
    if (row.fasteners.includes(low)) return "yes";
    return row.fasteners.includes(high) ? "maybe" : "no";
  };
}

function fastenerFinding(
  rules: RuleSet,
  record: TeardownRecord,
  row: DisassemblyRow,
  part: Part,
  work: (kind: Kind) => WorkAnswer,
): Finding {
  const answer = work(fastenerIs(rules, record, row, part));
  const asks = `fasteners: ${row.fasteners.join(", ")}`;
  if (answer.joint === undefined)
    return { asks, verdict: answer.verdict, because: plain(answer, "every fastener on the way is") };
  const met = fastenerKind(rules, record, answer.joint, answer.release ?? null, part);
  return { asks, verdict: answer.verdict, because: met.because, joint: answer.joint.id };
}

/** Tools of a release, its source of heat among them. */
function toolsOf(release: Release | null): (string | null)[] {
  if (release === null) return [];
  return [...release.tools, ...(release.heat ? [release.heat.by ?? null] : [])];
}

function toolIs(rules: RuleSet, record: TeardownRecord, row: DisassemblyRow, part: Part): Kind {
  return (_joint, release) =>
    toolsOf(release).every((tool) => row.tools.includes(toolKind(rules, record, part, tool).kind)) ? "yes" : "no";
}

function toolFinding(
  rules: RuleSet,
  record: TeardownRecord,
  row: DisassemblyRow,
  part: Part,
  work: (kind: Kind) => WorkAnswer,
): Finding {
  const answer = work(toolIs(rules, record, row, part));
  const asks = `tools: ${row.tools.join(", ")}`;
  const bad = toolsOf(answer.release ?? null).find(
    (tool) => !row.tools.includes(toolKind(rules, record, part, tool).kind),
  );
  if (answer.joint === undefined || bad === undefined)
    return { asks, verdict: answer.verdict, because: plain(answer, "every tool on the way is") };
  const because = `${toolKind(rules, record, part, bad).because} (at ${answer.joint.id})`;
  return { asks, verdict: answer.verdict, because, joint: answer.joint.id, ...(bad === null ? {} : { tool: bad }) };
}

function plain(answer: WorkAnswer, good: string): string {
  if (answer.verdict === "pass") return answer.otherWay ? `${good}, by another way than the counted one` : good;
  return answer.verdict === "fail"
    ? "no order of work without damage or danger keeps to these"
    : "the way in cannot be told";
}

/** Environment and skill, as far as a record can speak of them. */
function circumstances(row: DisassemblyRow, sequence: Sequence): Finding[] {
  const against = row.environment === "use" ? speaksAgainst(sequence) : undefined;
  return [
    { asks: `environment: ${row.environment}`, ...judged(against) },
    { asks: `skill: ${row.skill}`, ...judged(against) },
  ];
}

function judged(against: { joint: Joint; what: string } | undefined): Omit<Finding, "asks"> {
  if (against === undefined)
    return { verdict: "pass", because: "nothing in the record speaks against it; the assessor judges" };
  return {
    verdict: "cannot-tell",
    because: `${against.what} at ${against.joint.id} may be more than that; the assessor judges`,
    joint: against.joint.id,
  };
}

function speaksAgainst(sequence: Sequence): { joint: Joint; what: string } | undefined {
  if (sequence.kind !== "told") return undefined;
  for (const operation of sequence.operations) {
    if (operation.kind !== "release" || operation.release === null) continue;
    const { hazard = [], heat, solvent, action } = operation.release;
    const what = [
      ...(heat ? ["heat"] : []),
      ...(solvent ? ["solvent"] : []),
      ...(action === "desolder" ? ["desoldering"] : []),
      ...hazard.map((one) => `the hazard ${one}`),
    ];
    if (what.length > 0) return { joint: operation.joint, what: what.join(", ") };
  }
  return undefined;
}

function durability(record: TeardownRecord): Finding[] {
  const { durable } = EU_2023_1670;
  const battery = record.market?.battery;
  const share = (asks: string, found: number | undefined, least: number): Finding =>
    found === undefined
      ? { asks, verdict: "cannot-tell", because: "not stated" }
      : { asks, verdict: found >= least ? "pass" : "fail", because: `${found} %` };
  return [
    share("at least 83 % of the capacity after 500 cycles", battery?.after500, durable.after500),
    share("at least 80 % of the capacity after 1000 cycles", battery?.after1000, durable.after1000),
    tightness(record, battery?.ingress ?? record.device.ingress),
  ];
}

/** IP codes of IEC 60529; several may stand in one text, any of them counts. */
function tightness(record: TeardownRecord, code: string | undefined): Finding {
  const { ingress } = EU_2023_1670.durable;
  const needed = record.device.kind === "slate-tablet" ? ingress["slate-tablet"] : ingress.smartphone;
  const asks = `tightness: ${needed.text}`;
  if (code === undefined) return { asks, verdict: "cannot-tell", because: "not stated" };
  const codes = [...code.matchAll(/IP\s?([0-6X])([0-9X])/gi)];
  if (codes.length === 0) return { asks, verdict: "cannot-tell", because: `${JSON.stringify(code)} is no IP code` };
  const meets = codes.some(([, solids, water]) => {
    return Number(solids) >= needed.solids && (needed.water as readonly number[]).includes(Number(water));
  });
  return { asks, verdict: meets ? "pass" : "fail", because: code };
}
