/**
 * A photograph to set marks on: by pointer, or by arrow keys with a loupe beside it. Marks are hairline crosses with a
 * leader to their number; nothing else is drawn over the picture.
 */
import { type KeyboardEvent, type PointerEvent, useRef, useState } from "react";
import type { Point } from "../../../core/photo/index.ts";
import { useWidth } from "../../face/picture.tsx";
import { Segmented } from "../../face/segmented.tsx";

export interface BoardMark {
  readonly id: string;
  readonly at: Point;
  readonly label: string;
}

export interface BoardLine {
  readonly id: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

export interface BoardProps {
  readonly src: string;
  readonly size: Point;
  /** What the picture shows, for who does not see it. */
  readonly name: string;
  readonly marks: readonly BoardMark[];
  readonly lines?: readonly BoardLine[];
  readonly active: string | null;
  /** Pixels of one press of an arrow key; with the shift key ten times as many. */
  readonly nudge: number;
  readonly onChoose: (id: string | null) => void;
  readonly onAdd: (at: Point) => void;
  /** What it answers is waited for: until then the mark is shown where it was moved to. */
  readonly onMove: (id: string, at: Point) => Promise<unknown> | unknown;
  readonly onRemove: (id: string) => void;
}

const STEPS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
/** How near to a mark a press takes hold of it, in px on the screen. */
const REACH = 16;

export function Board(props: BoardProps) {
  const { src, size, name, marks, lines = [], active, nudge, onChoose, onAdd, onMove, onRemove } = props;
  const [attach, width] = useWidth();
  const [zoom, setZoom] = useState<"1" | "2" | "4">("1");
  const svg = useRef<SVGSVGElement>(null);
  const [cursor, setCursor] = useState<Point>([size[0] / 2, size[1] / 2]);
  const [focused, setFocused] = useState(false);
  const held = useRef<string | null>(null);
  /** Where a mark is while it is dragged, and until what was done with it has been taken. */
  const [dragged, setDragged] = useState<BoardMark | null>(null);
  const moving = useRef(0);
  const moved = async (id: string, at: Point) => {
    const mark = marks.find((one) => one.id === id);
    if (mark === undefined) return;
    setDragged({ ...mark, at });
    moving.current += 1;
    // The next press of a key goes on from here, though the record may be a moment behind.
    await onMove(id, at);
    moving.current -= 1;
    if (moving.current === 0) setDragged(null);
  };
  // Picture pixels for one px on the screen.
  const unit = width < 40 ? 1 : size[0] / (width * Number(zoom));
  const shown = marks.map((mark) => (dragged?.id === mark.id ? dragged : mark));
  const chosen = shown.find((mark) => mark.id === active);
  const focus = chosen?.at ?? cursor;

  const place = (event: PointerEvent): Point => {
    const box = svg.current!.getBoundingClientRect();
    return [((event.clientX - box.left) / box.width) * size[0], ((event.clientY - box.top) / box.height) * size[1]];
  };
  const press = (event: PointerEvent<SVGSVGElement>) => {
    if (event.button !== 0) return;
    const at = place(event);
    const near = [...marks].sort((a, b) => apart(a.at, at) - apart(b.at, at))[0];
    setCursor(at);
    if (near !== undefined && apart(near.at, at) < REACH * unit) {
      held.current = near.id;
      onChoose(near.id);
      svg.current!.setPointerCapture(event.pointerId);
    } else held.current = null;
  };
  const move = (event: PointerEvent<SVGSVGElement>) => {
    const at = place(event);
    const mark = marks.find((one) => one.id === held.current);
    if (mark !== undefined) setDragged({ ...mark, at });
    else if (active === null) setCursor(at);
  };
  const release = (event: PointerEvent<SVGSVGElement>) => {
    if (event.button !== 0) return;
    if (held.current === null) onAdd(place(event));
    else if (dragged !== null) void moved(dragged.id, dragged.at);
    held.current = null;
  };
  const key = (event: KeyboardEvent) => {
    const step = STEPS[event.key];
    if (step !== undefined) {
      event.preventDefault();
      // A mark by what it is worth on the device, the free cursor by what is seen.
      const by = (chosen === undefined ? 12 * unit : nudge) * (event.shiftKey ? 10 : 1);
      const to: Point = [focus[0] + by * step[0], focus[1] + by * step[1]];
      if (chosen !== undefined) void moved(chosen.id, to);
      else setCursor([clamp(to[0], size[0]), clamp(to[1], size[1])]);
    } else if (event.key === "Enter") {
      event.preventDefault();
      if (chosen === undefined) onAdd(cursor);
      else {
        setCursor(chosen.at);
        onChoose(null);
      }
    } else if (event.key === "Escape") onChoose(null);
    else if ((event.key === "Delete" || event.key === "Backspace") && chosen !== undefined) {
      event.preventDefault();
      onRemove(chosen.id);
    }
  };

  return (
    <div className="board">
      <div className="board-tools">
        <Segmented
          label="How near"
          value={zoom}
          options={[
            { value: "1", label: "whole" },
            { value: "2", label: "2 times" },
            { value: "4", label: "4 times" },
          ]}
          onChange={setZoom}
        />
      </div>
      <div className="board-room" ref={attach}>
        <svg
          ref={svg}
          className="board-picture"
          style={{ width: `${100 * Number(zoom)}%` }}
          viewBox={`0 0 ${size[0]} ${size[1]}`}
          // biome-ignore lint/a11y/noNoninteractiveTabindex: marks are set with the arrow keys
          tabIndex={0}
          role="application"
          aria-label={`${name}: arrow keys move the cross, Enter sets or leaves a mark, Delete takes it away`}
          onPointerDown={press}
          onPointerMove={move}
          onPointerUp={release}
          onKeyDown={key}
          onFocus={() => setFocused(true)}
          onBlur={() => setFocused(false)}
        >
          <image href={src} width={size[0]} height={size[1]} preserveAspectRatio="none" />
          <Drawn lines={lines} marks={shown} active={active} unit={unit} />
          {focused && chosen === undefined ? <Cross at={cursor} arm={14 * unit} kind="free" /> : null}
        </svg>
      </div>
      <Loupe src={src} size={size} at={focus} lines={lines} marks={shown} active={active} />
    </div>
  );
}

const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const clamp = (value: number, most: number): number => Math.max(0, Math.min(most, value));

interface DrawnProps {
  readonly lines: readonly BoardLine[];
  readonly marks: readonly BoardMark[];
  readonly active: string | null;
  readonly unit: number;
}

function Drawn({ lines, marks, active, unit }: DrawnProps) {
  return (
    <>
      {lines.map((line) => {
        const d = `M${line.points.map(([x, y]) => `${x} ${y}`).join("L")}${line.closed ? "Z" : ""}`;
        return (
          <g key={line.id}>
            <path d={d} className="board-halo" />
            <path d={d} className="board-line" />
          </g>
        );
      })}
      {marks.map(({ id, at, label }) => (
        <g key={id} className={id === active ? "board-mark chosen" : "board-mark"}>
          <Cross at={at} arm={9 * unit} kind="mark" />
          {label === "" ? null : <Leader from={at} unit={unit} label={label} />}
        </g>
      ))}
    </>
  );
}

function Cross({
  at: [x, y],
  arm,
  kind,
}: {
  readonly at: Point;
  readonly arm: number;
  readonly kind: "mark" | "free";
}) {
  const d = `M${x - arm} ${y}H${x + arm}M${x} ${y - arm}V${y + arm}`;
  return (
    <>
      <path d={d} className="board-halo" />
      <path d={d} className={kind === "free" ? "board-line free" : "board-line"} />
    </>
  );
}

function Leader({
  from: [x, y],
  unit,
  label,
}: {
  readonly from: Point;
  readonly unit: number;
  readonly label: string;
}) {
  const d = `M${x + 4 * unit} ${y - 4 * unit}L${x + 17 * unit} ${y - 17 * unit}`;
  return (
    <>
      <path d={d} className="board-halo" />
      <path d={d} className="board-line" />
      <text x={x + 19 * unit} y={y - 17 * unit} fontSize={14 * unit} className="board-label">
        {label}
      </text>
    </>
  );
}

/** The place of the cross, as large as it takes to see single pixels. */
function Loupe({ src, size, at, ...drawn }: Omit<DrawnProps, "unit"> & { src: string; size: Point; at: Point }) {
  const half = Math.max(20, Math.max(...size) / 90);
  return (
    <figure className="loupe">
      <svg
        viewBox={`${at[0] - half} ${at[1] - half} ${2 * half} ${2 * half}`}
        role="img"
        aria-label="Loupe at the cross"
      >
        <image href={src} width={size[0]} height={size[1]} preserveAspectRatio="none" />
        <Drawn {...drawn} unit={(2 * half) / 200} />
        <path
          d={`M${at[0] - half} ${at[1]}h${2 * half}M${at[0]} ${at[1] - half}v${2 * half}`}
          className="loupe-cross"
        />
      </svg>
      <figcaption className="soft">
        {Math.round(at[0])}, {Math.round(at[1])} px
      </figcaption>
    </figure>
  );
}
