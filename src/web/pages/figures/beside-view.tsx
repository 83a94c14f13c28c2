/** The device beside another one: what changed, by how much, and whether it can be told. */
import { useRef, useState } from "react";
import {
  type CountChange,
  type Difference,
  type Explained,
  fixed,
  type RecordComparison,
  waysBeside,
} from "../../../core/measure/index.ts";
import type { QuantityName, TeardownRecord } from "../../../core/record/index.ts";
import { baseUnit, QUANTITY_DIMENSIONS } from "../../../core/units/index.ts";
import { drawWaterfall, spokenTime } from "../../../figures/index.ts";
import type { RecordHead } from "../../../server/api.ts";
import { useBench } from "../../bench/bench.tsx";
import type { FigureTasks } from "../../compute/figure-tasks.ts";
import { useComputed, useSlow } from "../../compute/use-computed.ts";
import { Remarks } from "../../face/caution.tsx";
import { Fault } from "../../face/fault.tsx";
import { Figure, Figures as FigureRow } from "../../face/figure.tsx";
import { Section, Waiting } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { Table } from "../../face/table.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { ROLE_WORDS } from "../../ways/words.ts";
import { unitWords } from "./figure-words.ts";
import { readCorrections } from "./match.ts";
import { MatchedParts } from "./matched-parts.tsx";
import { useChoosing } from "./use-choosing.ts";

type Beside = FigureTasks["beside"]["gets"];

export function BesideView(props: { readonly others: readonly RecordHead[]; readonly sibling: string | null }) {
  const { others, sibling } = props;
  const { kept } = useBench();
  const { search } = usePlace();
  const chosen = others.find((one) => one.id === (search.get("beside") ?? sibling)) ?? others[0];
  const other = chosen === undefined ? null : { id: chosen.id, revision: chosen.revision };
  const match = readCorrections(search.get("match"));
  const { answer, again } = useComputed(kept, "beside", other === null ? null : { other, match });
  const slow = useSlow(answer.kind === "working");
  // What was shown stays until the corrected answer is here: nobody loses the place in the list.
  const last = useRef<{ readonly other: string; readonly value: Beside } | null>(null);
  if (answer.kind === "here" && other !== null) last.current = { other: other.id, value: answer.value };
  const shown =
    answer.kind === "here"
      ? answer.value
      : answer.kind === "working" && last.current !== null && last.current.other === other?.id
        ? last.current.value
        : null;
  if (other === null) return <p className="soft">There is no other device in the workspace.</p>;
  return (
    <>
      <div className="row">
        <label>
          <span className="soft">beside </span>
          <select
            value={other.id}
            onChange={(event) => setSearch({ beside: event.target.value, match: null })}
            aria-label="The device that is compared with"
          >
            {others.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name}
                {one.id === sibling ? " (the sibling)" : ""}
              </option>
            ))}
          </select>
        </label>
      </div>
      {answer.kind === "working" && slow ? <Waiting>Putting the two beside each other.</Waiting> : null}
      {answer.kind === "refused" ? (
        <Fault
          title="The two cannot be compared"
          faults={answer.faults}
          action={
            Object.keys(match).length === 0
              ? "Mend the record that is named, then look again."
              : "A correction of the matching may be at fault: take the corrections back below."
          }
          again={again}
        />
      ) : null}
      {answer.kind === "refused" && Object.keys(match).length > 0 ? (
        <button type="button" className="button" onClick={() => setSearch({ match: null })}>
          take the corrections back
        </button>
      ) : null}
      {shown === null ? null : (
        <Compared key={other.id} comparison={shown.comparison} there={shown.other} revision={other.revision} />
      )}
    </>
  );
}

interface ComparedProps {
  readonly comparison: RecordComparison;
  readonly there: TeardownRecord;
  readonly revision: number;
}

function Compared({ comparison, there, revision }: ComparedProps) {
  const { mass, thickness, device } = comparison;
  return (
    <>
      <FigureRow>
        {device.mass === undefined ? (
          <Figure large value="not weighed both" note="mass" />
        ) : (
          <Figure
            large
            value={changeWords(device.mass)}
            note={`against ${comparison.b.name}`}
            source={
              <p>
                {device.mass.a.toFixed(2)} g against {device.mass.b.toFixed(2)} g; differences are this device less the
                other. Errors that one instrument made on both sides cancel.
              </p>
            }
          />
        )}
        {device.thickness === undefined ? null : <Figure value={changeWords(device.thickness)} note="thickness" />}
      </FigureRow>
      <Waterfall explained={mass} quantity="Mass" comparison={comparison} />
      {thickness.map((one) => (
        <Waterfall key={one.name} explained={one} quantity={`Thickness ${one.name}`} comparison={comparison} />
      ))}
      <DeviceTable comparison={comparison} />
      <WaysAndIndex other={{ id: there.id, revision }} name={comparison.b.name} />
      <MatchedParts comparison={comparison} there={there} />
      <Counts comparison={comparison} />
      <Remarks
        title="To be said with it"
        lines={[...comparison.warnings, "These are units: a claim about the models needs more than one of each."]}
      />
    </>
  );
}

const changeWords = (one: Difference): string => (one.difference > 0 ? `+${unitWords(one.text)}` : unitWords(one.text));

function Waterfall(props: {
  readonly explained: Explained;
  readonly quantity: string;
  readonly comparison: RecordComparison;
}) {
  const { explained, quantity, comparison } = props;
  const { part } = useBench();
  const decorate = useChoosing();
  const [whole, setWhole] = useState(false);
  if (explained.total === null)
    return (
      <Section title={quantity}>
        <p className="soft">One of the two was not measured whole, so the change cannot be added up.</p>
      </Section>
    );
  return (
    <Section title={quantity}>
      <Picture
        most={820}
        decorate={decorate}
        draw={(width) =>
          drawWaterfall(explained, {
            width,
            device: comparison.a.name,
            sibling: comparison.b.name,
            quantity,
            whole,
            ...(part === null ? {} : { chosen: part.id }),
          })!
        }
        caption="Bars point the way the figure goes; whiskers are the 95 % interval of each change."
      />
      {explained.rest.count > 1 ? (
        <Segmented
          label={`Changes in ${quantity.toLowerCase()}`}
          value={whole ? "all" : "few"}
          options={[
            { value: "few", label: "what explains most" },
            { value: "all", label: `every change (${explained.all.length})` },
          ]}
          onChange={(next) => setWhole(next === "all")}
        />
      ) : null}
    </Section>
  );
}

interface DeviceRow {
  readonly what: string;
  readonly a: string;
  readonly b: string;
  readonly difference: string;
}

function DeviceTable({ comparison }: { readonly comparison: RecordComparison }) {
  const { device, battery } = comparison;
  const rows: DeviceRow[] = Object.entries(device).flatMap(([what, one]) =>
    what === "energy" ? [] : [{ what, a: sized(one.a, what), b: sized(one.b, what), difference: told(one) }],
  );
  for (const [what, key, unit] of [
    ["energy", "energyWh", "Wh"],
    ["energy per mass", "whPerKg", "Wh/kg"],
    ["energy per volume", "whPerL", "Wh/L"],
  ] as const) {
    const { a, b, difference } = battery[key];
    const number = (x: number | null) => (x === null ? "not known" : `${fixed(x, -1).replace("-", "−")} ${unit}`);
    if (a !== null || b !== null)
      rows.push({
        what,
        a: number(a),
        b: number(b),
        difference: number(difference),
      });
  }
  return (
    <Section title="The two devices">
      <Table<DeviceRow>
        caption="Quantities of the two devices"
        rows={rows}
        rowKey={(one) => one.what}
        empty="Nothing was measured on both."
        columns={[
          { head: "quantity", cell: (one) => one.what },
          { head: comparison.a.name, number: true, cell: (one) => one.a },
          { head: comparison.b.name, number: true, cell: (one) => one.b },
          { head: "difference", number: true, cell: (one) => one.difference },
        ]}
      />
    </Section>
  );
}

const sized = (value: number, quantity: string): string =>
  `${Number(value.toPrecision(5))} ${baseUnit(QUANTITY_DIMENSIONS[quantity as QuantityName])}`;
const told = (one: Difference): string => `${unitWords(one.text)}${one.told ? "" : " (cannot be told)"}`;

/** Planned only when asked for: it takes seconds. */
function WaysAndIndex(props: {
  readonly other: { readonly id: string; readonly revision: number };
  readonly name: string;
}) {
  const { other, name } = props;
  const { kept, record } = useBench();
  const [asked, setAsked] = useState(false);
  const { answer, stop, again } = useComputed(kept, "facts", asked ? { other } : null);
  const progress =
    answer.kind === "working" && answer.progress !== null && "done" in answer.progress ? answer.progress : null;
  const number = (x: number | null, words: (x: number) => string) => (x === null ? "none" : words(x));
  return (
    <Section title="Ways in and the law's index">
      {asked ? null : (
        <button type="button" className="button" onClick={() => setAsked(true)}>
          plan the ways in to every priority part of both
        </button>
      )}
      {answer.kind === "working" ? (
        <Waiting stop={stop}>Planning both devices{progress === null ? "" : `, ${progress.done} %`}.</Waiting>
      ) : null}
      {answer.kind === "stopped" ? (
        <button type="button" className="button" onClick={again}>
          plan again
        </button>
      ) : null}
      {answer.kind === "refused" ? (
        <Fault title="The ways in could not be planned" faults={answer.faults} again={again} />
      ) : null}
      {answer.kind === "here" ? (
        <>
          <p className="sentence">
            {index(record.device.name, answer.value.a.index, answer.value.a.class)}{" "}
            {index(name, answer.value.b.index, answer.value.b.class)}
          </p>
          <Table
            caption="Least seconds and, apart, least legal steps to each priority part, nothing damaged"
            rows={waysBeside({ a: answer.value.a, b: answer.value.b })}
            rowKey={(one) => one.role}
            columns={[
              { head: "part", cell: (one) => ROLE_WORDS[one.role] ?? one.role },
              { head: record.device.name, number: true, cell: (one) => number(one.seconds.a, spokenTime) },
              { head: name, number: true, cell: (one) => number(one.seconds.b, spokenTime) },
              { head: "steps here", number: true, cell: (one) => number(one.steps.a, String) },
              { head: "steps there", number: true, cell: (one) => number(one.steps.b, String) },
            ]}
          />
          <p className="soft">
            By standard times, which compare orders of work and promise nothing; of several parts of one role the
            longest.
          </p>
          <Remarks title="Remarked" lines={answer.value.said} />
        </>
      ) : null}
    </Section>
  );
}

const index = (name: string, value: string | null | undefined, letter: string | null | undefined): string =>
  value == null
    ? `${name}: no index can be stated.`
    : `${name}: index ${value}${letter == null ? "" : `, class ${letter}`} (2023/1669 Annex II C).`;

function Counts({ comparison }: { readonly comparison: RecordComparison }) {
  const all = [...comparison.fasteners, ...comparison.joints.filter((one) => one.what !== "screw")];
  const changed = all.filter((one) => one.difference !== 0);
  const same = all.filter((one) => one.difference === 0);
  return (
    <Section title="Fasteners and joints">
      <Table<CountChange>
        caption="Fasteners by drive and thread, joints by kind"
        rows={changed}
        rowKey={(one) => one.what}
        empty="As many of each kind on both."
        columns={[
          { head: "kind", cell: (one) => one.what },
          { head: comparison.a.name, number: true, cell: (one) => one.a },
          { head: comparison.b.name, number: true, cell: (one) => one.b },
          {
            head: "difference",
            number: true,
            cell: (one) => (one.difference > 0 ? `+${one.difference}` : `−${-one.difference}`),
          },
        ]}
      />
      {same.length === 0 ? null : (
        <p className="soft">As many on both: {same.map((one) => `${one.what} (${one.a})`).join("; ")}.</p>
      )}
    </Section>
  );
}
