/** The whole and its parts: mass, thickness and the cell, each with what it was made of and what is left over. */
import type { ReactNode } from "react";
import {
  type Budget,
  type Figures,
  type Result,
  resultText,
  type ThicknessBudget,
} from "../../../core/measure/index.ts";
import { drawBudget, drawDimensions, massPicture, thicknessPicture } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Caution, Remarks } from "../../face/caution.tsx";
import { Figure, Figures as FigureRow } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { Picture } from "../../face/picture.tsx";
import { Table } from "../../face/table.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { closureWords, intervalWords, nameIn, unitWords } from "./figure-words.ts";
import { Opening } from "./opening.tsx";
import { useChoosing } from "./use-choosing.ts";

export function WholeView({ figures }: { readonly figures: Figures }) {
  const { record, part } = useBench();
  const decorate = useChoosing();
  const { mass, thickness, battery, warnings } = figures;
  const nameOf = nameIn(record);
  const chosen = part === null ? {} : { chosen: part.id };
  return (
    <>
      <FigureRow>
        <Figure
          large
          value={mass.whole === null ? "not weighed" : resultText(mass.whole.value, mass.whole.U, "g")}
          note="the device"
          {...(mass.whole === null ? {} : { source: <ReadingSource figures={figures} id={mass.whole.reading} /> })}
        />
        {thickness
          .filter((one) => one.whole !== null)
          .slice(0, 1)
          .map((one) => (
            <Figure
              key={one.name}
              value={resultText(one.whole!.value, one.whole!.U, "mm")}
              note={`thick, ${one.name}`}
              source={<ReadingSource figures={figures} id={one.whole!.reading} />}
            />
          ))}
        <CellFigures figures={figures} />
      </FigureRow>
      <Carriage figures={figures} />
      <Chosen figures={figures} />
      <Section title="Mass">
        <p className="sentence">
          {closureWords(mass, "g")} {missing(mass, nameOf)}
        </p>
        {mass.lines.length === 0 ? null : (
          <Picture
            most={860}
            decorate={decorate}
            draw={(width) => drawBudget(massPicture(record, mass), { width, quantity: "Mass", quiet: true, ...chosen })}
          />
        )}
        <Opening title={`What the sum is made of (${mass.lines.length})`}>
          <Lines budget={mass} unit="g" caption="Readings in the sum of the mass" />
        </Opening>
      </Section>
      {thickness.length === 0 ? (
        <Section title="Thickness">
          <p className="soft">No place with a stack has been named in the record, so nothing is added up.</p>
        </Section>
      ) : null}
      {thickness.length === 0 ? null : <Thickness stacks={thickness} />}
      <Remarks
        title="Assumed and remarked"
        lines={[...warnings, ...mass.warnings, ...battery.warnings, ...battery.assumptions]}
      />
    </>
  );
}

/** What was read of the chosen part by itself. */
function Chosen({ figures }: { readonly figures: Figures }) {
  const { part } = useBench();
  if (part === null) return null;
  const own = figures.readings.filter(
    (one) => one.of.length === 1 && one.of[0] === part.id && one.record === undefined,
  );
  return (
    <Section title={part.name}>
      {own.length === 0 ? (
        <p className="soft">It was not measured by itself.</p>
      ) : (
        <FigureRow>
          {own.map((one) => (
            <Figure
              key={one.id}
              value={unitWords(one.text)}
              note={one.place === undefined ? one.quantity : `${one.quantity} at [${one.place.join(", ")}]`}
              source={<ReadingSource figures={figures} id={one.id} />}
            />
          ))}
        </FigureRow>
      )}
    </Section>
  );
}

const missing = (budget: Budget, nameOf: (id: string) => string): string =>
  budget.missing.length === 0 ? "" : `In no reading: ${budget.missing.map(nameOf).join(", ")}.`;

/** One named place at a time. */
function Thickness({ stacks }: { readonly stacks: readonly ThicknessBudget[] }) {
  const { search } = usePlace();
  const stack = stacks.find((one) => one.name === search.get("place")) ?? stacks[0]!;
  return (
    <Section title="Thickness">
      {stacks.length === 1 ? null : (
        <div className="row">
          <label>
            <span className="soft">at </span>
            <select value={stack.name} onChange={(event) => setSearch({ place: event.target.value })}>
              {stacks.map((one) => (
                <option key={one.name} value={one.name}>
                  {one.name}
                </option>
              ))}
            </select>
          </label>
        </div>
      )}
      <Stack key={stack.name} stack={stack} />
    </Section>
  );
}

function Stack({ stack }: { readonly stack: ThicknessBudget }) {
  const { record, part } = useBench();
  const decorate = useChoosing();
  const chosen = part === null ? {} : { chosen: part.id };
  const { tolerance } = stack;
  return (
    <>
      <Picture
        most={860}
        decorate={decorate}
        draw={(width) => drawDimensions(record, stack, { width, ...chosen }) ?? nothing(width)}
      />
      <p className="sentence">
        {closureWords(stack, "mm")} {missing(stack, nameIn(record))}
      </p>
      {stack.whole === null ? null : (
        <Picture
          most={860}
          decorate={decorate}
          draw={(width) =>
            drawBudget(thicknessPicture(record, stack), { width, quantity: "Thickness", quiet: true, ...chosen })
          }
        />
      )}
      <Opening title={`What the sum is made of (${stack.lines.length})`}>
        <Lines budget={stack} unit="mm" caption={`Readings in the sum of the thickness ${stack.name}`} />
      </Opening>
      {tolerance === undefined ? null : (
        <Opening title="What production may vary: another question">
          <p>
            Gap {resultText(tolerance.gap, 0, "mm")} about this unit's measured layers, by the stated tolerances of the
            gaps: worst case ± {tolerance.worst.toFixed(3)} mm, root sum of squares ± {tolerance.rss.toFixed(3)} mm,
            inflated by 1.5 ± {tolerance.inflated.toFixed(3)} mm.
          </p>
          <p className="soft">Assumed: {tolerance.assumption}. Not how well this unit was measured.</p>
        </Opening>
      )}
      <Remarks title="Remarked" lines={stack.warnings} />
    </>
  );
}

const nothing = (width: number) => ({ width, height: 1, title: "No part has an outline and a level", shapes: [] });

interface Row {
  readonly reading: string;
  readonly of: readonly string[];
  readonly measured: string;
  readonly adjusted: string;
}

/** Measured and adjusted stand side by side; adjusted only where the sum closes. */
function Lines({
  budget,
  unit,
  caption,
}: {
  readonly budget: Budget;
  readonly unit: string;
  readonly caption: string;
}) {
  const { record, part, choose } = useBench();
  const rows: Row[] = budget.lines.map((one) => ({
    reading: one.reading,
    of: one.of,
    measured: resultText(one.value, one.U, unit),
    adjusted: one.adjusted === undefined ? "" : resultText(one.adjusted, (one.adjustedU! / one.u || 0) * one.U, unit),
  }));
  const adjusted = rows.some((one) => one.adjusted !== "");
  return (
    <>
      <Table<Row>
        caption={caption}
        rows={rows}
        rowKey={(one) => one.reading}
        chosen={(one) => part !== null && one.of.includes(part.id)}
        empty="Nothing was measured."
        columns={[
          {
            head: "of",
            cell: (one) => (
              <span className="run">
                {one.of.map((id) => (
                  <PartButton key={id} id={id} name={nameIn(record)(id)} choose={choose} chosen={part?.id === id} />
                ))}
              </span>
            ),
          },
          { head: "measured", number: true, cell: (one) => one.measured },
          ...(adjusted ? [{ head: "adjusted to the whole", number: true, cell: (one: Row) => one.adjusted }] : []),
        ]}
      />
      {adjusted ? (
        <p className="soft">
          Adjusted by least squares, which is allowed because the sum closes. Say the measured figure.
        </p>
      ) : null}
      {budget.checks.map((one) => (
        <p key={`${one.reading} ${one.against.join()}`}>
          {one.reading} against {one.against.join(" + ")}: {resultText(one.difference, 1.96 * one.u, unit)},{" "}
          {one.agrees ? "they agree" : "they do not agree"}.
        </p>
      ))}
    </>
  );
}

/** A reading as the source of a figure. */
function ReadingSource({ figures, id }: { readonly figures: Figures; readonly id: string }): ReactNode {
  const { record } = useBench();
  const one = figures.readings.find((reading) => reading.id === id);
  if (one === undefined) return null;
  const instrument = record.instruments.find((other) => other.id === one.instrument);
  return (
    <>
      <p>
        Reading {one.id}
        {instrument === undefined ? ", no instrument named" : `, ${instrument.name ?? instrument.kind}`}:{" "}
        {intervalWords(one)}.
      </p>
      {one.warnings.map((text) => (
        <p key={text} className="soft">
          {text}
        </p>
      ))}
    </>
  );
}

function CellFigures({ figures }: { readonly figures: Figures }) {
  const { battery } = figures;
  const { energy, perKg, perL, share } = battery.detail;
  const shown = (one: Result | undefined, note: string, from: string, percent = false) =>
    one === undefined ? null : (
      <Figure
        value={percent ? resultText(one.value * 100, (one.U ?? 0) * 100, "%") : one.text}
        note={note}
        source={
          <p>
            {from}; {intervalWords({ ...one, unit: "" })}.
          </p>
        }
      />
    );
  if (energy === undefined) return <Figure value="not known" note="energy of the cell" />;
  return (
    <>
      {shown(energy, "energy of the cell", "Capacity times voltage as printed")}
      {shown(perKg, "per mass", "Energy over the mass of the cell")}
      {shown(perL, "per volume", "Energy over the true outline times the thickness")}
      {shown(share, "of the body's volume", "Volume of the cell over that of the body", true)}
    </>
  );
}

/** Limits of transport that the cell's energy crosses: information with its date, with the usual caution. */
function Carriage({ figures }: { readonly figures: Figures }) {
  const { transport } = figures.battery;
  if (transport.length === 0) return null;
  return (
    <div className="cautions">
      <Caution title="Sending the cell">
        {figures.battery.energyWh === null ? "" : `With ${figures.battery.energyWh.toFixed(1)} Wh it lies `}
        {transport.slice(0, -1).join("; ")}. {transport.at(-1)} Information, not advice: the carrier's rules of the day
        come first.
      </Caution>
    </div>
  );
}
