/**
 * Figures: what was measured, how sure it is, and what it bears. Four views of one answer: the whole and its parts, the
 * claims, the device beside another, the readings. What is hardly right stands above all of them.
 */
import type { Figures } from "../../../core/measure/index.ts";
import type { RecordHead } from "../../../server/api.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed, useSlow } from "../../compute/use-computed.ts";
import { useAnswer } from "../../data/use-answer.ts";
import { OpenQuestion } from "../../face/caution.tsx";
import { Fault } from "../../face/fault.tsx";
import { PageHead, Waiting } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { BesideView } from "./beside-view.tsx";
import { ClaimsView } from "./claims-view.tsx";
import { ReadingsView } from "./readings-view.tsx";
import { WholeView } from "./whole-view.tsx";

const VIEWS = ["whole", "claims", "beside", "readings"] as const;
type View = (typeof VIEWS)[number];

export function FiguresPage() {
  const { kept, record } = useBench();
  const { search } = usePlace();
  const heads = useAnswer<readonly RecordHead[]>("/api/records");
  const here = heads.kind === "here" ? heads.value : [];
  const sibling = here.find((one) => one.id === record.sibling) ?? null;
  // Asked once it is known whether the sibling is at hand, so that verdicts do not change under the reader's eyes.
  const { answer, again } = useComputed(
    kept,
    "figures",
    heads.kind === "waiting"
      ? null
      : { sibling: sibling === null ? null : { id: sibling.id, revision: sibling.revision } },
  );
  const slow = useSlow(answer.kind === "working");
  const view = VIEWS.find((one) => one === search.get("view")) ?? "whole";
  const others = here.filter((one) => one.id !== record.id);
  return (
    <>
      <PageHead title={`Figures of ${record.device.name}`} />
      <div className="row">
        <Segmented<View>
          label="Look at"
          value={view}
          options={[
            { value: "whole", label: "whole" },
            { value: "claims", label: "claims" },
            { value: "beside", label: "beside", disabled: others.length === 0 },
            { value: "readings", label: "readings" },
          ]}
          onChange={(next) => setSearch({ view: next === "whole" ? null : next })}
        />
      </div>
      {answer.kind === "working" && slow ? <Waiting>Adding up the readings.</Waiting> : null}
      {answer.kind === "refused" ? (
        <Fault
          title="The figures could not be had"
          faults={answer.faults}
          action="Mend the reading that is named, then look again."
          again={again}
        />
      ) : null}
      {answer.kind === "here" ? (
        <>
          <HardlyRight figures={answer.value} />
          {view === "whole" ? <WholeView figures={answer.value} /> : null}
          {view === "claims" ? <ClaimsView figures={answer.value} /> : null}
          {view === "readings" ? <ReadingsView figures={answer.value} /> : null}
        </>
      ) : null}
      {view === "beside" ? <BesideView others={others} sibling={sibling?.id ?? null} /> : null}
    </>
  );
}

function HardlyRight({ figures }: { readonly figures: Figures }) {
  const { record } = useBench();
  if (figures.flags.length === 0) return null;
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  return (
    <section aria-label="Hardly right">
      {figures.flags.map((flag) => (
        <OpenQuestion key={`${flag.about} ${flag.kind} ${flag.text}`}>
          {nameOf(flag.about)}: {flag.text}.
        </OpenQuestion>
      ))}
    </section>
  );
}
