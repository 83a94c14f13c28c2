/** The law in full: the class in a sentence, what it rests on part by part, and what would change it. */
import { useEffect, useState } from "react";
import type { LawReport, PartEvidence, RecordBasis } from "../../../core/law/index.ts";
import { DEFAULT_READINGS, type StepReadings } from "../../../core/route/problem.ts";
import { useBench } from "../../bench/bench.tsx";
import type { Counting } from "../../compute/law-tasks.ts";
import { useComputed, useSlow } from "../../compute/use-computed.ts";
import { Caution, Remarks } from "../../face/caution.tsx";
import { Fault } from "../../face/fault.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { PageHead, Waiting } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { Checks } from "./checks.tsx";
import { DeclaredSheet } from "./declared-sheet.tsx";
import { Doubt } from "./doubt.tsx";
import { EvidencePack } from "./evidence-pack.tsx";
import "./law.css";
import { BASIS_WORDS, classWords, rolesIn, SCORE_WORDS } from "./law-words.ts";
import { LeastChanges } from "./least-changes.tsx";
import { PriorityParts } from "./priority-parts.tsx";
import { ProductScores } from "./product-scores.tsx";
import { Readings } from "./readings.tsx";
import { RulesUsed } from "./rules-used.tsx";
import { WhatIf } from "./what-if.tsx";

const BASES = ["described", "done", "least"] as const satisfies readonly RecordBasis[];
const READING_IDS = Object.keys(DEFAULT_READINGS) as (keyof StepReadings)[];
const VIEWS = [
  { value: "parts", label: "parts" },
  { value: "checks", label: "checks" },
  { value: "change", label: "change" },
  { value: "doubt", label: "doubt" },
  { value: "rules", label: "rules" },
] as const;
type View = (typeof VIEWS)[number]["value"];

export function LawPage() {
  const { kept, record } = useBench();
  const { search } = usePlace();
  const basis = BASES.find((one) => one === search.get("basis"));
  const switched = (search.get("reading") ?? "").split(",").filter((one) => one !== "");
  const readings = Object.fromEntries(READING_IDS.map((id) => [id, switched.includes(id)])) as unknown as StepReadings;
  const counting: Counting = { ...(basis === undefined ? {} : { basis }), readings };
  const { answer, stop, again } = useComputed(kept, "law", counting);
  const slow = useSlow(answer.kind === "working");
  const [before, setBefore] = useState<LawReport | null>(null);
  const here = answer.kind === "here" ? answer.value : null;
  if (here !== null && here !== before) setBefore(here);
  // While it is counted anew the last count stays, so that the page does not jump.
  const shown = here ?? (answer.kind === "working" && before?.product !== undefined ? before : null);
  return (
    <>
      <PageHead title={`What the law's index says of ${record.device.name}`} />
      <div className="row">
        <Segmented<RecordBasis | "">
          label="Steps counted over"
          value={basis ?? (shown?.basis === "sheet" ? "" : (shown?.basis ?? ""))}
          options={[
            { value: "described", label: "described", disabled: (record.described ?? []).length === 0 },
            { value: "done", label: "done", disabled: record.log.length === 0 },
            { value: "least", label: "least" },
          ]}
          onChange={(next) => setSearch({ basis: next === "" ? null : next })}
        />
        {shown === null ? null : <span className="soft">Counted over {BASIS_WORDS[shown.basis as RecordBasis]}.</span>}
      </div>
      {answer.kind === "working" && slow ? (
        <Waiting stop={stop}>Counting the steps to every priority part.</Waiting>
      ) : null}
      {answer.kind === "stopped" ? (
        <p>
          Stopped.{" "}
          <button type="button" className="button" onClick={again}>
            count again
          </button>
        </p>
      ) : null}
      {answer.kind === "refused" ? (
        <Fault title="The index could not be computed" faults={answer.faults} again={again} />
      ) : null}
      {shown === null ? null : <Assessment report={shown} counting={counting} switched={switched} />}
    </>
  );
}

function Assessment(props: {
  readonly report: LawReport;
  readonly counting: Counting;
  readonly switched: readonly string[];
}) {
  const { report, counting, switched } = props;
  const { search } = usePlace();
  usePointing(report);
  const view: View = VIEWS.find(({ value }) => value === search.get("view"))?.value ?? "parts";
  return (
    <div className="law">
      <Headline report={report} />
      <div className="row views">
        <Segmented<View>
          label="Look at"
          value={view}
          options={VIEWS}
          onChange={(next) => setSearch({ view: next === "parts" ? null : next })}
        />
      </div>
      {view === "parts" ? (
        <>
          <PriorityParts report={report} />
          <ProductScores report={report} />
        </>
      ) : null}
      {view === "checks" ? (
        <>
          <Checks report={report} />
          <DeclaredSheet counting={counting} />
        </>
      ) : null}
      {view === "change" ? (
        <>
          <WhatIf report={report} />
          <LeastChanges counting={counting} from={report.class} />
        </>
      ) : null}
      {view === "doubt" ? <Doubt report={report} /> : null}
      {view === "rules" ? (
        <>
          <Readings report={report} counting={counting} switched={switched} />
          <RulesUsed report={report} />
        </>
      ) : null}
      <EvidencePack basis={report.basis} />
      <p className="notice">{report.notice}</p>
    </div>
  );
}

/** The drawing points at what decides: for the chosen part, else for every priority part. */
function usePointing(report: LawReport): void {
  const { part, point } = useBench();
  const id = part?.id;
  useEffect(() => {
    const all = rolesIn(report).flatMap((role) => report.evidence[role] ?? []);
    const mine = all.filter((one) => one.part === id);
    const shown = mine.length > 0 ? mine : all;
    const joints = shown.flatMap((one) => decidingJoints(one));
    point({ parts: mine.flatMap((one) => one.segment?.after ?? []), joints });
    return () => point(null);
  }, [report, id, point]);
}

/** Joints with the fewest points of fastener; none where all have the most. */
function decidingJoints({ segment }: PartEvidence): string[] {
  const fasteners = segment?.fasteners ?? [];
  const least = Math.min(...fasteners.map(({ points }) => points ?? 0));
  return least >= 5 ? [] : fasteners.filter(({ points }) => (points ?? 0) === least).map(({ joint }) => joint);
}

function Headline({ report }: { readonly report: LawReport }) {
  const { index, unrounded, range, scores } = report;
  const spread = range !== undefined && range.low.index !== range.high.index;
  const end = (one: string | null) => one ?? "no index";
  const value = spread ? `${end(range.low.index)} to ${end(range.high.index)}` : end(index);
  return (
    <>
      <Figures>
        <Figure
          large
          value={value}
          note="repairability index, 1.00 to 5.00"
          source={
            <>
              <p>
                Weighted sum of six scores ({report.rules.act}, Annex IV point 5), in exact arithmetic:{" "}
                {unrounded === null ? "it could not be formed" : `${unrounded} before rounding`}.
              </p>
              <p>
                Rules {report.rules.id}, text of {report.rules.consolidated}.
              </p>
            </>
          }
        />
        {(["SDD", "SF", "ST", "SSP", "SSU", "SRI"] as const).map((name) => (
          <Figure key={name} value={String(scores[name] ?? "none")} note={`${SCORE_WORDS[name]}, ${name}`} />
        ))}
      </Figures>
      <p className="sentence">{classWords(report)}</p>
      {report.roundingDecides ? (
        <Caution title="Rounding decides">
          {unrounded} before rounding: the class would be another one without it. The act states no rounding mode.
        </Caution>
      ) : null}
      <Remarks title="Said about this count" lines={report.warnings} />
    </>
  );
}
