/** A part's outline traced on the photograph: corners added, moved, taken away; holes; area and centroid as they change. */
import { useEffect, useRef, useState } from "react";
import { faultsIn, type Fault as OneFault } from "../../../core/errors.ts";
import { typedQuantity } from "../../../core/measure/typed/index.ts";
import {
  type OutlineMeasure,
  type Point,
  placeLevel,
  placeOutline,
  project,
  traceOutline,
  type View,
} from "../../../core/photo/index.ts";
import type { Media, Part } from "../../../core/record/index.ts";
import { valueIn } from "../../../core/units/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Fault } from "../../face/fault.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { mediaAddress, useKeep } from "../../keep/index.ts";
import { Cell } from "../../written/cell.tsx";
import { Board } from "./board.tsx";
import { Levels } from "./levels.tsx";

type Rings = readonly (readonly Point[])[];

export function Outline({ media, view }: { readonly media: Media; readonly view: View }) {
  const { part, choose } = useBench();
  const { kept } = useKeep();
  const { record } = kept.shown;
  const here = record.parts.find((one) => one.id === part?.id);
  return (
    <>
      <div className="board-fields">
        <label>
          outline of{" "}
          <select
            value={here?.id ?? ""}
            onChange={(event) => choose(event.target.value === "" ? null : event.target.value)}
          >
            <option value="">choose a part</option>
            {record.parts.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name}
              </option>
            ))}
          </select>
        </label>
      </div>
      {here === undefined ? (
        <p className="soft">Choose a part here or in the drawing.</p>
      ) : (
        <Traced key={`${media.id} ${here.id}`} media={media} view={view} part={here} />
      )}
    </>
  );
}

function Traced({ media, view, part }: { readonly media: Media; readonly view: View; readonly part: Part }) {
  const { edit, kept } = useKeep();
  const { record } = kept.shown;
  const level = part.level === undefined ? view.level : part.level[view.seen === "back" ? 0 : 1];
  const fromRecord = (): Rings => (part.outline ?? []).map((ring) => ring.map((at) => project(view.camera, at, level)));
  const [rings, setRings] = useState<Rings>(fromRecord);
  const [ring, setRing] = useState(0);
  const [active, setActive] = useState<string | null>(null);
  const [fault, setFault] = useState<OneFault | null>(null);
  // Taken back, or changed by somebody else: what the record says is shown, corners that were not kept are given up.
  const kept_ = useRef(JSON.stringify(part.outline));
  const asKept = JSON.stringify(part.outline);
  // biome-ignore lint/correctness/useExhaustiveDependencies: only a change of the record counts
  useEffect(() => {
    if (asKept === kept_.current) return;
    kept_.current = asKept;
    setRings(fromRecord());
    setActive(null);
  }, [asKept]);

  const measured = ((): OutlineMeasure | OneFault | null => {
    const whole = rings.filter((one) => one.length >= 3);
    if (whole.length === 0 || whole[0] !== rings[0]) return null;
    try {
      return traceOutline(view, whole, { level });
    } catch (error) {
      const faults = faultsIn(error);
      if (faults === undefined) throw error;
      return faults[0]!;
    }
  })();
  const change = (next: Rings, label: string) => {
    setRings(next);
    setFault(null);
    const whole = next.filter((one) => one.length >= 3);
    if (whole.length === 0 || whole[0] !== next[0]) return;
    try {
      const { outline } = traceOutline(view, whole, { level });
      const set = placeOutline(record, part.id, outline);
      kept_.current = JSON.stringify((set as { value?: unknown }).value);
      void edit([set], label).then((faults) => setFault(faults[0] ?? null));
    } catch (error) {
      const faults = faultsIn(error);
      if (faults === undefined) throw error;
      // Shown below with the figures; what crosses is not kept.
    }
  };
  const corner = (id: string) => id.split(" ").map(Number) as [number, number];
  const at = Math.min(ring, Math.max(0, rings.length - 1));
  const add = (point: Point) => {
    const own = rings[at] ?? [];
    const place = own.length < 3 ? own.length : nearestSide(own, point);
    const next = own.toSpliced(place, 0, point);
    setActive(`${rings.length === 0 ? 0 : at} ${place}`);
    change(rings.length === 0 ? [next] : rings.with(at, next), `corner of ${part.name}`);
  };
  const typed = (text: string): number => {
    const { value, unit } = typedQuantity(text, { quantity: "length", unit: "mm" });
    return valueIn({ value, unit }, "mm");
  };
  const setLevel = (from: number, to: number) =>
    edit([placeLevel(record, part.id, [from, to])], `level of ${part.name}`);
  const [from, to] = part.level ?? [level, level + 1];
  return (
    <>
      <div className="board-fields">
        <span>
          reaches from{" "}
          <Cell
            label="Nearest level in mm"
            value={part.level === undefined ? "" : String(from)}
            width="short"
            take={(text) => setLevel(typed(text), Math.max(to, typed(text) + 0.01))}
          />
        </span>
        <span>
          to{" "}
          <Cell
            label="Deepest level in mm"
            value={part.level === undefined ? "" : String(to)}
            width="short"
            take={(text) => setLevel(Math.min(from, typed(text) - 0.01), typed(text))}
          />{" "}
          mm below the back face
        </span>
        <button
          type="button"
          className="button"
          disabled={(rings[0]?.length ?? 0) < 3 || (rings.at(-1)?.length ?? 0) < 3}
          onClick={() => {
            setRing(rings.length);
            setRings([...rings, []]);
            setActive(null);
          }}
        >
          begin a hole
        </button>
        <button
          type="button"
          className="button"
          disabled={rings.length === 0}
          onClick={() => {
            setRings([]);
            setRing(0);
            setActive(null);
          }}
        >
          trace anew
        </button>
      </div>
      <Levels record={record} part={part} keep={(nearest, deepest) => void setLevel(nearest, deepest)} />
      {measured !== null && "area" in measured ? (
        <Live measured={measured} />
      ) : (
        <p className="soft">
          Click the corners one after the other, three or more. A corner is put into the nearest side.
        </p>
      )}
      {measured !== null && "found" in measured ? <Fault title="Not kept" faults={[measured]} /> : null}
      {fault === null ? null : <Fault title="Not kept" faults={[fault]} />}
      <Board
        src={mediaAddress(media.file)}
        size={view.size}
        name={`Photograph ${media.id}, outline of ${part.name}`}
        marks={rings.flatMap((one, r) => one.map((point, i) => ({ id: `${r} ${i}`, at: point, label: "" })))}
        lines={rings
          .map((points, r) => ({ id: String(r), points, closed: points.length > 2 }))
          .filter(({ points }) => points.length > 1)}
        active={active}
        nudge={0.05 * view.pixels}
        onChoose={(id) => {
          setActive(id);
          if (id !== null) setRing(corner(id)[0]);
        }}
        onAdd={add}
        onMove={(id, point) => {
          const [r, i] = corner(id);
          change(rings.with(r, rings[r]!.with(i, point)), `corner of ${part.name} moved`);
        }}
        onRemove={(id) => {
          const [r, i] = corner(id);
          setActive(null);
          const left = rings.with(r, rings[r]!.toSpliced(i, 1));
          change(
            left.filter((one, k) => k === 0 || one.length > 0),
            `corner of ${part.name} taken away`,
          );
        }}
      />
    </>
  );
}

function Live({ measured }: { readonly measured: OutlineMeasure }) {
  const { area, areaU, perimeter, perimeterU, centroid, centroidU } = measured;
  return (
    <Figures>
      <Figure
        large
        value={`${area.toFixed(area < 100 ? 1 : 0)} ± ${(1.96 * areaU).toFixed(area < 100 ? 1 : 0)} mm²`}
        note="area, 95 %"
        source={
          <p>
            From the marks' own error, the view's, and 0.1 mm of the level (standard uncertainties, carried on linearly,
            GUM 5.1.2).
          </p>
        }
      />
      <Figure value={`${perimeter.toFixed(1)} ± ${(1.96 * perimeterU).toFixed(1)} mm`} note="perimeter" />
      <Figure
        value={`${centroid[0].toFixed(2)}, ${centroid[1].toFixed(2)} mm`}
        note={`centroid, to ${(1.96 * Math.max(...centroidU)).toFixed(2)} mm`}
      />
    </Figures>
  );
}

/** Where a corner goes into a ring: behind the start of the side that it lies nearest to. */
function nearestSide(ring: readonly Point[], [x, y]: Point): number {
  let best = { place: ring.length, far: Number.POSITIVE_INFINITY };
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const along = Math.max(0, Math.min(1, ((x - p[0]) * dx + (y - p[1]) * dy) / (dx * dx + dy * dy || 1)));
    const far = Math.hypot(x - p[0] - along * dx, y - p[1] - along * dy);
    if (far < best.far) best = { place: i + 1, far };
  });
  return best.place;
}
