import type { Check, TeardownRecord } from "../../../core/record/index.ts";
import { worthText } from "../../../core/service/afternoon/index.ts";
import { spokenRange, spokenTime } from "../../../figures/index.ts";
import { RULES_FIRST } from "../../../paper/cautions.ts";
import { useBench } from "../../bench/bench.tsx";
import type { Lead } from "../../compute/afternoon-tasks.ts";
import { Caution } from "../../face/caution.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { readable } from "../../face/readable.ts";
import { Table } from "../../face/table.tsx";
import { windowWords } from "./chance-words.ts";
import { Tries } from "./tries.tsx";

export function Before({ lead }: { readonly lead: Lead }) {
  const { record, choose } = useBench();
  const { brief } = lead;
  const name = (id: string) => record.parts.find((part) => part.id === id)?.name ?? id;
  return (
    <>
      <Figures>
        {brief.ways.map((one) => (
          <Figure
            key={one.face}
            large
            value={one.way === null ? "no way in" : spokenTime(one.way.seconds)}
            note={`from the ${one.face}, to ${brief.targets.map(name).join(", ")}`}
            source={
              one.way === null ? (
                <p>{one.why}</p>
              ) : (
                <p>
                  By standard times (set A), {one.way.proved ? "proved least" : "not proved least"}; {one.way.steps}{" "}
                  legal steps.
                  {one.way.range === null
                    ? ""
                    : ` By the bench's usual times (set B) ${spokenRange(one.way.range.low, one.way.range.high)}.`}{" "}
                  {one.guesses.length === 0
                    ? "Nothing in it is a guess."
                    : `Rests on guesses about ${one.guesses.map(name).join(", ")}.`}
                </p>
              )
            }
          />
        ))}
        <Figure
          value={`${brief.guesses.guessed} of ${brief.guesses.relations}`}
          note="relations are guesses until they are tried"
        />
        <Figure
          value={`at most ${brief.charge.atMost} %`}
          note={`charge before power-off${brief.charge.last === null ? "" : `, last read ${brief.charge.last} %`}`}
          source={<p>{brief.charge.source}</p>}
        />
      </Figures>
      <Dangers lead={lead} />
      {brief.heat.length === 0 ? null : (
        <Section title="Heat">
          <Table
            caption="What is heated, and what the cell is counted"
            rows={brief.heat}
            rowKey={(one) => one.joint}
            columns={[
              { head: "bond", cell: (one) => one.joint },
              {
                head: "first heating",
                cell: (one) =>
                  one.seconds === null
                    ? `to ${one.bond} °C`
                    : `${Math.round(one.seconds)} s${one.plate === undefined ? "" : `, plate ${one.plate} °C`}, bond ${one.bond} °C`,
              },
              { head: "heatings", number: true, cell: (one) => one.rounds ?? "not known" },
              {
                head: "cell above 45 °C",
                unit: "min",
                number: true,
                cell: (one) => (one.counted === null ? "not known" : Math.round(one.counted / 6) / 10),
              },
              {
                head: "from",
                cell: (one) =>
                  ({ layers: "the layers", record: "a recorded time", assumption: "an assumption", none: "no window" })[
                    one.from
                  ],
              },
            ]}
          />
        </Section>
      )}
      <Section title="Lay out">
        <p>
          {brief.tools.length === 0 ? "No tool is needed." : brief.tools.map((id) => toolName(record, id)).join(" · ")}
        </p>
        {brief.consumables.length === 0 ? null : (
          <Table
            caption="Consumables"
            rows={brief.consumables}
            rowKey={(one) => `${one.id} ${one.unit}`}
            columns={[
              {
                head: "consumable",
                cell: (one) => record.consumables?.find((item) => item.id === one.id)?.name ?? one.id,
              },
              {
                head: "amount",
                number: true,
                cell: (one) => `${Math.round(100 * one.amount) / 100}${one.unit === "1" ? "" : ` ${one.unit}`}`,
              },
            ]}
          />
        )}
      </Section>
      {brief.cables.length === 0 ? null : (
        <Section title="Cables near the rim">
          <Table
            caption="Where a pick must not go deep, seen from the back"
            rows={brief.cables}
            rowKey={(one) => `${one.part} ${one.edge}`}
            columns={[
              { head: "cable", cell: (one) => <PartButton id={one.part} name={name(one.part)} choose={choose} /> },
              { head: "edge", cell: (one) => one.edge },
              { head: "from the edge", unit: "mm", number: true, cell: (one) => one.distance },
              { head: "along it", unit: "mm", number: true, cell: (one) => `${one.from} to ${one.until}` },
            ]}
          />
        </Section>
      )}
      <Tries
        title="Before the first screw: every function tried once"
        note="What is not tried now proves nothing at the end."
        functions={[...new Set(record.parts.flatMap((part) => part.gives ?? []))]}
        when={"before" satisfies Check["when"]}
        session={record.sessions?.find((one) => one.kind === "first-look")?.id ?? record.sessions?.[0]?.id ?? null}
      />
      <Section title="First photographs">
        <ul className="afternoon-list">
          {brief.photographs.map((one) => (
            <li key={one.id}>
              {one.does} <span className="soft">{one.opens === 0 ? "at once" : "when it lies bare"}</span>
            </li>
          ))}
        </ul>
      </Section>
      <Section title="Open questions, in the order in which they can be answered">
        <Table
          caption="Open questions"
          rows={brief.questions}
          rowKey={(one) => one.id}
          empty="No relation is in doubt."
          columns={[
            { head: "question", cell: (one) => one.does.replace(/^look: /, "") },
            {
              head: "from",
              cell: (one) =>
                windowWords(record, brief.ways.find((way) => way.face === brief.along)?.way?.operations ?? [], {
                  ...one,
                  closedBy: null,
                }).from,
            },
            { head: "worth", cell: (one) => worthText(one) },
          ]}
        />
      </Section>
    </>
  );
}

const toolName = (record: TeardownRecord, id: string): string => record.tools.find((one) => one.id === id)?.name ?? id;

function Dangers({ lead }: { readonly lead: Lead }) {
  const hazards = [...new Set(lead.brief.ways.flatMap((one) => one.hazards))];
  const texts = [...new Set(lead.brief.heat.flatMap((one) => one.cautions.map((caution) => readable(caution.text))))];
  if (hazards.length + texts.length + lead.brief.warnings.length === 0) return null;
  return (
    <Caution
      title={hazards.length === 0 ? "Before you begin" : `On the way: ${hazards.join(", ")}. Trained people only`}
    >
      {[...lead.brief.warnings, ...texts, ...(texts.length === 0 ? [RULES_FIRST] : [])].join(" ")}
    </Caution>
  );
}
