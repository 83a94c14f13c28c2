/** Points whose places are known: which of them the next mark is, and what was marked so far. */
import { useState } from "react";
import { typedQuantity } from "../../../core/measure/typed/index.ts";
import type { KnownPlace, KnownPoint, Point, View } from "../../../core/photo/index.ts";
import { valueIn } from "../../../core/units/index.ts";
import { Table } from "../../face/table.tsx";
import { Cell } from "../../written/cell.tsx";

const MEASURED = "a place of your own";

export interface Known {
  /** What the next mark stands for; null: it has to be said first. */
  readonly next: Pick<KnownPoint, "is" | "level"> | null;
  readonly choices: readonly KnownPlace[];
  readonly chosen: string;
  readonly choose: (name: string) => void;
  readonly own: { readonly x: number | null; readonly y: number | null; readonly level: number | null };
  readonly setOwn: (change: Partial<Known["own"]>) => void;
}

const same = (a: Point, b: Point): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < 0.005;

/** Offers what is not marked yet, and after each mark the next. */
export function useKnown(places: readonly KnownPlace[], marked: readonly KnownPoint[]): Known {
  const [wanted, choose] = useState<string | null>(null);
  const [own, setOwn] = useState<Known["own"]>({ x: null, y: null, level: null });
  const choices = places.filter((one) => !marked.some((mark) => same(mark.is, one.is)));
  const place = choices.find((one) => one.name === wanted) ?? (wanted === MEASURED ? undefined : choices[0]);
  const chosen = place?.name ?? MEASURED;
  const level = own.level === null ? {} : { level: own.level };
  const next =
    place !== undefined
      ? { is: place.is, ...(place.level === undefined ? {} : { level: place.level }) }
      : own.x === null || own.y === null
        ? null
        : { is: [own.x, own.y] as const, ...level };
  return { next, choices, chosen, choose, own, setOwn: (change) => setOwn((now) => ({ ...now, ...change })) };
}

const mm = (text: string): number | null => {
  if (text.trim() === "") return null;
  const { value, unit } = typedQuantity(text, { quantity: "length", unit: "mm" });
  return valueIn({ value, unit }, "mm");
};

/** Which point the next mark is. */
export function WhichPoint({ known, level }: { readonly known: Known; readonly level: number }) {
  const { choices, chosen, choose, own, setOwn } = known;
  const field = (label: string, what: keyof Known["own"], placeholder: string) => (
    <span className="mm">
      {label}{" "}
      <Cell
        label={`Known point, ${label}, in mm`}
        value={own[what] === null ? "" : String(own[what])}
        placeholder={placeholder}
        width="short"
        take={(text) => {
          setOwn({ [what]: mm(text) });
          return [];
        }}
      />
    </span>
  );
  return (
    <div className="board-fields">
      <label>
        the next mark is{" "}
        <select value={chosen} onChange={(event) => choose(event.target.value)}>
          {choices.map((one) => (
            <option key={one.name}>{one.name}</option>
          ))}
          <option>{MEASURED}</option>
        </select>
      </label>
      {chosen === MEASURED ? (
        <>
          {field("to the right", "x", "12.5")}
          {field("up", "y", "40")}
          {field("below the back face by", "level", String(level))}
        </>
      ) : null}
    </div>
  );
}

/** What was marked, and how far each is off: a place that was taken for known may be wrong itself. */
export function MarkedPoints(props: {
  readonly points: readonly KnownPoint[];
  readonly places: readonly KnownPlace[];
  readonly level: number;
  readonly view: View | null;
  readonly active: string | null;
  readonly onChoose: (id: string) => void;
  readonly onRemove: (id: string) => void;
}) {
  const { points, places, level, view, active, onChoose, onRemove } = props;
  const off = (i: number) => view?.residuals.find((one) => one.of === `point ${i + 1}`)?.mm;
  return (
    <Table
      caption="Points of known place"
      rows={points.map((point, i) => ({ ...point, key: `point ${i}`, i }))}
      rowKey={(one) => one.key}
      chosen={(one) => one.key === active}
      empty="None yet. With points at several depths the camera's height is known better, and with it all that lies deep."
      columns={[
        {
          head: "point",
          cell: (one) => (
            <button
              type="button"
              className="part-button"
              aria-current={one.key === active ? "true" : undefined}
              onClick={() => onChoose(one.key)}
            >
              {one.i + 1} {places.find((place) => same(place.is, one.is))?.name ?? ""}
            </button>
          ),
        },
        { head: "right", unit: "mm", number: true, cell: (one) => one.is[0].toFixed(2) },
        { head: "up", unit: "mm", number: true, cell: (one) => one.is[1].toFixed(2) },
        { head: "deep", unit: "mm", number: true, cell: (one) => (one.level ?? level).toFixed(2) },
        { head: "off", unit: "mm", number: true, cell: (one) => off(one.i)?.toFixed(2) ?? "" },
        {
          head: "mark",
          cell: (one) => (
            <button type="button" className="quiet" onClick={() => onRemove(one.key)}>
              take away<span className="unseen"> point {one.i + 1}</span>
            </button>
          ),
        },
      ]}
    />
  );
}
