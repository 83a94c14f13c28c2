/** The whole cut: every heating, piece of cutting and pause, with the cell's counted time over all of them. */
import type { RoundsAnswer } from "../../../core/heat/index.ts";
import { spokenTime } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { type UseComputed, useComputed } from "../../compute/use-computed.ts";
import type { WarmAsks } from "../../compute/warm-tasks.ts";
import { Fault } from "../../face/fault.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { readable } from "../../face/readable.ts";
import { Table } from "../../face/table.tsx";
import { NumberField, useLast, Working } from "./fields.tsx";

/** @param cut null: there is no window to plan rounds in. */
export function useRounds(asks: WarmAsks, cut: number | null): UseComputed<RoundsAnswer> {
  const { kept } = useBench();
  // Rounds keep every limit by themselves: a lift-off that was only looked at does not concern them.
  const { liftOff: _, ...rest } = asks;
  return useComputed(kept, "rounds", cut === null ? null : { ...rest, cut });
}

const DOES = { heat: "heat", cut: "lift off and cut", pause: "let it cool" } as const;

export function RoundsOfCut(props: {
  readonly cut: number;
  readonly setCut: (cut: number) => void;
  readonly rounds: UseComputed<RoundsAnswer>;
  readonly counted: { readonly allowed: number; readonly above: number; readonly used: number } | null;
}) {
  const { cut, setCut, rounds, counted } = props;
  const { answer } = rounds;
  const last = useLast(answer);
  return (
    <Section title="The whole cut">
      <div className="fields">
        <NumberField
          label="time with the blade in the bond"
          unit="s"
          value={cut}
          least={1}
          most={7200}
          onChange={setCut}
        />
      </div>
      <Working answer={answer} words="Playing sequences of heatings through." stop={rounds.stop} again={rounds.again} />
      {answer.kind === "refused" ? <Fault title="The rounds could not be planned" faults={answer.faults} /> : null}
      {last === null || answer.kind === "stopped" ? null : last.kind === "none" ? (
        <p className="sentence">
          No sequence of heatings keeps every limit for {spokenTime(cut)} of cutting: {readable(last.why)}. Cut on
          another day, from a cold cell, or in another way.
        </p>
      ) : (
        <Sequence rounds={last.rounds} counted={counted} />
      )}
    </Section>
  );
}

function Sequence(props: {
  readonly rounds: Extract<RoundsAnswer, { kind: "rounds" }>["rounds"];
  readonly counted: { readonly allowed: number; readonly above: number; readonly used: number } | null;
}) {
  const { heatings, pauses, elapsed, peak, counted, sequence } = props.rounds;
  const rows = sequence.map((piece, i) => ({ ...piece, key: i + 1 }));
  return (
    <>
      <Figures>
        <Figure
          value={`${heatings} ${heatings === 1 ? "heating" : "heatings"}`}
          note={pauses === 0 ? "no pause" : pauses === 1 ? "1 pause" : `${pauses} pauses`}
          source={
            <p>
              Each heating begins where the one before has left the layers. Rules for how long to hold and when to wait
              are played through; the quickest that keeps every limit is shown, a heating weighing 15 s more than it
              takes. A search, not a proof.
            </p>
          }
        />
        <Figure value={spokenTime(elapsed)} note="to the end of the cut" />
        {props.counted === null ? null : (
          <Figure
            value={`${spokenTime(props.counted.used + counted)} of ${spokenTime(props.counted.allowed)}`}
            note={`cell above ${props.counted.above} °C, over all heatings`}
          />
        )}
        <Figure value={`${peak.toFixed(1)} °C`} note="highest of what has a limit" />
      </Figures>
      <Table
        caption="Sequence of heatings and cutting"
        rows={rows}
        rowKey={({ key }) => String(key)}
        columns={[
          { head: "piece", cell: ({ key }) => key },
          { head: "do", cell: ({ kind }) => DOES[kind] },
          { head: "from", number: true, cell: ({ from }) => spokenTime(from) },
          { head: "for", number: true, cell: ({ from, to }) => spokenTime(to - from) },
        ]}
      />
    </>
  );
}
