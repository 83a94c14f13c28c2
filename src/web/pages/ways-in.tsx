import { useEffect, useMemo } from "react";
import { CURRENT } from "../../core/law/rules/index.ts";
import { depthPoints } from "../../core/law/score.ts";
import { CONDITIONS, type Part, PRIORITY_ROLES } from "../../core/record/index.ts";
import { expectationOf } from "../../core/route/ways/expect.ts";
import type { Question, Unreachable, WayIn } from "../../core/route/ways/types.ts";
import { spokenRange, spokenTime } from "../../figures/index.ts";
import { cautionsFor, RULES_FIRST } from "../../paper/cautions.ts";
import { useBench } from "../bench/bench.tsx";
import type { Progress } from "../compute/messages.ts";
import { type UseComputed, useComputed, useSlow } from "../compute/use-computed.ts";
import { Caution, Remarks } from "../face/caution.tsx";
import { Fault } from "../face/fault.tsx";
import { Figure, Figures } from "../face/figure.tsx";
import { PageHead, Section, Waiting } from "../face/page-head.tsx";
import { PartButton } from "../face/part-button.tsx";
import { Segmented, Switches } from "../face/segmented.tsx";
import { Table } from "../face/table.tsx";
import { setSearch, usePlace } from "../router.ts";
import { Obstacles } from "../ways/obstacles.tsx";
import { OtherWays } from "../ways/other-ways.tsx";
import { GATES, listWord, questionFrom } from "../ways/question.ts";
import { Walkthrough } from "../ways/walkthrough.tsx";
import { CONDITION_WORDS, money, proofWords, ROLE_WORDS } from "../ways/words.ts";

/** Seconds that a question may take before the best found is shown with its bound. */
const LIMIT = 5;

export const isWay = (answer: WayIn | Unreachable | undefined): answer is WayIn =>
  answer !== undefined && "operations" in answer;

export function WaysInPage() {
  const { part } = useBench();
  if (part === null || part.base) return <ChooseTarget base={part} />;
  return <OneTarget key={part.id} part={part} />;
}

function ChooseTarget({ base }: { readonly base: Part | null }) {
  const { record, choose } = useBench();
  const rows = PRIORITY_ROLES.flatMap((role) =>
    record.parts
      .filter((one) => one.role === role || one.serves?.includes(role))
      .map((one) => ({ key: `${role} ${one.id}`, role, part: one })),
  );
  return (
    <>
      <PageHead title="Ways in">
        <p>
          {base === null
            ? "Choose a part in the drawing"
            : `${base.name} is the base: everything else is taken off it. Choose another part`}
          , and the order of work to it is computed here and now.
        </p>
      </PageHead>
      <Section title="Priority parts of the law">
        <Table
          caption="Priority parts"
          rows={rows}
          rowKey={(row) => row.key}
          empty="No part carries a priority role yet."
          columns={[
            { head: "role", cell: (row) => ROLE_WORDS[row.role] },
            { head: "part", cell: (row) => <PartButton id={row.part.id} name={row.part.name} choose={choose} /> },
          ]}
        />
      </Section>
    </>
  );
}

function OneTarget({ part }: { readonly part: Part }) {
  const { kept } = useBench();
  const { search } = usePlace();
  const words = search.toString();
  const question = useMemo(() => questionFrom(new URLSearchParams(words), part.id), [words, part.id]);
  const found = useComputed(kept, "ways", { questions: [question], seconds: LIMIT });
  return (
    <>
      <PageHead title={`Way in to ${part.name}`} />
      <Answer found={found} question={question} />
    </>
  );
}

function Choices({ question }: { readonly question: Question }) {
  const more =
    (question.accept?.length ?? 0) +
    (question.conditions?.length ?? 0) +
    Number(question.isolation === false) +
    Number(question.doubt === "none");
  return (
    <div className="row">
      <Segmented
        label="Least"
        value={question.least}
        options={[
          { value: "seconds", label: "least time" },
          { value: "steps", label: "fewest steps" },
          { value: "risk", label: "least risk" },
        ]}
        onChange={(least) => setSearch({ least: least === "seconds" ? null : least })}
      />
      <Segmented
        label="Damage"
        value={question.damage ? "allowed" : "none"}
        options={[
          { value: "none", label: "nothing damaged" },
          { value: "allowed", label: "damage allowed" },
        ]}
        onChange={(damage) => setSearch({ damage: damage === "allowed" ? "allowed" : null })}
      />
      <details className="more">
        <summary>hazards and conditions{more === 0 ? "" : ` (${more} set)`}</summary>
        <div className="opened">
          <Switches
            label="Hazards accepted"
            on={(question.accept ?? []) as readonly string[]}
            options={GATES.map((one) => ({ value: one, label: `${one} of the cell` }))}
            onChange={(on) => setSearch({ accept: listWord(on) })}
          />
          <Switches
            label="This unit is"
            on={(question.conditions ?? []) as readonly string[]}
            options={CONDITIONS.map((one) => ({ value: one, label: CONDITION_WORDS[one] }))}
            onChange={(on) => setSearch({ condition: listWord(on) })}
          />
          <Switches
            label="Rules"
            on={[
              ...(question.isolation === false ? ["isolation"] : []),
              ...(question.doubt === "none" ? ["doubt"] : []),
            ]}
            options={[
              { value: "isolation", label: "live work allowed before the cell is isolated" },
              { value: "doubt", label: "take the open doubts as not there (best case)" },
            ]}
            onChange={(on) =>
              setSearch({
                isolation: on.includes("isolation") ? "off" : null,
                doubt: on.includes("doubt") ? "none" : null,
              })
            }
          />
          {question.accept?.length || question.isolation === false ? (
            <Caution title="You have switched a safeguard off">
              The order shown may bring a tool near a live or stuck cell. For qualified people under local rules only.
            </Caution>
          ) : null}
        </div>
      </details>
    </div>
  );
}

function Answer(props: { readonly found: UseComputed<readonly (WayIn | Unreachable)[]>; readonly question: Question }) {
  const { question } = props;
  const { answer: finding, stop, again } = props.found;
  const { setWalk } = useBench();
  const answer =
    finding.kind === "here" ? finding.value[0] : finding.kind === "working" ? finding.soFar?.[0] : undefined;
  const slow = useSlow(finding.kind === "working");
  const way = isWay(answer) ? answer : null;
  useEffect(() => {
    setWalk(way === null ? null : { way, step: null });
    return () => setWalk(null);
  }, [way, setWalk]);
  switch (finding.kind) {
    case "idle":
      return null;
    case "working":
      return way !== null ? (
        <>
          <Waiting stop={stop}>
            The best order found so far is shown; the search goes on{progressWords(finding.progress)}
          </Waiting>
          <Found way={way} question={question} />
        </>
      ) : (
        <>
          <Choices question={question} />
          {slow ? (
            <Waiting stop={stop}>Looking for the best order of work{progressWords(finding.progress)}</Waiting>
          ) : null}
        </>
      );
    case "stopped":
      return (
        <>
          <Choices question={question} />
          <p>
            Stopped before an answer.{" "}
            <button type="button" className="button" onClick={again}>
              look again
            </button>
          </p>
        </>
      );
    case "refused":
      return (
        <>
          <Choices question={question} />
          <Fault title="The question could not be answered" faults={finding.faults} again={again} />
        </>
      );
    case "here":
      return way === null ? (
        <>
          <Choices question={question} />
          <NoWay answer={answer as Unreachable} question={question} />
        </>
      ) : (
        <Found way={way} question={question} />
      );
  }
}

function progressWords(progress: Progress | null): string {
  if (progress === null || !("least" in progress)) return ".";
  const { least, best, lowerBound } = progress;
  const say = (value: number) =>
    least === "seconds"
      ? spokenTime(value / 1000)
      : least === "steps"
        ? `${value} steps`
        : `${(value / 1e6).toFixed(2)} expected`;
  return best === null
    ? `: none found yet, at least ${say(lowerBound)}.`
    : `: best so far ${say(best)}, at least ${say(lowerBound)}.`;
}

function NoWay({ answer, question }: { readonly answer: Unreachable; readonly question: Question }) {
  const { record, choose } = useBench();
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  return (
    <div className="fault">
      {answer.unreachable.map((one) => (
        <div key={one.part}>
          <strong>No way in to {nameOf(one.part)} under these terms.</strong>
          <p>{one.because}.</p>
          {one.blockedBy.length === 0 ? null : (
            <p className="run">
              Blocked by{" "}
              {one.blockedBy.map((id) =>
                record.parts.some((part) => part.id === id) ? (
                  <PartButton key={id} id={id} name={nameOf(id)} choose={choose} />
                ) : (
                  <span key={id}>{id}</span>
                ),
              )}
            </p>
          )}
        </div>
      ))}
      {question.damage ? null : (
        <button type="button" className="button" onClick={() => setSearch({ damage: "allowed" })}>
          allow damage
        </button>
      )}
    </div>
  );
}

function Expected({ way }: { readonly way: WayIn }) {
  const { record } = useBench();
  const found = expectationOf(record, way);
  if (found === null) return null;
  return (
    <p>
      With its branches this way in takes <b>{spokenTime(found.mean)}</b> on average, give or take{" "}
      {spokenTime(found.spread)}, and {spokenTime(found.worst)} where all of it fails; nothing fails in{" "}
      {Math.round(found.chanceSmooth * 100)} of 100. By standard times; the order is the one that is best when nothing
      fails.
    </p>
  );
}

function Found({ way, question }: { readonly way: WayIn; readonly question: Question }) {
  const { record } = useBench();
  const fetches = way.operations.reduce((sum, one) => sum + one.fetch.length, 0);
  const turns = way.operations.filter((one) => one.turn).length;
  const points = depthPoints(CURRENT, way.steps);
  const cautions = cautionsFor(record, way);
  return (
    <>
      <Figures>
        <Figure
          large
          value={way.range === null ? spokenTime(way.seconds) : spokenRange(way.range.low, way.range.high)}
          note={
            way.range === null
              ? "by the standard times that orders are compared with"
              : `what benches take (set B); ${spokenTime(way.seconds)} by the standard times (set A) that orders are compared with`
          }
          source={
            <>
              <p>
                Two sources, two figures. The range is set B: the spread that a working bench would recognise for these
                operations (common practice, no source), or the bench's own times where the record has them. The
                standard times are set A, a published worksheet: they compare orders of work and promise no time, and
                for screws they are longer than what most benches take, so they may lie outside the range.
              </p>
              <Remarks title="Assumed" lines={way.assumptions} />
            </>
          }
        />
        <Figure
          value={`${way.steps} ${way.steps === 1 ? "step" : "steps"}`}
          note={`${points} ${points === 1 ? "point" : "points"} for depth, 2023/1669${way.remoteSteps > 0 ? `; ${way.remoteSteps} remote` : ""}`}
          source={
            <p>
              A step ends with a part taken off or with a change of tool ({CURRENT.act}, Annex I point 20); heating is
              one, each tool of a set after the first is one, each remote action of the maker is {CURRENT.remoteSteps}.
              The class itself is on the page Law.
            </p>
          }
        />
        <Figure
          value={`${fetches} ${fetches === 1 ? "fetch" : "fetches"}`}
          note={turns === 0 ? "no turn" : turns === 1 ? "1 turn" : `${turns} turns`}
        />
        <Figure
          value={money(way.risk)}
          note="expected damage"
          source={<p>Chance of harm times the price of the spare part, added up over the releases of this order.</p>}
        />
      </Figures>
      <Choices question={question} />
      <p className="soft">{proofWords(way)}</p>
      {way.warnings.map((one) => (
        <Caution key={one} title="Before you begin">
          {one}
        </Caution>
      ))}
      <Walkthrough way={way} question={question} />
      <div className="two">
        <Section title="What stands in the way">
          <Obstacles way={way} question={question} />
        </Section>
        <div className="cautions">
          {cautions.map((one) => (
            <Caution key={one.title} title={one.title}>
              {one.text}
            </Caution>
          ))}
          <p className="soft">{RULES_FIRST}</p>
        </div>
      </div>
      {way.branches.length === 0 ? null : (
        <Section title="What may fail on the way">
          <ul>
            {way.branches.map((branch) => (
              <li key={branch.joint}>
                {branch.joint}: in {Math.round(branch.chance * 100)} of 100 it fails, and the work goes on its way{" "}
                {branch.then + 1}, {spokenTime(branch.seconds)} more ({spokenTime(branch.expected)} on average).
              </li>
            ))}
          </ul>
          <Expected way={way} />
        </Section>
      )}
      <OtherWays question={question} way={way} />
    </>
  );
}
