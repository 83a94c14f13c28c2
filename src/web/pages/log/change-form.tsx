import { type FormEvent, useState } from "react";
import {
  CLAIM_RELATIONS,
  ENTRY_ACTIONS,
  type Entry,
  QUANTITY_NAMES,
  type TeardownRecord,
  UNIT_NAMES,
} from "../../../core/record/index.ts";
import type { Item, Talk, Thing } from "./review.ts";

/** An item changed by hand. What it is may change too: a remark becomes work, what was left over becomes an entry. */
export function ChangeForm(props: {
  readonly record: TeardownRecord;
  readonly made: Talk["made"];
  readonly item: Item;
  readonly session: string | null;
  readonly take: (thing: Thing) => void;
  readonly leave: () => void;
}) {
  const { record, made, item, session, take, leave } = props;
  const first: Thing = item.thing ?? {
    list: "log",
    item: {
      id: item.id,
      ...(session === null ? {} : { session }),
      ...(item.at === null ? {} : { at: item.at }),
      action: "note",
      text: item.text,
    },
  };
  const [thing, setThing] = useState<Thing>(first);
  const parts = [
    ...record.parts.map((one) => [one.id, one.name] as const),
    ...Object.values(made).flatMap((one) =>
      one.list === "parts" ? [[one.item.id, `${one.item.name} (new)`] as const] : [],
    ),
  ];
  const set = (some: Record<string, unknown>) => {
    const next = Object.fromEntries(
      Object.entries({ ...thing.item, ...some }).filter(([, value]) => value !== undefined),
    );
    setThing({ ...thing, item: next } as unknown as Thing);
  };
  const send = (event: FormEvent) => {
    event.preventDefault();
    take(thing);
  };
  const partChoice = (
    label: string,
    ids: readonly string[],
    change: (ids: string[]) => void,
    more: readonly (readonly [string, string])[] = [],
  ) => (
    <label>
      {label}
      <select
        value={ids[0] ?? ""}
        onChange={(event) => change(event.target.value === "" ? [] : [event.target.value, ...ids.slice(1)])}
      >
        <option value="">none</option>
        {[...more, ...parts].map(([id, name]) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
  const text = (label: string, value: string | undefined, change: (value: string | undefined) => void) => (
    <label>
      {label}
      <input
        value={value ?? ""}
        maxLength={400}
        onChange={(event) => change(event.target.value === "" ? undefined : event.target.value)}
      />
    </label>
  );
  const number = (label: string, value: number | undefined, change: (value: number | undefined) => void) => (
    <label>
      {label}
      <input
        type="number"
        step="any"
        value={value ?? ""}
        onChange={(event) => change(event.target.value === "" ? undefined : Number(event.target.value))}
      />
    </label>
  );
  const choice = (
    label: string,
    value: string | undefined,
    options: readonly string[],
    change: (value: string | undefined) => void,
    none = false,
  ) => (
    <label>
      {label}
      <select
        value={value ?? ""}
        onChange={(event) => change(event.target.value === "" ? undefined : event.target.value)}
      >
        {none ? <option value="">none</option> : null}
        {options.map((one) => (
          <option key={one}>{one}</option>
        ))}
      </select>
    </label>
  );
  return (
    <form
      className="change"
      aria-label="Change"
      onSubmit={send}
      onKeyDown={(event) => event.key === "Escape" && leave()}
    >
      {thing.list === "log" ? (
        <>
          {choice("action", thing.item.action, ENTRY_ACTIONS, (action) => set({ action: action as Entry["action"] }))}
          {partChoice("part", thing.item.parts ?? [], (ids) =>
            set({ parts: ids.length === 0 ? undefined : ids, joints: undefined }),
          )}
          <label>
            joint
            <select
              value={thing.item.joints?.[0] ?? ""}
              onChange={(event) => set({ joints: event.target.value === "" ? undefined : [event.target.value] })}
            >
              <option value="">none</option>
              {record.joints
                .filter((joint) => thing.item.parts === undefined || joint.holds.includes(thing.item.parts[0]!))
                .map((joint) => (
                  <option key={joint.id}>{joint.id}</option>
                ))}
              {(thing.item.joints ?? [])
                .filter((id) => made[id] !== undefined)
                .map((id) => (
                  <option key={id}>{id}</option>
                ))}
            </select>
          </label>
          {text("lies in", thing.item.lies, (lies) => set({ lies }))}
          {choice("outcome", thing.item.outcome, ["fine", "damaged"], (outcome) => set({ outcome }), true)}
        </>
      ) : null}
      {thing.list === "readings" ? (
        <>
          {partChoice("of", thing.item.of, (of) => of.length > 0 && set({ of }), [
            ["device", "the device"],
            ["zero", "zero of the instrument"],
          ])}
          {choice("quantity", thing.item.quantity, QUANTITY_NAMES, (quantity) => set({ quantity }))}
          {number("value", thing.item.values[0], (value) => value !== undefined && set({ values: [value] }))}
          {choice("unit", thing.item.unit, UNIT_NAMES, (unit) => set({ unit }))}
          {choice(
            "instrument",
            thing.item.instrument,
            record.instruments.map((one) => one.id),
            (instrument) => set({ instrument }),
            true,
          )}
        </>
      ) : null}
      {thing.list === "claims" ? (
        <>
          {partChoice("of", thing.item.subject, (subject) => subject.length > 0 && set({ subject }), [
            ["device", "the device"],
          ])}
          {choice("relation", thing.item.relation, CLAIM_RELATIONS, (relation) => set({ relation }))}
          {number("value", thing.item.value, (value) =>
            set({ value, ...(value === undefined ? { unit: undefined } : { unit: thing.item.unit ?? "1" }) }),
          )}
          {choice("unit", thing.item.unit, UNIT_NAMES, (unit) => set({ unit }), true)}
          {text("than", thing.item.than, (than) => set({ than }))}
        </>
      ) : null}
      {thing.list === "checks" ? (
        <>
          {text("function", thing.item.what, (what) => what !== undefined && set({ what }))}
          {choice("result", thing.item.result, ["works", "fails", "not-tried"], (result) => set({ result }))}
          {choice("when", thing.item.when, ["before", "stop", "after"], (when) => set({ when }))}
        </>
      ) : null}
      {number("second of the session", thing.item.at, (at) => set({ at }))}
      {thing.list === "log" || thing.list === "claims" ? (
        <label className="wide">
          words
          <textarea rows={2} value={thing.item.text ?? ""} onChange={(event) => set({ text: event.target.value })} />
        </label>
      ) : null}
      <div className="row wide">
        <button type="submit" className="button">
          take it so
        </button>
        <button type="button" className="button" onClick={leave}>
          leave it
        </button>
      </div>
    </form>
  );
}
