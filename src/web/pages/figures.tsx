import type {
  ClaimVerdict,
  Figures as FiguresAnswer,
  ReadingResult,
  ThicknessBudget,
} from "../../core/measure/index.ts";
import { drawBars, massRows } from "../../figures/index.ts";
import type { KeptRecord } from "../../server/api.ts";
import { useBench } from "../bench/bench.tsx";
import { useAnswer } from "../data/use-answer.ts";
import { OpenQuestion, Remarks } from "../face/caution.tsx";
import { Fault } from "../face/fault.tsx";
import { Figure, Figures } from "../face/figure.tsx";
import { PageHead, Section, Waiting } from "../face/page-head.tsx";
import { PartButton } from "../face/part-button.tsx";
import { Picture } from "../face/picture.tsx";
import { Table } from "../face/table.tsx";

const digits = (value: number | null | undefined, places: number): string =>
  value === null || value === undefined ? "not known" : value.toFixed(places);

export const VERDICT_WORDS: Readonly<Record<ClaimVerdict["verdict"], string>> = {
  supported: "supported",
  "not-supported": "not supported",
  "cannot-tell": "cannot tell",
};

export function FiguresPage() {
  const { kept, record } = useBench();
  const id = encodeURIComponent(record.id);
  const answer = useAnswer<FiguresAnswer>(`/api/records/${id}/figures?revision=${kept.revision}`);
  const sibling = useAnswer<FiguresAnswer>(
    record.sibling === undefined ? null : `/api/records/${encodeURIComponent(record.sibling)}/figures`,
  );
  const siblingRecord = useAnswer<KeptRecord>(
    record.sibling === undefined ? null : `/api/records/${encodeURIComponent(record.sibling)}`,
  );
  return (
    <>
      <PageHead title={`Figures of ${record.device.name}`} />
      {answer.kind === "waiting" ? <Waiting>Adding up the readings.</Waiting> : null}
      {answer.kind === "failed" ? (
        <Fault title="The figures could not be had" faults={answer.error.faults} again={answer.again} />
      ) : null}
      {answer.kind === "here" ? (
        <Shown
          answer={answer.value}
          beside={sibling.kind === "here" ? sibling.value : null}
          siblingRecord={siblingRecord.kind === "here" ? siblingRecord.value : null}
        />
      ) : null}
    </>
  );
}

/** What the closure says, in a sentence. */
export function closureWords(
  { residual, u, closes }: { residual: number | null; u: number | null; closes: boolean | null },
  unit: string,
  places: number,
): string {
  if (residual === null) return "It cannot be closed: something was not measured.";
  const size = `${digits(residual, places)} ${unit} unaccounted for`;
  const sure = u === null ? "" : `, known to ${digits(2 * u, places)} ${unit}`;
  if (closes === null) return `${size}${sure}; parts are missing, so it cannot be told whether it closes.`;
  return `${size}${sure}: ${closes ? "it closes within what the instruments can tell." : "more than the instruments explain. Look for what was not weighed or measured."}`;
}

function Shown(props: {
  readonly answer: FiguresAnswer;
  readonly beside: FiguresAnswer | null;
  readonly siblingRecord: KeptRecord | null;
}) {
  const { answer, beside, siblingRecord } = props;
  const { record, part, choose } = useBench();
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  const { mass, battery } = answer;
  const bars = massRows(
    record,
    answer.readings,
    beside === null || siblingRecord === null ? null : { record: siblingRecord.record, readings: beside.readings },
  );
  const readings = part === null ? answer.readings : answer.readings.filter((one) => one.of.includes(part.id));
  const claims =
    part === null ? answer.claims : answer.claims.filter((one) => claimSubjects(record, one).includes(part.id));
  return (
    <>
      <Figures>
        <Figure
          large
          value={mass.device === null ? "not weighed" : `${digits(mass.device, 1)} g`}
          note="the device"
          source={
            <p>
              Weighed whole. The parts add up to {digits(mass.sum, 2)} g: a cover of the device by readings that share
              no part.
            </p>
          }
        />
        <Figure value={mass.residual === null ? "not known" : `${digits(mass.residual, 2)} g`} note="unaccounted for" />

        <Figure
          value={battery.energyWh === null ? "not known" : `${digits(battery.energyWh, 2)} Wh`}
          note="energy of the cell"
        />
        <Figure
          value={battery.whPerKg === null ? "not known" : `${digits(battery.whPerKg, 0)} Wh/kg`}
          note="per mass"
        />
        <Figure value={battery.whPerL === null ? "not known" : `${digits(battery.whPerL, 0)} Wh/L`} note="per volume" />
      </Figures>
      <p className="sentence">
        {closureWords(mass, "g", 2)}
        {mass.missing.length > 0 ? ` In no reading: ${mass.missing.map(nameOf).join(", ")}.` : ""}
      </p>
      {bars.length === 0 ? null : (
        <Section title="Mass by part">
          <Picture
            most={760}
            draw={(width) =>
              drawBars(bars, {
                width,
                unit: "g",
                quantity: "Mass",
                ...(siblingRecord === null ? {} : { sibling: siblingRecord.record.device.name }),
                ...(part === null ? {} : { chosen: part.id }),
              })
            }
            caption="Whiskers: the expanded uncertainty of each figure."
          />
        </Section>
      )}
      <Section title="Thickness">
        <Table<ThicknessBudget>
          caption="Thickness through named places"
          rows={answer.thickness}
          rowKey={(one) => one.name}
          empty="No place with a stack has been named in the record."
          columns={[
            { head: "place", cell: (one) => one.name },
            { head: "body", unit: "mm", number: true, cell: (one) => digits(one.body, 2) },
            { head: "layers", unit: "mm", number: true, cell: (one) => digits(one.sum, 2) },
            { head: "closure", cell: (one) => closureWords(one, "mm", 2) },
          ]}
        />
      </Section>
      <Section title={part === null ? "Claims" : `Claims about ${part.name}`}>
        <Table<ClaimVerdict>
          caption="Claims and what the figures say of them"
          rows={claims}
          rowKey={(one) => one.id}
          empty={part === null ? "No claim was made." : "No claim was made about it."}
          columns={[
            { head: "claim", cell: (one) => record.claims.find((claim) => claim.id === one.id)?.text ?? one.id },
            {
              head: "verdict",
              cell: (one) => (
                <>
                  <b>{VERDICT_WORDS[one.verdict]}</b>
                  {one.probability === null ? null : <span className="soft"> {chance(one.probability)}</span>}
                </>
              ),
            },
            { head: "to say instead", cell: (one) => one.wording },
            {
              head: "rests on",
              cell: (one) => one.restsOn.join(", "),
            },
          ]}
        />
      </Section>
      <Section title={part === null ? "Readings" : `Readings of ${part.name}`}>
        <Table<ReadingResult>
          caption="Readings with their uncertainty"
          rows={readings}
          rowKey={(one) => one.id}
          empty="Nothing was measured."
          columns={[
            {
              head: "of",
              cell: (one) => (
                <span className="run">
                  {one.of.map((id) =>
                    record.parts.some((other) => other.id === id) ? (
                      <PartButton key={id} id={id} name={nameOf(id)} choose={choose} />
                    ) : (
                      <span key={id}>{id}</span>
                    ),
                  )}
                </span>
              ),
            },
            { head: "quantity", cell: (one) => one.quantity },
            { head: "value", number: true, cell: (one) => one.text },
            {
              head: "how sure",
              cell: (one) =>
                [
                  `u ${tidy(one.u)} ${one.unit}`,
                  ...(one.k === null ? [] : [`k ${one.k.toFixed(2)}`]),
                  ...one.warnings,
                ].join(", "),
            },
            { head: "instrument", cell: (one) => instrumentOf(record, one) },
          ]}
        />
      </Section>
      {answer.flags.length === 0 ? null : (
        <Section title="Hardly right">
          {answer.flags.map((flag) => (
            <OpenQuestion key={`${flag.about} ${flag.kind}`}>
              {nameOf(flag.about)}: {flag.text}
            </OpenQuestion>
          ))}
        </Section>
      )}
      <Remarks
        title="Said about these figures"
        lines={[
          ...answer.warnings,
          ...mass.warnings,
          ...battery.warnings,
          ...battery.assumptions,
          ...battery.transport,
        ]}
      />
    </>
  );
}

const tidy = (value: number): string => String(Number(value.toPrecision(2)));
const chance = (p: number): string =>
  p > 0.999 ? "more than 99.9 %" : p < 0.001 ? "less than 0.1 %" : `${(p * 100).toFixed(1)} %`;

function claimSubjects(record: KeptRecord["record"], verdict: ClaimVerdict): readonly string[] {
  const claim = record.claims.find((one) => one.id === verdict.id);
  return claim === undefined ? [] : [...claim.subject, ...(claim.than === undefined ? [] : [claim.than])];
}

function instrumentOf(record: KeptRecord["record"], figure: ReadingResult): string {
  const reading = record.readings.find((one) => one.id === figure.id);
  const instrument = record.instruments.find((one) => one.id === reading?.instrument);
  return instrument === undefined ? "" : (instrument.name ?? instrument.kind);
}
