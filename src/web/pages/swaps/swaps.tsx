import "../../shop/shop.css";
import { useEffect, useMemo } from "react";
import { CONDITIONS, type Part, PRIORITY_ROLES } from "../../../core/record/index.ts";
import type { Unreachable } from "../../../core/route/ways/types.ts";
import type { Swap, SwapQuestion } from "../../../core/service/swap/index.ts";
import type { WorkSheet } from "../../../paper/work-rows.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed, useSlow } from "../../compute/use-computed.ts";
import { Caution } from "../../face/caution.tsx";
import { Fault } from "../../face/fault.tsx";
import { PageHead, Section, Waiting } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { Segmented, Switches } from "../../face/segmented.tsx";
import { Table } from "../../face/table.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { ShopSettings } from "../../shop/shop-settings.tsx";
import { settingsFrom, useShop } from "../../shop/use-shop.ts";
import { GATES, listWord } from "../../ways/question.ts";
import { CONDITION_WORDS, ROLE_WORDS } from "../../ways/words.ts";
import { Job } from "./job.tsx";
import { swapQuestion } from "./question.ts";

/** Seconds that the planner may take before the best found is shown. */
const LIMIT = 5;

export function SwapsPage() {
  const { part } = useBench();
  if (part === null || part.base) return <ChooseParts />;
  return <OneSwap key={part.id} part={part} />;
}

function ChooseParts() {
  const { record, choose } = useBench();
  const rows = record.parts.filter(
    (one) => !one.base && one.role !== undefined && (PRIORITY_ROLES as readonly string[]).includes(one.role),
  );
  return (
    <>
      <PageHead title="Swaps">
        <p>
          Choose a part in the drawing or here: the job to replace it is worked out, in and back, with what it takes,
          how long, what can go wrong and what it costs.
        </p>
      </PageHead>
      <Section title="Asked for most">
        <Table
          caption="Priority parts and their spares"
          rows={rows}
          rowKey={(row) => row.id}
          empty="No part carries a priority role yet; any part of the drawing can be chosen."
          columns={[
            { head: "part", cell: (row) => <PartButton id={row.id} name={row.name} choose={choose} /> },
            { head: "role", cell: (row) => ROLE_WORDS[row.role as keyof typeof ROLE_WORDS] },
            { head: "number", cell: (row) => row.spare?.numbers?.join(", ") ?? "" },
            {
              head: "spare",
              number: true,
              cell: (row) =>
                row.spare?.price ? `${row.spare.price.amount} ${row.spare.price.currency}` : "price not known",
            },
          ]}
        />
      </Section>
    </>
  );
}

function OneSwap({ part }: { readonly part: Part }) {
  const { kept, record, setWalk } = useBench();
  const { search } = usePlace();
  const [shop] = useShop();
  const words = search.toString();
  const question = useMemo(
    () =>
      swapQuestion(
        new URLSearchParams(words),
        part.id,
        new Set(record.parts.filter((one) => !one.base).map(({ id }) => id)),
        settingsFrom(shop),
      ),
    [words, part.id, record, shop],
  );
  const found = useComputed(kept, "swap", { question, seconds: LIMIT });
  const { answer } = found;
  const value = answer.kind === "here" ? answer.value : null;
  const job = value !== null && "swap" in value ? value : null;
  const slow = useSlow(answer.kind === "working");
  const way = job?.swap.wayIn ?? null;
  useEffect(() => {
    setWalk(way === null ? null : { way, step: null });
    return () => setWalk(null);
  }, [way, setWalk]);
  return (
    <>
      <PageHead
        title={`Replace ${question.replace.map((id) => record.parts.find((one) => one.id === id)?.name ?? id).join(", ")}`}
      />
      <Choices question={question} first={part.id} />
      {answer.kind === "working" && slow ? (
        <Waiting stop={found.stop}>Working out the job, in and back.</Waiting>
      ) : null}
      {answer.kind === "stopped" ? (
        <p>
          Stopped.{" "}
          <button type="button" className="button" onClick={found.again}>
            work it out
          </button>
        </p>
      ) : null}
      {answer.kind === "refused" ? (
        <Fault
          title="The job could not be worked out"
          faults={answer.faults}
          action="What is named settings stands under this shop's rates."
          again={found.again}
        />
      ) : null}
      {value !== null && "unreachable" in value ? <NotDone answer={value} /> : null}
      {job === null ? null : <WithWarmth swap={job.swap} sheet={job.sheet} />}
    </>
  );
}

/** The ledger is there at once; what the warm window says comes into it when it has been computed. */
function WithWarmth({ swap, sheet }: { readonly swap: Swap; readonly sheet: WorkSheet }) {
  const { kept, record } = useBench();
  const zones = new Set(swap.wayIn.operations.flatMap(({ zone }) => zone ?? []));
  const recorded = (record.zones ?? []).some(({ id }) => zones.has(id));
  const { answer, stop, again } = useComputed(kept, "warmSheet", recorded ? { swap } : null);
  return (
    <Job
      swap={swap}
      sheet={answer.kind === "here" ? answer.value : sheet}
      warmth={
        answer.kind === "working" ? (
          <Waiting stop={stop}>The warm window of its heatings is being computed.</Waiting>
        ) : answer.kind === "stopped" ? (
          <p>
            The heatings stand as the record has them.{" "}
            <button type="button" className="button" onClick={again}>
              compute the warm window
            </button>
          </p>
        ) : answer.kind === "refused" ? (
          <Fault title="The warm window could not be computed" faults={answer.faults} again={again} />
        ) : null
      }
    />
  );
}

function Choices({ question, first }: { readonly question: SwapQuestion; readonly first: string }) {
  const { record } = useBench();
  const [shop, change] = useShop();
  const others = question.replace.filter((id) => id !== first);
  const conditions = question.conditions ?? [];
  const accept = question.accept ?? [];
  const more = conditions.length + accept.length + Number(question.damage === true);
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  return (
    <>
      <div className="row">
        <label>
          <span className="unseen">Replace in the same job</span>
          <select
            value=""
            onChange={(event) => setSearch({ with: listWord([...others, event.target.value]), "cap-risk": null })}
          >
            <option value="">and in the same job …</option>
            {record.parts
              .filter((one) => !one.base && !question.replace.includes(one.id))
              .map((one) => (
                <option key={one.id} value={one.id}>
                  {one.name}
                </option>
              ))}
          </select>
        </label>
        {others.map((id) => (
          <button
            key={id}
            type="button"
            className="button"
            onClick={() => setSearch({ with: listWord(others.filter((one) => one !== id)), "cap-risk": null })}
          >
            without {nameOf(id)}
          </button>
        ))}
        <Segmented
          label="Times"
          value={shop.times}
          options={[
            { value: "own", label: "our own times" },
            { value: "B", label: "common practice" },
            { value: "A", label: "published sheet" },
          ]}
          onChange={(times) => change({ times })}
        />
        <Segmented
          label="Hands"
          value={shop.hands}
          options={[
            { value: "first", label: "first time" },
            { value: "practised", label: "practised" },
          ]}
          onChange={(hands) => change({ hands })}
        />
      </div>
      <div className="row">
        <details className="more" open={more > 0}>
          <summary>at intake{more === 0 ? "" : ` (${more} set)`}</summary>
          <div className="opened">
            <Switches
              label="This unit is"
              on={conditions as readonly string[]}
              options={CONDITIONS.map((one) => ({ value: one, label: CONDITION_WORDS[one] }))}
              onChange={(on) => setSearch({ condition: listWord(on) })}
            />
            <Switches
              label="Allowed"
              on={[...accept, ...(question.damage ? ["damage"] : [])]}
              options={[
                ...GATES.map((one) => ({ value: one as string, label: `${one} of the cell, for trained people` })),
                { value: "damage", label: "damage to a part" },
              ]}
              onChange={(on) =>
                setSearch({
                  accept: listWord(GATES.filter((one) => on.includes(one))),
                  damage: on.includes("damage") ? "allowed" : null,
                })
              }
            />
            {accept.length > 0 ? (
              <Caution title="You have switched a safeguard off">
                The order shown may bring a tool near a live or stuck cell. For qualified people under local rules only.
              </Caution>
            ) : null}
          </div>
        </details>
        <ShopSettings />
      </div>
    </>
  );
}

function NotDone({ answer }: { readonly answer: Unreachable }) {
  const { record, choose } = useBench();
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  return (
    <div className="fault">
      {answer.unreachable.map((one) => (
        <div key={one.part}>
          <strong>{nameOf(one.part)} cannot be replaced under these terms.</strong>
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
    </div>
  );
}
