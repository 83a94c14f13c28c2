/** A job that can be done: its figures, who may do it, the ledger, what it takes, what can go wrong. */
import type { ReactNode } from "react";
import type { Hazard, Money } from "../../../core/record/index.ts";
import type { Swap } from "../../../core/service/swap/index.ts";
import { ENOUGH } from "../../../core/service/swap/times.ts";
import { spokenRange, spokenTime } from "../../../figures/index.ts";
import { drawSpread } from "../../../figures/spread/spread.ts";
import { cautionsFor, RULES_FIRST } from "../../../paper/cautions.ts";
import type { WorkSheet } from "../../../paper/work-rows.ts";
import { useBench } from "../../bench/bench.tsx";
import { Caution, Remarks } from "../../face/caution.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { Picture } from "../../face/picture.tsx";
import { Table } from "../../face/table.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { CONDITION_WORDS } from "../../ways/words.ts";
import { Ledger } from "./ledger.tsx";

const money = (value: Money | null): string => (value === null ? "not known" : `${value.amount} ${value.currency}`);
const percent = (share: number): string => `${(share * 100).toFixed(share < 0.1 ? 1 : 0)} %`;

export function Job(props: { readonly swap: Swap; readonly sheet: WorkSheet; readonly warmth: ReactNode }) {
  const { swap, sheet, warmth } = props;
  return (
    <>
      <Headline swap={swap} />
      <Time swap={swap} />
      <Cautions swap={swap} />
      <AtHand swap={swap} />
      <Section title="In, swap and back">
        {warmth}
        <Ledger sheet={sheet} />
      </Section>
      <WhatCanGoWrong swap={swap} />
      <Section title="What this rests on">
        <Remarks title="Assumed" lines={swap.assumptions} />
        <Remarks title="Said about this job" lines={swap.warnings} />
      </Section>
    </>
  );
}

/** Who may do it stands first: hazards are gates, not prices. */
function Cautions({ swap }: { readonly swap: Swap }) {
  const { record } = useBench();
  const at = useJointName();
  return (
    <div className="caution-columns">
      {swap.risk.hazards.map((one) => (
        <Caution key={`${one.joint} ${one.hazard}`} title={`${HAZARD_WORDS[one.hazard]} at ${at(one.joint)}`}>
          {one.who}
        </Caution>
      ))}
      {swap.intake.map(({ condition, changes }) => (
        <Caution key={condition} title={`At intake: ${CONDITION_WORDS[condition]}`}>
          {changes}
        </Caution>
      ))}
      {cautionsFor(record, swap.wayIn).map(({ title, text }) => (
        <Caution key={title} title={title}>
          {text}
        </Caution>
      ))}
      <p className="soft">{RULES_FIRST}</p>
    </div>
  );
}

const HAZARD_WORDS: Readonly<Record<Hazard, string>> = {
  puncture: "A cell may be pierced",
  short: "A short is possible",
  burn: "Burns are possible",
  fume: "Fumes rise",
  shard: "Glass may splinter",
};

/** A joint by what it holds. */
function useJointName(): (id: string) => string {
  const { record } = useBench();
  const base = record.parts.find((one) => one.base)?.id;
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  return (id) => {
    const joint = record.joints.find((one) => one.id === id);
    if (joint === undefined) return id;
    const held = joint.holds.filter((one) => one !== base);
    return (held.length > 0 ? held : joint.holds).map(nameOf).join(" / ");
  };
}

function Headline({ swap }: { readonly swap: Swap }) {
  const { seconds, price, repairUpTo, priceOf, risk } = swap;
  const whole = (amount: string): string => String(Math.round(Number(amount)));
  return (
    <Figures>
      <Figure
        large
        value={spokenRange(seconds.p50, seconds.p90)}
        note="hands on: half of jobs to nine in ten"
        source={
          <p>
            Simulated with {swap.settings.trials} jobs, seed {swap.settings.seed}, on times of{" "}
            {swap.settings.times === "A"
              ? "a published worksheet (set A)"
              : swap.settings.times === "B"
                ? "common practice (set B, no source)"
                : "this bench where its log has enough of them, else of common practice (set B, no source)"}
            ; what may fail on the way is in it. Mean {spokenTime(seconds.mean)}; by the planner's own times{" "}
            {spokenTime(seconds.handsOn)}.
          </p>
        }
      />
      <Figure value={spokenTime(seconds.elapsed)} note="until everything has cured" />
      <Figure
        value={price === null ? "no price" : `${whole(price.p10)} to ${whole(price.p90)} ${price.currency}`}
        note={price === null ? swap.why : `8 of 10 jobs; half of them below ${price.p50}`}
        {...(priceOf === undefined
          ? {}
          : {
              source: (
                <p>
                  Parts {money(priceOf.parts)}, consumables {money(priceOf.consumables)}, labour{" "}
                  {money(priceOf.labourAnHour)} an hour with {percent(swap.settings.overhead)} overhead; what breaks on
                  the way by its chance; {percent(swap.settings.warranty)} of jobs come back; margin{" "}
                  {percent(swap.settings.margin)} of the price, tax {percent(swap.settings.tax)} on it.
                </p>
              ),
            })}
      />
      {repairUpTo === null ? (
        <Figure value="limit not known" note="the price of a new device is not recorded" />
      ) : (
        <Figure
          value={`up to ${whole(repairUpTo.amount)} ${repairUpTo.currency}`}
          note={`repair beats a new device (${whole(repairUpTo.low)} to ${whole(repairUpTo.high)})`}
          source={
            <p>
              The price at which a year with the repaired device costs as much as a year with a new one: success{" "}
              {percent(repairUpTo.success)}, {swap.settings.lifeRepaired} years after a repair against{" "}
              {swap.settings.lifeNew} of a new device, {percent(swap.settings.interest)} a year. The range is that of
              the chance of success, 90 %.
            </p>
          }
        />
      )}
      <Figure
        value={percent(risk.chance)}
        note={risk.expected === null ? "chance of damage" : `chance of damage, ${money(risk.expected)} expected`}
      />
    </Figures>
  );
}

function Time({ swap }: { readonly swap: Swap }) {
  const { seconds, spread } = swap;
  return (
    <Section title="How long">
      <Picture
        most={760}
        draw={(width) =>
          drawSpread(
            {
              share: spread.share,
              seconds: spread.seconds,
              p50: seconds.p50,
              p90: seconds.p90,
              standard: seconds.handsOn,
            },
            width,
          )
        }
      />
      {swap.settings.times !== "own" ? null : (
        <details className="remarks">
          <summary>
            this bench's own times{" "}
            <span className="soft">
              ({swap.ownTimes.filter(({ n }) => n >= ENOUGH).length} of {swap.ownTimes.length} kinds of work known well
              enough)
            </span>
          </summary>
          <Table
            caption="This bench's own times"
            rows={swap.ownTimes}
            rowKey={(row) => row.action}
            empty="The log has no timed work: times of common practice serve."
            columns={[
              { head: "work", cell: (row) => row.action },
              { head: "observations", number: true, cell: (row) => row.n },
              { head: "of the standard", unit: "×", number: true, cell: (row) => row.ratio.toFixed(2) },
              { head: "nine in ten", unit: "×", number: true, cell: (row) => row.p90.toFixed(2) },
              { head: "used", cell: (row) => (row.n >= ENOUGH ? "yes" : `no, from ${ENOUGH} on`) },
            ]}
          />
        </details>
      )}
    </Section>
  );
}

function AtHand({ swap }: { readonly swap: Swap }) {
  const { choose, record } = useBench();
  const rows = [
    ...swap.parts.map((one) => ({
      key: `part ${one.id}`,
      what: record.parts.some((part) => part.id === one.id) ? (
        <PartButton id={one.id} name={one.name} choose={choose} />
      ) : (
        one.name
      ),
      amount: String(one.amount),
      number: one.numbers?.join(", ") ?? "",
      price: money(one.price),
      note: one.leadDays === undefined ? one.because : `${one.because}; ${one.leadDays} days to come`,
    })),
    ...swap.consumables.map((one) => ({
      key: `consumable ${one.id}`,
      what: one.name,
      amount: one.amount.unit === "1" ? String(one.amount.value) : `${one.amount.value} ${one.amount.unit}`,
      number: one.number ?? "",
      price: money(one.price),
      note: [
        ...(one.packShare === undefined ? [] : [`${percent(one.packShare)} of a pack`]),
        ...(one.shelfDays === undefined ? [] : [`keeps ${one.shelfDays} days`]),
      ].join("; "),
    })),
  ];
  return (
    <Section title="At hand">
      <Table
        caption="Parts and consumables"
        rows={rows}
        rowKey={(row) => row.key}
        columns={[
          { head: "what", cell: (row) => row.what },
          { head: "amount", number: true, cell: (row) => row.amount },
          { head: "number", cell: (row) => row.number },
          { head: "price", number: true, cell: (row) => row.price },
          { head: "because", cell: (row) => <span className="soft">{row.note}</span> },
        ]}
      />
      <p className="tools-line">
        <span className="soft">Tools:</span>{" "}
        {swap.tools.map(({ name, brought }) => `${name}${brought ? " (comes with the spare)" : ""}`).join(", ") ||
          "bare hands"}
        .
      </p>
    </Section>
  );
}

function WhatCanGoWrong({ swap }: { readonly swap: Swap }) {
  const { record, choose } = useBench();
  const at = useJointName();
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  return (
    <Section title="What can go wrong">
      <Table
        caption="Chance of damage by joint and method"
        rows={swap.risk.items}
        rowKey={(row) => `${row.joint} ${row.part}`}
        empty="Nothing on this way is known to damage anything."
        columns={[
          { head: "part", cell: (row) => <PartButton id={row.part} name={nameOf(row.part)} choose={choose} /> },
          { head: "at", cell: (row) => `${at(row.joint)}, ${row.action}` },
          { head: "chance", number: true, cell: (row) => percent(row.chance) },
          { head: "90 %", number: true, cell: (row) => `${percent(row.low)} to ${percent(row.high)}` },
          {
            head: "known from",
            cell: (row) => (
              <span className="soft">
                {row.basis === "record" ? "the record" : row.basis}
                {row.outcomes.fine + row.outcomes.damaged === 0
                  ? ""
                  : `; ${row.outcomes.fine} went well, ${row.outcomes.damaged} did not`}
                {row.replaced ? "; replaced anyway" : ""}
              </span>
            ),
          },
        ]}
      />
      {swap.branches.map((branch) => (
        <p key={branch.joint}>
          {at(branch.joint)} may fail: in {percent(branch.chance)} of cases {spokenTime(branch.seconds)} more are needed
          (they are in the time and the price).
        </p>
      ))}
      <Front swap={swap} />
    </Section>
  );
}

/** Every way in than which none is both quicker and less risky. */
function Front({ swap }: { readonly swap: Swap }) {
  const { search } = usePlace();
  const front = swap.front ?? [];
  const cap = search.get("cap-risk");
  if (front.length < 2 && cap === null) return null;
  return (
    <>
      <h3>Time against risk of the way in</h3>
      <Table
        caption="Ways in than which none is both quicker and less risky"
        rows={front}
        rowKey={(row) => row.risk.amount}
        chosen={(row) => row.risk.amount === swap.wayIn.risk?.amount}
        columns={[
          {
            head: "expected damage",
            cell: (row) => (
              <button
                type="button"
                className="part-button"
                onClick={() => setSearch({ "cap-risk": row === front[0] ? null : row.risk.amount })}
              >
                {money(row.risk)}
              </button>
            ),
          },
          { head: "way in", number: true, cell: (row) => spokenTime(row.seconds) },
          { head: "legal steps", number: true, cell: (row) => row.steps },
          { head: "proved", cell: (row) => (row.proved ? "yes" : "not in the time given") },
        ]}
      />
    </>
  );
}
