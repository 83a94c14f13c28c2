/**
 * Article 11 of Regulation (EU) 2023/1542: can the end user remove and replace the battery? Applies from 18.2.2027 and is
 * printed apart from 2023/1670. Asked: commercially available tools, specialised ones only when free with the product, no
 * proprietary ones, no thermal energy, no solvents; replacement not hindered by software.
 */
import type { Part, TeardownRecord } from "../record/schema.ts";
import type { Assessed } from "./assess.ts";
import type { SequenceOf } from "./ecodesign.ts";
import { instancesOf } from "./role.ts";
import { EU_2023_1542 } from "./rules/eu-2023-1670.ts";
import { type Finding, together, type Verdict } from "./verdict.ts";
import { type Kind, type WorkAnswer, workOf } from "./work.ts";

export interface Article11 {
  readonly act: string;
  readonly where: string;
  readonly appliesFrom: string;
  readonly verdict: Verdict;
  readonly findings: readonly Finding[];
  readonly relation: string;
}

export function checkArticle11(record: TeardownRecord, basis: Assessed["basis"], sequenceOf: SequenceOf): Article11 {
  const batteries = instancesOf(record, "battery").filter((part) => !part.base);
  const findings = batteries.flatMap((battery) => batteryFindings(record, basis, battery, sequenceOf));
  if (findings.length === 0)
    findings.push({ asks: "a battery", verdict: "cannot-tell", because: "the record has no battery that comes off" });
  return {
    act: EU_2023_1542.act,
    where: EU_2023_1542.where,
    appliesFrom: EU_2023_1542.appliesFrom,
    verdict: together(findings),
    findings,
    relation: EU_2023_1542.relation,
  };
}

function batteryFindings(
  record: TeardownRecord,
  basis: Assessed["basis"],
  battery: Part,
  sequenceOf: SequenceOf,
): Finding[] {
  const work = (kind: Kind): WorkAnswer => workOf(record, battery, sequenceOf(battery), basis === "least", kind);
  const finding = (asks: string, kind: Kind, good: string, bad: string): Finding => {
    const answer = work(kind);
    const at = answer.joint === undefined ? {} : { joint: answer.joint.id };
    const tool = answer.release?.tools.find((id) => toolIs(record, id) !== "yes");
    const named = asks === TOOLS && tool !== undefined ? { tool } : {};
    const where =
      answer.joint === undefined ? "" : `${bad} at ${answer.joint.id}${named.tool ? ` (${named.tool})` : ""}`;
    const because =
      answer.verdict === "pass"
        ? `${good}${answer.otherWay ? ", by another way than the counted one" : ""}`
        : where ||
          (answer.verdict === "fail"
            ? "no order of work without damage or danger does without it"
            : "the way in cannot be told");
    return { asks, verdict: answer.verdict, because, part: battery.id, ...at, ...named };
  };
  const findings = [
    finding(TOOLS, toolsAre(record), "tools that anybody can buy, or that come with the product", "a tool that is not"),
    finding(HEAT, withoutHeat, "no heat is needed", "heat is needed"),
    finding(SOLVENT, withoutSolvent, "no solvent is needed", "a solvent is needed"),
  ];
  if (basis === "least" && together(findings) === "pass") {
    const all = work((joint, release) => {
      const answers = [toolsAre(record), withoutHeat, withoutSolvent].map((kind) => kind(joint, release));
      return answers.includes("no") ? "no" : answers.includes("maybe") ? "maybe" : "yes";
    });
    if (all.verdict !== "pass")
      findings.push({
        asks: "one way for all",
        verdict: all.verdict,
        because: "no single order of work does without all of these",
        part: battery.id,
      });
  }
  return [...findings, software(battery), offered(battery)];
}

const TOOLS = "commercially available tools; specialised ones free with the product; none proprietary";
const HEAT = "no thermal energy";
const SOLVENT = "no solvents";

/** What comes with the spare part alone passes only when it can be bought as well, which a record does not say. */
function toolIs(record: TeardownRecord, id: string): "yes" | "maybe" | "no" {
  const kind = record.tools.find((tool) => tool.id === id)?.kind;
  if (kind === "proprietary") return "no";
  return kind === "with-spare-part" ? "maybe" : "yes";
}

function toolsAre(record: TeardownRecord): Kind {
  return (_joint, release) => {
    const answers = (release?.tools ?? []).map((id) => toolIs(record, id));
    return answers.includes("no") ? "no" : answers.includes("maybe") ? "maybe" : "yes";
  };
}

const withoutHeat: Kind = (_joint, release) => (release?.heat || release?.action === "desolder" ? "no" : "yes");
const withoutSolvent: Kind = (_joint, release) => (release?.solvent ? "no" : "yes");

function software(battery: Part): Finding {
  const asks = "software does not hinder replacement";
  const { pairing, ifUnpaired } = battery;
  const part = battery.id;
  if (!pairing?.notification && !pairing?.authorisation)
    return { asks, verdict: "pass", because: "no remote step is recorded for the battery", part };
  if (ifUnpaired === "feature-lost" || ifUnpaired === "dead")
    return { asks, verdict: "fail", because: `without pairing: ${ifUnpaired}`, part };
  const because =
    ifUnpaired === undefined ? "what happens without pairing is not recorded" : `without pairing: ${ifUnpaired}`;
  return { asks, verdict: ifUnpaired === "nothing" ? "pass" : "cannot-tell", because, part };
}

function offered(battery: Part): Finding {
  const asks = "the battery is to be had as a spare part";
  const to = battery.spare?.to;
  const part = battery.id;
  if (to === undefined) return { asks, verdict: "cannot-tell", because: "to whom it is sold is not known", part };
  if (to === "end-users") return { asks, verdict: "pass", because: "sold to end users", part };
  return { asks, verdict: "fail", because: to === "nobody" ? "sold to nobody" : "sold to professionals only", part };
}
