/**
 * Readings one after the other: the instrument chosen once, what is to be measured next from the measuring plan, and a
 * field that takes what is typed, what an instrument types, or what comes over a serial line.
 */
import { type FormEvent, useEffect, useId, useRef, useState } from "react";
import { faultsIn, type Fault as OneFault } from "../../../core/errors.ts";
import type { PlanStep } from "../../../core/measure/index.ts";
import { type NextReading, nextReadings, typedQuantity } from "../../../core/measure/typed/index.ts";
import type { Edit, Instrument, QuantityName, TeardownRecord, UnitName } from "../../../core/record/index.ts";
import { baseUnit, QUANTITY_DIMENSIONS, UNITS } from "../../../core/units/index.ts";
import type { RecordHead } from "../../../server/api.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import { useAnswer } from "../../data/use-answer.ts";
import { Caution } from "../../face/caution.tsx";
import { Fault } from "../../face/fault.tsx";
import { Section } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";
import { useKeep } from "../../keep/index.ts";
import { useLineSettings } from "../../line/settings.ts";
import { Serial } from "./serial.tsx";

const NO_PLAN: readonly PlanStep[] = [];

export function Readings() {
  const { kept: from, part } = useBench();
  const { kept, edit } = useKeep();
  const { record } = kept.shown;
  const heads = useAnswer<readonly RecordHead[]>("/api/records");
  const sibling = heads.kind === "here" ? heads.value.find((one) => one.id === record.sibling) : undefined;
  const { answer } = useComputed(
    from,
    "figures",
    heads.kind === "waiting"
      ? null
      : { sibling: sibling === undefined ? null : { id: sibling.id, revision: sibling.revision } },
  );
  // While a new plan is computed the last one goes on.
  const plan = useRef(NO_PLAN);
  if (answer.kind === "here") plan.current = answer.value.plan;
  const list = nextReadings(record, plan.current);
  // The instrument in hand is the line's as well; this browser remembers it.
  const [{ instrument: instrumentId }, settings] = useLineSettings(record.id);
  const [wanted, setWanted] = useState<string | null>(null);
  const [told, setTold] = useState<string | null>(null);
  const [fault, setFault] = useState<OneFault | null>(null);
  const ids = { field: useId(), instrument: useId() };
  const [text, setText] = useState("");
  const instrument = record.instruments.find((one) => one.id === instrumentId) ?? null;
  const fitting = list.filter((one) => instrument === null || fitsTo(instrument, one.quantity));
  const [own, setOwn] = useState<NextReading | null>(null);
  const next = own ?? list.find((one) => one.id === wanted) ?? fitting[0] ?? null;
  const nameOf = (id: string) =>
    record.parts.find((one) => one.id === id)?.name ?? (id === "device" ? "the device" : id);
  // What the instrument in hand cannot measure is not said to have been measured with it.
  const other = instrument !== null && next !== null && !fitsTo(instrument, next.quantity);
  const unit: UnitName | undefined =
    (other ? undefined : instrument?.resolution.unit) ??
    (next === null ? undefined : baseUnit(QUANTITY_DIMENSIONS[next.quantity]));
  const workingOut = answer.kind === "working" || answer.kind === "idle";

  const take = async (value: number, given: UnitName, zero: boolean) => {
    const quantity: QuantityName | undefined =
      next !== null && UNITS[given].dimension === QUANTITY_DIMENSIONS[next.quantity] ? next.quantity : usual(given);
    if (quantity === undefined || (next === null && !zero)) {
      return setFault({
        path: "",
        found: `${value} ${given}`,
        expected: next === null ? "something to be measured next" : `a ${next.quantity}`,
      });
    }
    if (!zero && quantity !== next!.quantity) {
      return setFault({
        path: "",
        found: `${value} ${given}`,
        expected: `a ${next!.quantity} of ${next!.of.map(nameOf).join(" and ")}`,
      });
    }
    if (zero && instrument === null) {
      return setFault({
        path: "",
        found: "a zero or tare of no instrument",
        expected: "the instrument to be chosen first",
      });
    }
    const of = zero ? ["zero"] : next!.of;
    const measures = instrument !== null && fitsTo(instrument, quantity);
    const edits = readingEdits(record, of, quantity, value, given, measures ? instrument.id : undefined);
    const faults = await edit(edits, `${quantity} of ${of.map(nameOf).join(" and ")}`);
    setFault(faults[0] ?? null);
    if (faults.length > 0) return;
    setTold(`Kept: ${zero ? "zero or tare" : of.map(nameOf).join(" and ")}, ${value} ${given === "1" ? "" : given}.`);
    setText("");
    if (!zero && next!.left <= 1) setWanted(null);
    if (!zero) setOwn(null);
  };
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (next === null) return;
    try {
      const typed = typedQuantity(text, { quantity: next.quantity, ...(unit === undefined ? {} : { unit }) });
      void take(typed.value, typed.unit, false);
    } catch (error) {
      const faults = faultsIn(error);
      if (faults === undefined) throw error;
      setFault(faults[0]!);
    }
  };
  const asZero = () => {
    try {
      const typed = typedQuantity(text === "" ? "0" : text, unit === undefined ? {} : { unit });
      void take(typed.value, typed.unit, true);
    } catch (error) {
      const faults = faultsIn(error);
      if (faults === undefined) throw error;
      setFault(faults[0]!);
    }
  };
  // The field is where an instrument that acts as a keyboard types; it is ready without a click.
  const field = useRef<HTMLInputElement>(null);
  const nextId = next?.id;
  useEffect(() => {
    if (nextId !== undefined && document.activeElement === document.body) field.current?.focus();
  }, [nextId]);

  return (
    <>
      <div className="board-fields">
        <label htmlFor={ids.instrument}>
          with{" "}
          <select
            id={ids.instrument}
            value={instrument?.id ?? ""}
            onChange={(event) => {
              settings({ instrument: event.target.value === "" ? null : event.target.value });
              setWanted(null);
            }}
          >
            <option value="">no instrument said</option>
            {record.instruments.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name ?? one.id}, {one.resolution.value} {one.resolution.unit}
              </option>
            ))}
          </select>
        </label>
      </div>
      {next === null && workingOut ? <p role="status">Working out what to measure next.</p> : null}
      {next === null && !workingOut ? (
        <p>
          Nothing is left in the list{instrument === null ? "" : " with it"}: every claim that can be decided is, and
          the budgets have what they need.
        </p>
      ) : null}
      {next === null ? null : (
        <form className="next-reading" onSubmit={submit}>
          <label htmlFor={ids.field}>
            <b className="large">
              {next.quantity} of {next.of.map(nameOf).join(" and ")}
            </b>
            <span className="soft">
              {next.because}
              {next.left > 1 ? `; ${next.left} values to go` : ""}
            </span>
            {other ? (
              <span className="soft">
                {instrument.name ?? instrument.id} measures no {next.quantity}: choose what does, or it is kept without
                an instrument.
              </span>
            ) : null}
          </label>
          <div className="row">
            <input
              id={ids.field}
              ref={field}
              value={text}
              inputMode="decimal"
              autoComplete="off"
              placeholder={`1.4 ${unit ?? ""}`}
              onChange={(event) => setText(event.target.value)}
            />
            <button type="submit" className="button">
              keep
            </button>
            <button type="button" className="button" onClick={asZero}>
              keep as zero or tare
            </button>
          </div>
        </form>
      )}
      <SomethingElse
        record={record}
        part={part?.id ?? "device"}
        choose={(of, quantity) => {
          setOwn({
            id: `own ${quantity} ${of}`,
            of: [of],
            quantity,
            instrument: null,
            left: 1,
            because: "your own choice",
          });
          setTimeout(() => field.current?.focus());
        }}
      />
      {fault === null ? null : <Fault title="Not kept" faults={[fault]} />}
      {told === null ? null : <p role="status">{told}</p>}
      <Serial
        onReading={(event) => {
          const given = event.unit ?? unit;
          if (given !== undefined) void take(event.value, given, event.zero);
        }}
      />
      {next?.quantity === "voltage" ? (
        <Caution title="Live contacts">
          A charged cell delivers enough to burn: one hand, insulated tips, nothing metal loose; qualified people and
          your site's rules.
        </Caution>
      ) : null}
      <Section title="To be measured">
        <Table<NextReading>
          caption="What is to be measured, in order"
          rows={list.slice(0, 30)}
          rowKey={(one) => one.id}
          chosen={(one) => one.id === next?.id}
          empty={workingOut ? "Being worked out." : "Nothing."}
          columns={[
            {
              head: "what",
              cell: (one) => (
                <button
                  type="button"
                  className="part-button"
                  aria-current={one.id === next?.id ? "true" : undefined}
                  onClick={() => {
                    setOwn(null);
                    setWanted(one.id);
                    field.current?.focus();
                  }}
                >
                  {one.quantity} of {one.of.map(nameOf).join(" and ")}
                </button>
              ),
            },
            { head: "values", number: true, cell: (one) => one.left },
            {
              head: "with",
              cell: (one) =>
                record.instruments.find((other) => other.id === one.instrument)?.name ??
                one.instrument ??
                "any that fits",
            },
            { head: "why", cell: (one) => one.because },
          ]}
        />
      </Section>
    </>
  );
}

const QUANTITIES = Object.keys(QUANTITY_DIMENSIONS) as QuantityName[];

/** What is not in the list: any quantity of any part. */
function SomethingElse(props: {
  readonly record: TeardownRecord;
  readonly part: string;
  readonly choose: (of: string, quantity: QuantityName) => void;
}) {
  const { record, part, choose } = props;
  const [quantity, setQuantity] = useState<QuantityName>("mass");
  const [other, setOther] = useState<string | null>(null);
  const of = other ?? part;
  return (
    <div className="board-fields">
      <label>
        or the{" "}
        <select value={quantity} onChange={(event) => setQuantity(event.target.value as QuantityName)}>
          {QUANTITIES.map((one) => (
            <option key={one}>{one}</option>
          ))}
        </select>
      </label>
      <label>
        of{" "}
        <select value={of} onChange={(event) => setOther(event.target.value)}>
          <option value="device">the device</option>
          {record.parts.map((one) => (
            <option key={one.id} value={one.id}>
              {one.name}
            </option>
          ))}
        </select>
      </label>
      <button type="button" className="button" onClick={() => choose(of, quantity)}>
        measure it next
      </button>
    </div>
  );
}

const fitsTo = (instrument: Instrument, quantity: QuantityName): boolean =>
  UNITS[instrument.resolution.unit].dimension === QUANTITY_DIMENSIONS[quantity];

/** What a zero in that unit is a zero of. */
const usual = (unit: UnitName): QuantityName | undefined =>
  (Object.keys(QUANTITY_DIMENSIONS) as QuantityName[]).find(
    (one) => QUANTITY_DIMENSIONS[one] === UNITS[unit].dimension,
  );

/** A further value of the last reading where it is the same thing with the same instrument, else a reading of its own. */
function readingEdits(
  record: TeardownRecord,
  of: readonly string[],
  quantity: QuantityName,
  value: number,
  unit: UnitName,
  instrument: string | undefined,
): Edit[] {
  const same = record.readings.findLast(
    (one) =>
      one.quantity === quantity &&
      one.unit === unit &&
      one.instrument === instrument &&
      one.record === undefined &&
      one.of.length === of.length &&
      of.every((id, i) => one.of[i] === id),
  );
  // A zero is one state of the instrument: a later one is another.
  if (same !== undefined && of[0] !== "zero") {
    return [{ kind: "set", list: "readings", id: same.id, path: ["values", same.values.length], value }];
  }
  const session = record.sessions?.at(-1)?.id;
  let number = record.readings.length + 1;
  while (record.readings.some((one) => one.id === `r${number}`)) number++;
  const item = {
    id: `r${number}`,
    of: [...of],
    quantity,
    values: [value],
    unit,
    ...(instrument === undefined ? {} : { instrument }),
    ...(session === undefined ? {} : { session }),
  };
  return [{ kind: "put", list: "readings", item }];
}
