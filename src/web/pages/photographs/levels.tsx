/** From where to where a part reaches: dragged on a section of the device along its long axis. */
import { useState } from "react";
import type { Part, TeardownRecord } from "../../../core/record/index.ts";

export interface LevelsProps {
  readonly record: TeardownRecord;
  readonly part: Part;
  readonly keep: (from: number, to: number) => void;
}

/** Thickness is drawn so much larger than length. */
const STRETCH = 4;
const STEP = 0.01;

export function Levels({ record, part, keep }: LevelsProps) {
  const [held, setHeld] = useState<readonly [number, number] | null>(null);
  const placed = record.parts.flatMap((one) => {
    const ys = one.outline?.[0]?.map((point) => point[1]);
    return one.level === undefined || ys === undefined
      ? []
      : [{ id: one.id, level: one.level, y: [Math.min(...ys), Math.max(...ys)] }];
  });
  const levels = placed.flatMap((one) => one.level);
  if (part.level === undefined || levels.length < 4) return null;
  const [least, most] = [Math.floor(Math.min(...levels)) - 1, Math.ceil(Math.max(...levels)) + 1];
  const [left, right] = [Math.min(...placed.map((one) => one.y[0]!)), Math.max(...placed.map((one) => one.y[1]!))];
  const now = held ?? part.level;
  const own = placed.find((one) => one.id === part.id);
  const bar = (y: readonly number[], [from, to]: readonly [number, number]) => ({
    x: y[0]!,
    width: y[1]! - y[0]!,
    y: STRETCH * from,
    height: STRETCH * (to - from),
  });
  const slide = (end: 0 | 1, text: string) => {
    const value = Math.round(Number(text) / STEP) * STEP;
    setHeld(end === 0 ? [Math.min(value, now[1] - STEP), now[1]] : [now[0], Math.max(value, now[0] + STEP)]);
  };
  // Kept when it is let go, so that a drag is one thing done.
  const done = () => {
    if (held === null) return;
    keep(held[0], held[1]);
    setHeld(null);
  };
  return (
    <figure className="levels">
      <svg
        viewBox={`${left - 1} ${STRETCH * least} ${right - left + 2} ${STRETCH * (most - least)}`}
        role="img"
        aria-label={`Section: ${part.name} from ${now[0].toFixed(2)} to ${now[1].toFixed(2)} mm below the back face`}
      >
        {placed.map((one) =>
          one.id === part.id ? null : <rect key={one.id} {...bar(one.y, one.level)} className="levels-other" />,
        )}
        {own === undefined ? null : <rect {...bar(own.y, now)} className="levels-own" />}
      </svg>
      <figcaption className="soft">
        Section, back face above, thickness drawn {STRETCH} times. {part.name}: {now[0].toFixed(2)} to{" "}
        {now[1].toFixed(2)} mm.
      </figcaption>
      {([0, 1] as const).map((end) => (
        <label key={end}>
          {end === 0 ? "from" : "to"}
          <input
            type="range"
            min={least}
            max={most}
            step={STEP}
            value={now[end]}
            aria-valuetext={`${now[end].toFixed(2)} mm`}
            onChange={(event) => slide(end, event.target.value)}
            onPointerUp={done}
            onKeyUp={done}
            onBlur={done}
          />
        </label>
      ))}
    </figure>
  );
}
