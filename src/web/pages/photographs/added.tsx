/** What a photograph is tied to, and what came of adding it. */
import type { TeardownRecord } from "../../../core/record/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Fault } from "../../face/fault.tsx";
import type { Adding } from "../../photo/use-add-photo.ts";

export function BelongsTo(props: {
  readonly record: TeardownRecord;
  readonly value: string;
  readonly onChange: (entry: string) => void;
}) {
  const { part } = useBench();
  const late = props.record.log.slice(-40).reverse();
  return (
    <>
      <label>
        belongs to{" "}
        <select value={props.value} onChange={(event) => props.onChange(event.target.value)}>
          <option value="">a note of its own</option>
          {late.map((one) => (
            <option key={one.id} value={one.id}>
              {one.action} {(one.parts ?? one.joints ?? []).slice(0, 2).join(", ")}{" "}
              {one.at === undefined ? "" : `at ${Math.round(one.at)} s`}
            </option>
          ))}
        </select>
      </label>
      <span className="soft">{part === null ? "tied to no part" : `and to ${part.name}`}</span>
    </>
  );
}

export function WhatCame({ adding }: { readonly adding: Adding }) {
  return (
    <>
      {adding.busy ? <p role="status">Taking it in.</p> : null}
      {adding.told === null ? null : <p role="status">{adding.told}</p>}
      {adding.faults.length === 0 ? null : <Fault title="Not added" faults={adding.faults} />}
    </>
  );
}
