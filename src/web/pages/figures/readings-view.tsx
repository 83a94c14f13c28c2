/** Every reading; how it was measured and the budget of its uncertainty open on demand. */
import { type Figures, type ReadingResult, resultText } from "../../../core/measure/index.ts";
import type { Instrument, Reading } from "../../../core/record/index.ts";
import { drawBars, massRows } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Section } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { Picture } from "../../face/picture.tsx";
import { Table } from "../../face/table.tsx";
import { dofWords, instrumentName, intervalWords, nameIn, SOURCE_WORDS, small, unitWords } from "./figure-words.ts";
import { Opening } from "./opening.tsx";
import { useChoosing } from "./use-choosing.ts";

export function ReadingsView({ figures }: { readonly figures: Figures }) {
  const { record, part, choose } = useBench();
  const decorate = useChoosing();
  const rows = part === null ? figures.readings : figures.readings.filter((one) => one.of.includes(part.id));
  const bars = massRows(record, figures.readings, null);
  const masses =
    bars.length === 0 ? null : (
      <Section title="Mass by part">
        <Picture
          most={760}
          decorate={decorate}
          draw={(width) =>
            drawBars(bars, { width, unit: "g", quantity: "Mass", ...(part === null ? {} : { chosen: part.id }) })
          }
          caption="Whiskers: the 95 % interval of each figure."
        />
      </Section>
    );
  return (
    <>
      {part === null ? masses : null}
      <Section title={part === null ? "Readings" : `Readings of ${part.name}`}>
        {part === null ? null : (
          <button type="button" className="quiet" onClick={() => choose(null)}>
            all readings
          </button>
        )}
        {rows.length === 0 ? <p className="soft">Nothing was measured.</p> : null}
        <ul className="readings">
          {rows.map((one) => (
            <OneReading key={one.id} result={one} />
          ))}
        </ul>
      </Section>
      {part === null ? null : masses}
    </>
  );
}

function OneReading({ result }: { readonly result: ReadingResult }) {
  const { record, choose } = useBench();
  const nameOf = nameIn(record);
  return (
    <li>
      <span className="run">
        {result.of.map((id) =>
          record.parts.some((other) => other.id === id) ? (
            <PartButton key={id} id={id} name={nameOf(id)} choose={choose} />
          ) : (
            <span key={id}>{nameOf(id)}</span>
          ),
        )}
        <span className="soft">{result.quantity}</span>
      </span>
      <b className="number">{unitWords(result.text)}</b>
      <Opening title={instrumentOf(record.instruments, result)}>
        <HowMeasured
          result={result}
          reading={record.readings.find((other) => other.id === result.id)}
          instrument={record.instruments.find((other) => other.id === result.instrument)}
        />
      </Opening>
    </li>
  );
}

function instrumentOf(instruments: readonly Instrument[], one: ReadingResult): string {
  const found = instruments.find((other) => other.id === one.instrument);
  return found === undefined ? "no instrument named" : instrumentName(found);
}

interface HowProps {
  readonly result: ReadingResult;
  readonly reading: Reading | undefined;
  readonly instrument: Instrument | undefined;
}

function HowMeasured({ result, reading, instrument }: HowProps) {
  const total = result.sources.reduce((sum, one) => sum + one.u * one.u, 0);
  const unit = result.unit === "1" ? "" : result.unit;
  return (
    <div className="opened">
      <p>
        Reading {result.id}
        {reading === undefined ? "" : `: ${reading.values.slice(0, 12).join(", ")} ${reading.unit}`}
        {reading !== undefined && reading.values.length > 12 ? ` and ${reading.values.length - 12} more` : ""}
        {reading?.place === undefined ? "" : `, at [${reading.place.join(", ")}] mm`}
        {list("on", reading?.on)}
        {list("off", reading?.off)}.
      </p>
      <p>{intervalWords({ ...result, unit })}.</p>
      {result.sources.length === 0 ? null : (
        <Table
          caption={`Budget of uncertainty of reading ${result.id}`}
          rows={result.sources}
          rowKey={(one) => one.what}
          columns={[
            { head: "source", cell: (one) => SOURCE_WORDS[one.what] },
            { head: "u", unit, number: true, cell: (one) => small(one.u) },
            { head: "dof", number: true, cell: (one) => dofWords(one.dof) },
            {
              head: "share",
              unit: "%",
              number: true,
              cell: (one) => ((100 * one.u * one.u) / total).toFixed(0),
            },
          ]}
        />
      )}
      {instrument === undefined ? null : <p className="soft">{aboutInstrument(instrument)}</p>}
      {result.warnings.map((text) => (
        <p key={text}>{text}.</p>
      ))}
    </div>
  );
}

const list = (word: string, ids: readonly string[] | undefined): string =>
  ids === undefined || ids.length === 0 ? "" : `, ${word}: ${ids.join(", ")}`;

function aboutInstrument(one: Instrument): string {
  const size = (what: string, quantity: { readonly value: number; readonly unit: string } | undefined) =>
    quantity === undefined ? [] : [`${what} ${resultText(quantity.value, 0, quantity.unit)}`];
  return `${instrumentName(one)}: ${[
    ...size("display step", one.resolution),
    ...size("limit of error", one.maxError),
    ...size("repeatability", one.repeatability),
    ...(one.calibrated === undefined ? [] : [`calibrated ${one.calibrated}`]),
    ...(one.due === undefined ? [] : [`due ${one.due}`]),
  ].join(", ")}.`;
}
