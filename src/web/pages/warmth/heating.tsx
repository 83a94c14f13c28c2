/** One zone: the window as figures, the course through time, the section, the counted minutes, the rounds, the clock. */
import { useCallback, useMemo, useState } from "react";
import { type Band, burnTime, IPA, type Piece, SETTINGS, type Window } from "../../../core/heat/index.ts";
import { drawCounted, drawCourse, drawWarmSection, spokenTime } from "../../../figures/index.ts";
import { CELL_CAUTION, RULES_FIRST } from "../../../paper/cautions.ts";
import { useBench } from "../../bench/bench.tsx";
import type { WarmAsks, WarmShown } from "../../compute/warm-tasks.ts";
import { Caution, Remarks } from "../../face/caution.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";
import { readable } from "../../face/readable.ts";
import { Table } from "../../face/table.tsx";
import { BenchClock } from "./countdown.tsx";
import { NumberField } from "./fields.tsx";
import { onePiece } from "./phases.ts";
import { RoundsOfCut, useRounds } from "./rounds.tsx";
import type { ZoneHere } from "./zones.ts";

export interface HeatingProps {
  readonly zone: ZoneHere;
  readonly source: string;
  readonly asks: WarmAsks;
  readonly shown: WarmShown;
  /** A newer answer is on its way. */
  readonly behind: boolean;
  readonly changed: boolean;
  readonly setPlate: (plate: number | null) => void;
  readonly setLiftOff: (at: number | null) => void;
  readonly setUsed: (seconds: number) => void;
}

export function Heating(props: HeatingProps) {
  const { zone, source, asks, shown, behind, changed, setPlate, setLiftOff, setUsed } = props;
  const { record } = useBench();
  const { answer, course, hot } = shown;
  const { window } = answer;
  const end = course.at[course.at.length - 1]!;
  const [time, setTime] = useState<number | null>(null);
  const now = Math.min(end, time ?? course.liftOff);
  const [cut, setCut] = useState(zone.cut > 0 ? zone.cut : 120);
  const rounds = useRounds(asks, window === null ? null : cut);
  const planned =
    rounds.answer.kind === "here" && rounds.answer.value.kind === "rounds" ? rounds.answer.value.rounds : null;
  const names = useMemo(() => layerNames(record), [record]);
  const watched = useMemo(() => new Set(course.faces.map(({ line, watch }) => `${line} ${watch.layer}`)), [course]);
  const follow = useCallback((seconds: number) => setTime(seconds), []);
  const own = props.asks.liftOff !== undefined;
  const pieces = useMemo<readonly Piece[]>(
    () => (planned !== null && !own ? planned.sequence : onePiece(course.liftOff, window)),
    [planned, own, course.liftOff, window],
  );
  const used = asks.used ?? 0;
  const counted = countedFace(shown, used);
  const late = window?.to != null && course.liftOff > window.to + 0.05;
  return (
    <>
      <Section title="The warm window">
        <Figures>
          <Figure
            large
            value={window === null ? "there is none" : windowWords(window)}
            note={window === null ? "warm window" : `from the first contact; soft ${afterWords(window)} after lift-off`}
            source={
              answer.band === undefined ? undefined : <BandTable band={answer.band} assumptions={answer.assumptions} />
            }
          />
          <Figure value={`${hot.temperature} °C`} note={`setting of ${source}`} />
          <Figure value={bondWords(shown)} note="in the bond, to be soft" />
          {counted === null || window?.counted === undefined ? null : (
            <Figure
              value={spokenTime(window.counted)}
              note={`of ${spokenTime(counted.allowed)} counted above ${counted.above} °C`}
              source={
                <p>
                  Below {counted.above} °C at the cell no remark; above it the time adds up over all heatings of a unit,
                  up to {spokenTime(counted.allowed)}. {SETTINGS.countedAbove.source}; the allowance is{" "}
                  {SETTINGS.counted.source}.
                </p>
              }
            />
          )}
        </Figures>
        {window === null ? (
          <None shown={shown} />
        ) : (
          <BandSentence band={answer.band} window={window} fitted={asks.contact !== undefined} />
        )}
        <div className="fields">
          <NumberField
            label={`${source}, setting`}
            unit="°C"
            value={hot.temperature}
            least={30}
            most={200}
            step={2.5}
            onChange={setPlate}
          />
          <NumberField
            label="lift off at"
            unit="s"
            value={Math.floor(course.liftOff)}
            least={Math.ceil(course.begins) + 1}
            most={3600}
            onChange={setLiftOff}
          />
          {changed ? (
            <button
              type="button"
              className="button"
              onClick={() => {
                setPlate(null);
                setLiftOff(null);
              }}
            >
              as recorded
            </button>
          ) : null}
          {behind ? <span role="status">computing</span> : null}
        </div>
        {window === null ? (
          <p className="soft">The picture shows the programme as it is set, to see what happens; it is not a plan.</p>
        ) : null}
        {late ? (
          <Caution title="Too late">
            A lift-off at {spokenTime(course.liftOff)} passes the plan limit of the cell or the panel: it may be looked
            at here, it is not to be done.
          </Caution>
        ) : null}
        <Picture most={900} draw={(width) => drawCourse(course, { width, window, now })} />
        <div className="through-time">
          <input
            type="range"
            aria-label="Time that is looked at"
            aria-valuetext={spokenTime(now)}
            min={0}
            max={end}
            step={1}
            value={now}
            onChange={(event) => setTime(Number(event.target.value))}
          />
          <output>{spokenTime(now)}</output>
        </div>
        <p className="soft">
          Grey: where the curves lie with what is not well known ({course.unsure.map(({ what }) => what).join(", ")}),
          each lifted off at the same second.
        </p>
      </Section>
      <div className="two">
        <div>
          <Section title={`The section after ${spokenTime(now)}`}>
            <Picture
              most={560}
              draw={(width) =>
                drawWarmSection(course, { width, now, names, watched, source: `${source} ${hot.temperature} °C` })
              }
              caption="Thin layers are drawn thicker than they are; heavy outline: watched."
            />
          </Section>
        </div>
        <div>
          {counted === null ? null : (
            <Section title="Counted minutes of the cell">
              <Picture
                most={520}
                draw={(width) =>
                  drawCounted({
                    width,
                    allowed: counted.allowed,
                    above: counted.above,
                    used: counted.at(now),
                    marks: [
                      { at: counted.total, words: "this heating" },
                      ...(planned === null ? [] : [{ at: used + planned.counted, words: "the whole cut" }]),
                    ],
                  })
                }
              />
              <div className="fields">
                <NumberField
                  label="counted on this unit before"
                  unit="min"
                  value={used / 60}
                  least={0}
                  most={counted.allowed / 60}
                  step={0.5}
                  onChange={(minutes) => setUsed(Math.round(minutes * 60))}
                />
              </div>
            </Section>
          )}
          <Cautions hot={hot.temperature} />
        </div>
      </div>
      {window === null ? null : <RoundsOfCut cut={cut} setCut={setCut} rounds={rounds} counted={counted} />}
      {window === null ? null : (
        <Section title="On the bench">
          <BenchClock key={pieces.map(({ to }) => Math.round(to)).join(" ")} pieces={pieces} follow={follow} />
          <p className="soft">
            The clock does not know the temperature: a thermocouple at the cell's face does. Stop at{" "}
            {SETTINGS.stop.value} °C there, whatever the clock says.
          </p>
        </Section>
      )}
      <Remarks title="What it rests on" lines={[...answer.assumptions, ...shown.notes].map(readable)} />
    </>
  );
}

function windowWords({ from, to }: Window): string {
  return to === null ? `from ${spokenTime(from)}` : `${spokenTime(from)} to ${spokenTime(to)}`;
}

function afterWords({ after }: Window): string {
  return after === null ? "for more than an hour" : `for ${spokenTime(after)}`;
}

function bondWords({ course }: WarmShown): string {
  const soft = course.faces.flatMap(({ watch }) => watch.soft ?? []);
  if (soft.length === 0) return "not watched";
  const [low, high] = [Math.min(...soft), Math.max(...soft)];
  return low === high ? `${low} °C` : `${low} to ${high} °C`;
}

/** The face with most counted time, and how much it has used at any time of the course. */
export function countedFace({ course }: WarmShown, used: number) {
  const faces = course.faces.filter(({ counted }) => counted !== undefined);
  if (faces.length === 0) return null;
  const face = faces.reduce((most, one) => (one.counted!.at(-1)! > most.counted!.at(-1)! ? one : most));
  const { above, seconds } = face.watch.counted!;
  return {
    above,
    used,
    allowed: seconds + used,
    total: used + face.counted!.at(-1)!,
    at: (now: number): number => {
      const i = course.at.findIndex((t) => t >= now);
      if (i <= 0) return used;
      const share = (now - course.at[i - 1]!) / (course.at[i]! - course.at[i - 1]!);
      return used + face.counted![i - 1]! + share * (face.counted![i]! - face.counted![i - 1]!);
    },
  };
}

/** Names of parts instead of ids; bonds by what they are. */
function layerNames(record: {
  readonly parts: readonly { id: string; name: string }[];
  readonly joints: readonly { id: string; kind: string }[];
}) {
  return new Map([
    ...record.parts.map(({ id, name }) => [id, name] as const),
    ...record.joints.map(({ id, kind }) => [id, kind.replaceAll("-", " ")] as const),
  ]);
}

function None({ shown: { answer } }: { readonly shown: WarmShown }) {
  const helps = answer.wouldHelp ?? [];
  return (
    <>
      <p className="sentence">{readable(capital(answer.why ?? "No moment suits both the bond and the cell"))}.</p>
      {helps.length === 0 ? (
        <p>
          None of the changes tried makes one (a cooler source, the cool side on metal, a card over the cell, a pause):
          heat it in another way, or not at all.
        </p>
      ) : (
        <>
          <h3>What would make one</h3>
          <ul className="helps">
            {helps.map(({ change, window }) => (
              <li key={change}>
                <b>{readable(capital(change))}</b>: {windowWords(window)}, soft {afterWords(window)} afterwards
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const span = (ends: readonly [number | null, number | null] | null, open: string): string => {
  if (ends === null) return "never";
  const say = (value: number | null) => (value === null ? open : spokenTime(value));
  return ends[0] === ends[1] ? say(ends[0]) : `${say(ends[0])} to ${say(ends[1])}`;
};

function BandSentence(props: { readonly band: Band | undefined; readonly window: Window; readonly fitted: boolean }) {
  const { band, fitted } = props;
  if (band === undefined || band.from === null) return null;
  const [, slowest] = band.from;
  const soonest = band.to?.[0] ?? null;
  const gap = soonest !== null && slowest > soonest;
  return (
    <p className="sentence">
      With what is not well known the bond is soft from {span(band.from, "no limit")} and the latest lift-off lies at{" "}
      {span(band.to, "no limit")}
      {band.mayFail ? "; in some of these cases there is no window at all" : ""}.{" "}
      {gap || band.mayFail
        ? fitted
          ? "The ends overlap: go by a thermocouple at the cell's face, not by the clock."
          : "The ends overlap: measure the source first, it narrows them most."
        : "Between the slowest start and the soonest end everything holds."}
    </p>
  );
}

function BandTable({ band, assumptions }: { readonly band: Band; readonly assumptions: readonly string[] }) {
  const say = (window: Window | null) => (window === null ? "none" : windowWords(window));
  return (
    <>
      <p>
        Transient conduction through the layers; the hottest stage held on, the warming after lift-off included. One
        thing at a time is changed to either end of what a bench may meet:
      </p>
      <Table
        caption="What moves the window"
        rows={band.variations}
        rowKey={({ what }) => what}
        columns={[
          { head: "not well known", cell: ({ what, source }) => <span title={source}>{what}</span> },
          { head: "at the low end", cell: ({ low, atLow }) => `${readable(low)}: ${say(atLow)}` },
          { head: "at the high end", cell: ({ high, atHigh }) => `${readable(high)}: ${say(atHigh)}` },
        ]}
      />
      <p className="soft">{readable(assumptions[0]!)}</p>
    </>
  );
}

function Cautions({ hot }: { readonly hot: number }) {
  const skin = (["metal", "glass"] as const).map((material) => {
    const seconds = burnTime(hot, material);
    return `${material} ${seconds === null ? "after more than 5 min" : `within ${spokenTime(seconds)}`}`;
  });
  return (
    <Section title="Before it is switched on">
      <Caution
        title={`Skin at ${hot} °C`}
      >{`${capital(skin.join(", "))}: a serious burn. Gloves or a holder.`}</Caution>
      <Caution title="Solvent off and away">
        Isopropyl alcohol takes fire from {IPA.flash} °C on, below any room. Wet only with the source off and the part
        below 50 °C, in moving air, no flame or spark.
      </Caution>
      <Caution title="Cell">
        Charge at most {SETTINGS.charge.value} %, read before power-off. Plan below {SETTINGS.plan.value} °C at its
        face, stop at {SETTINGS.stop.value} °C.
      </Caution>
      <Caution title={CELL_CAUTION.title}>{CELL_CAUTION.text}</Caution>
      <Caution title="Glass">Warm glass breaks under a blade: eye protection.</Caution>
      <p className="soft">{RULES_FIRST} A planning aid; nothing here says that a device is safe to heat.</p>
    </Section>
  );
}
