/** Screws clicked onto the photograph in the order in which they come out. */
import { useState } from "react";
import { faultsIn, type Fault as OneFault } from "../../../core/errors.ts";
import { typedQuantity } from "../../../core/measure/typed/index.ts";
import { headLevel, type Point, place, placeScrews, project, type View } from "../../../core/photo/index.ts";
import type { Joint, Media } from "../../../core/record/index.ts";
import { valueIn } from "../../../core/units/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Fault } from "../../face/fault.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Table } from "../../face/table.tsx";
import { mediaAddress, useKeep } from "../../keep/index.ts";
import { Cell } from "../../written/cell.tsx";
import { Board } from "./board.tsx";
import { useInTurn } from "./use-in-turn.ts";

export function Screws({ media, view }: { readonly media: Media; readonly view: View }) {
  const { part } = useBench();
  const { edit, kept, keeper } = useKeep();
  const { record } = kept.shown;
  const all = record.joints.filter((one) => one.kind === "screw");
  const near = part === null ? all : all.filter((one) => one.holds.includes(part.id));
  const joints = near.length > 0 ? near : all;
  const [wanted, setWanted] = useState<string | null>(null);
  const joint =
    joints.find((one) => one.id === wanted) ??
    joints.find((one) => placesOf(one).some((at) => at === null)) ??
    joints[0];
  const [active, setActive] = useState<string | null>(null);
  const [fault, setFault] = useState<OneFault | null>(null);
  const [levels, setLevels] = useState<Readonly<Record<string, number>>>({});
  const inTurn = useInTurn();
  if (joint === undefined)
    return <p className="soft">The record has no screws yet: add them under Structure, fill in.</p>;
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  const level = levels[joint.id] ?? headLevel(record, joint, view.seen) ?? view.level;
  const places = placesOf(joint);
  /** Laid on the places that stand when its turn has come. */
  const keep = (next: (now: readonly (Point | null)[]) => readonly (Point | null)[], label: string) =>
    inTurn(async () => {
      try {
        const { record: newest } = keeper.kept().shown;
        const now = newest.joints.find((one) => one.id === joint.id) ?? joint;
        const { edits } = placeScrews(newest, joint.id, next(placesOf(now)), "not recorded");
        const faults = edits.length === 0 ? [] : await edit(edits, label);
        setFault(faults[0] ?? null);
      } catch (error) {
        const faults = faultsIn(error);
        if (faults === undefined) throw error;
        setFault(faults[0]!);
      }
    });
  const read = (at: Point): Point => place(view, at, { level }).at;
  const count = joint.count ?? 1;
  const placed = places.filter((at) => at !== null).length;
  const shown = places.flatMap((at, i) =>
    at === null ? [] : [{ id: String(i), at: project(view.camera, at, level), label: String(i + 1) }],
  );
  return (
    <>
      <div className="board-fields">
        <label>
          screws{" "}
          <select
            value={joint.id}
            onChange={(event) => {
              setWanted(event.target.value);
              setActive(null);
              setFault(null);
            }}
          >
            {joints.map((one) => (
              <option key={one.id} value={one.id}>
                {one.id}: {one.holds.map(nameOf).join(" and ")}
              </option>
            ))}
          </select>
        </label>
        <span className="mm">
          heads lie below the back face by{" "}
          <Cell
            label="Level of the screw heads in mm"
            value={String(level)}
            width="short"
            take={(text) => {
              const { value, unit } = typedQuantity(text, { quantity: "length", unit: "mm" });
              setLevels((now) => ({ ...now, [joint.id]: valueIn({ value, unit }, "mm") }));
              return [];
            }}
          />
        </span>
      </div>
      <Figures>
        <Figure
          large
          value={`${placed} of ${count}`}
          note={placed === count ? "all placed" : "placed, in the order in which they come out"}
        />
      </Figures>
      {fault === null ? null : <Fault title="Not placed" faults={[fault]} />}
      <Board
        src={mediaAddress(media.file)}
        size={view.size}
        name={`Photograph ${media.id}, screws of ${joint.id}`}
        marks={shown}
        active={active}
        nudge={0.05 * view.pixels}
        onChoose={setActive}
        onAdd={(at) => {
          let number = 0;
          void keep((now) => {
            const free = now.indexOf(null);
            number = free < 0 ? now.length : free;
            return free < 0 ? [...now, read(at)] : now.with(free, read(at));
          }, `a screw of ${joint.id}`).then(() => setActive(String(number)));
        }}
        onMove={(id, at) =>
          keep(
            (now) => now.map((one, i) => (i === Number(id) ? read(at) : one)),
            `screw ${Number(id) + 1} of ${joint.id} moved`,
          )
        }
        onRemove={(id) => {
          setActive(null);
          void keep(
            (now) => now.map((one, i) => (i === Number(id) ? null : one)),
            `place of screw ${Number(id) + 1} taken away`,
          );
        }}
      />
      <Table
        caption={`Places of the screws of ${joint.id}`}
        rows={shown}
        rowKey={(one) => one.id}
        chosen={(one) => one.id === active}
        empty="None is placed yet: click onto the first that comes out."
        columns={[
          {
            head: "out",
            cell: (one) => (
              <button
                type="button"
                className="part-button"
                aria-current={one.id === active ? "true" : undefined}
                onClick={() => setActive(one.id)}
              >
                {one.label}
              </button>
            ),
          },
          { head: "right", unit: "mm", number: true, cell: (one) => places[Number(one.id)]![0].toFixed(2) },
          { head: "up", unit: "mm", number: true, cell: (one) => places[Number(one.id)]![1].toFixed(2) },
          {
            head: "to within",
            unit: "mm, 95 %",
            number: true,
            cell: (one) => {
              const { U } = place(view, one.at, { level });
              return `${U[0].toFixed(2)}, ${U[1].toFixed(2)}`;
            },
          },
          {
            head: "displaced by its depth",
            unit: "mm",
            number: true,
            cell: (one) => place(view, one.at, { level }).displaced.toFixed(2),
          },
        ]}
      />
    </>
  );
}

function placesOf(joint: Joint): readonly (Point | null)[] {
  const each = joint.screws?.each ?? [];
  return Array.from({ length: Math.max(each.length, 0) }, (_, i) => each[i]?.at ?? null).concat(
    new Array<null>(Math.max(0, (joint.count ?? 1) - each.length)).fill(null),
  );
}
