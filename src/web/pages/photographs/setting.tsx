/** The photograph becomes a drawing board: marks on the body's edges, or the card; how well they fit one another. */
import { useRef, useState } from "react";
import { typedQuantity } from "../../../core/measure/typed/index.ts";
import {
  BODY_EDGES,
  type BodyEdge,
  bodyOf,
  type KnownPoint,
  knownPlaces,
  type PhotoMarks,
  type Point,
  placeView,
  UNKNOWN,
  type View,
} from "../../../core/photo/index.ts";
import type { Media } from "../../../core/record/index.ts";
import { valueIn } from "../../../core/units/index.ts";
import { Fault } from "../../face/fault.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { Table } from "../../face/table.tsx";
import { mediaAddress, useKeep } from "../../keep/index.ts";
import { Cell } from "../../written/cell.tsx";
import { Board, type BoardMark } from "./board.tsx";
import { MarkedPoints, useKnown, WhichPoint } from "./known-points.tsx";
import { useInTurn } from "./use-in-turn.ts";
import { usePicture } from "./use-picture.ts";
import { marksOf, type ViewOf } from "./use-view.ts";

export interface SettingProps {
  readonly media: Media;
  readonly marks: PhotoMarks;
  readonly seen: ViewOf;
}

/** How far beside its marks an edge is looked for, of the picture's longer side; some 1.2 mm. Setting of our own. */
const REACH = 0.006;

const mm = (text: string): number => {
  const { value, unit } = typedQuantity(text, { quantity: "length", unit: "mm" });
  return valueIn({ value, unit }, "mm");
};

export function Setting({ media, marks, seen }: SettingProps) {
  const { edit, kept, keeper } = useKeep();
  const { record } = kept.shown;
  const [what, setWhat] = useState<"edges" | "points">("edges");
  const [edge, setEdge] = useState<BodyEdge>("left");
  const [active, setActive] = useState<string | null>(null);
  const { looking, ask } = usePicture();
  const [told, setTold] = useState<string | null>(null);
  const body = marks.body ?? bodyOf(record);
  const inTurn = useInTurn();
  const flying = useRef<Partial<Record<BodyEdge, number>>>({});
  const marksNow = (): PhotoMarks => {
    const { record: newest } = keeper.kept().shown;
    return marksOf(newest, newest.media.find((one) => one.id === media.id) ?? media, marks.size);
  };
  /** Laid on the marks that stand when its turn has come. */
  const keep = (next: (now: PhotoMarks) => PhotoMarks, label: string) =>
    inTurn(() => {
      const changed = next(marksNow());
      const sized = body === undefined ? changed : { ...changed, body };
      return edit([placeView(keeper.kept().shown.record, media.id, sized)], label);
    });

  const edges = marks.edges ?? [];
  const points = marks.points ?? [];
  const places = knownPlaces(record, marks.seen);
  const known = useKnown(places, points);
  const shown: BoardMark[] = edges.flatMap(({ edge: of, at }) =>
    at.map((point, i) => ({ id: `${of} ${i}`, at: point, label: `${of} ${i + 1}` })),
  );
  const card: BoardMark[] = (marks.card?.points ?? []).map(({ at }, i) => ({
    id: `card ${i}`,
    at,
    label: "",
  }));
  const spots: BoardMark[] = points.map(({ at }, i) => ({ id: `point ${i}`, at, label: `p ${i + 1}` }));
  const numberOf = (id: string): number | null => (/^point \d+$/.test(id) ? Number(id.slice(6)) : null);
  const of = (which: BodyEdge, now = marks): readonly Point[] =>
    (now.edges ?? []).find((one) => one.edge === which)?.at ?? [];
  const withPoints =
    (change: (points: readonly KnownPoint[]) => readonly KnownPoint[]) =>
    (now: PhotoMarks): PhotoMarks => {
      const { points: before = [], ...rest } = now;
      const next = change(before);
      return next.length === 0 ? rest : { ...rest, points: next };
    };
  const withEdge =
    (which: BodyEdge, change: (at: readonly Point[]) => readonly Point[]) =>
    (now: PhotoMarks): PhotoMarks => {
      const at = change(of(which, now));
      const others = (now.edges ?? []).filter((one) => one.edge !== which);
      return { ...now, edges: [...others, ...(at.length === 0 ? [] : [{ edge: which, at }])] };
    };
  const split = (id: string): readonly [BodyEdge, number] | null => {
    const [which, number] = id.split(" ");
    return BODY_EDGES.includes(which as BodyEdge) ? [which as BodyEdge, Number(number)] : null;
  };

  const lookFor = async (name: string, look: () => Promise<string>) => {
    setTold(null);
    try {
      setTold(await look());
    } catch (error) {
      setTold(`${name} could not be looked for: ${error instanceof Error ? error.message : String(error)}.`);
    }
  };
  const findCard = () =>
    lookFor("The card", async () => {
      const found = await ask(media.file, "card", {});
      if (found === null)
        return "No card was found: the whole black frame has to be in the picture, sharp and in even light. Edges can be marked by hand.";
      await keep(
        (now) => ({ ...now, card: { level: now.card?.level ?? now.level, points: found.points } }),
        "scale card found",
      );
      return `The card: ${found.points.length} of 24 spots, ${found.rms.toFixed(2)} px about their places.`;
    });
  const pairs = edges.filter((one) => one.at.length > 1);
  const ontoEdges = () =>
    lookFor("The edges", async () => {
      const found = await ask(media.file, "edges", { edges: pairs, reach: REACH * Math.max(...marks.size) });
      const moved = pairs.flatMap((one, i) => (found[i] == null ? [] : [{ ...one, at: found[i].at }]));
      const not = pairs.filter((_, i) => found[i] == null).map((one) => one.edge);
      const others = (now: PhotoMarks) =>
        (now.edges ?? []).filter((one) => !moved.some((other) => other.edge === one.edge));
      if (moved.length > 0)
        await keep((now) => ({ ...now, edges: [...others(now), ...moved] }), "marks brought onto the edges");
      const said = moved.length === 0 ? "" : `On the edge now: ${moved.map((one) => one.edge).join(", ")}. `;
      return not.length === 0
        ? said.trim()
        : `${said}No straight edge near the marks: ${not.join(", ")}; they stay as they are.`;
    });

  return (
    <>
      <div className="row">
        <Segmented
          label="The photograph looks at"
          value={marks.seen}
          options={[
            { value: "back", label: "the back" },
            { value: "front", label: "the display" },
          ]}
          onChange={(next) => void keep((now) => ({ ...now, seen: next }), "side of the photograph")}
        />
        <button type="button" className="button" disabled={looking} onClick={() => void findCard()}>
          {looking ? "looking" : "find the scale card"}
        </button>
        {pairs.length === 0 ? null : (
          <button type="button" className="button" disabled={looking} onClick={() => void ontoEdges()}>
            bring marks onto the edges
          </button>
        )}
        {marks.card === undefined ? null : (
          <button
            type="button"
            className="button"
            onClick={() => {
              void keep(({ card: _, ...rest }) => rest, "card taken away");
            }}
          >
            leave the card out
          </button>
        )}
      </div>
      {marks.seen === "front" ? (
        <p className="soft">
          Seen from the display left and right change places: it is mirrored for you, edges keep the names they have
          from the back.
        </p>
      ) : null}
      {told === null ? null : <p role="status">{told}</p>}
      <div className="row">
        <Segmented
          label="What is marked"
          value={what}
          options={[
            { value: "edges", label: "edges of the body" },
            { value: "points", label: `points of known place ${points.length}` },
          ]}
          onChange={(next) => {
            setWhat(next);
            setActive(null);
          }}
        />
        {what === "points" ? null : (
          <Segmented
            label="Edge of the body, as seen from the back"
            value={edge}
            options={BODY_EDGES.map((value) => ({ value, label: `${value} ${of(value).length}` }))}
            onChange={(next) => {
              setEdge(next);
              setActive(null);
            }}
          />
        )}
      </div>
      {what === "edges" ? (
        <p className="soft">
          Two marks near the ends of each straight edge, corners left out.{" "}
          {edge === "left" && marks.seen === "front" ? "The left edge is on the right here. " : ""}
          Now: {edge} edge.
        </p>
      ) : (
        <WhichPoint known={known} level={marks.level} />
      )}
      <Board
        src={mediaAddress(media.file)}
        size={marks.size}
        name={`Photograph ${media.id}, ${what === "edges" ? "marks on the body's edges" : "points of known place"}`}
        marks={[...shown, ...spots, ...card]}
        lines={edges
          .filter(({ at }) => at.length > 1)
          .map(({ edge: which, at }) => ({ id: which, points: at, closed: false }))}
        active={active}
        nudge={0.05 * (seen.view?.pixels ?? 20)}
        onChoose={setActive}
        onAdd={(at) => {
          if (what === "points") {
            if (known.next === null) return setTold("Type how far to the right and up the point lies, then mark it.");
            setTold(null);
            const point = { at, ...known.next };
            let number = 0;
            void keep(
              withPoints((now) => {
                number = now.length;
                return [...now, point];
              }),
              `point of known place ${points.length + 1}`,
            ).then(() => setActive(`point ${number}`));
            return;
          }
          // Clicks may come faster than they are kept: those on their way count.
          const counted = (one: BodyEdge) => of(one).length + (flying.current[one] ?? 0);
          flying.current = { ...flying.current, [edge]: (flying.current[edge] ?? 0) + 1 };
          const open = BODY_EDGES.find((one) => one !== edge && counted(one) < 2);
          if (counted(edge) >= 2 && open !== undefined) setEdge(open);
          let number = 0;
          void keep(
            withEdge(edge, (now) => {
              number = now.length;
              return [...now, at];
            }),
            `mark on the ${edge} edge`,
          ).finally(() => {
            flying.current = { ...flying.current, [edge]: flying.current[edge]! - 1 };
            setActive(`${edge} ${number}`);
          });
        }}
        onMove={(id, at) => {
          const number = numberOf(id);
          if (number !== null)
            return keep(
              withPoints((now) => now.map((one, i) => (i === number ? { ...one, at } : one))),
              `point of known place ${number + 1} moved`,
            );
          const which = split(id);
          if (which === null) return;
          const [on, place] = which;
          return keep(
            withEdge(on, (now) => now.map((one, i) => (i === place ? at : one))),
            `mark on the ${on} edge moved`,
          );
        }}
        onRemove={removeMark}
      />
      {what === "points" ? (
        <MarkedPoints
          points={points}
          places={places}
          level={marks.level}
          view={seen.view}
          active={active}
          onChoose={setActive}
          onRemove={removeMark}
        />
      ) : null}
      <div className="board-fields">
        <span className="mm">
          body, width{" "}
          <Cell
            label="Width of the body in mm"
            value={body === undefined ? "" : String(round(body[1] - body[0]))}
            width="short"
            take={(text) => sized(text, 0)}
          />
        </span>
        <span className="mm">
          height{" "}
          <Cell
            label="Height of the body in mm"
            value={body === undefined ? "" : String(round(body[3] - body[2]))}
            width="short"
            take={(text) => sized(text, 1)}
          />
        </span>
        <span className="mm">
          marks lie below the back face by{" "}
          <Cell
            label="Level of the marks in mm"
            value={String(marks.level)}
            width="short"
            take={(text) => {
              const level = mm(text);
              return keep((now) => ({ ...now, level }), "level of the marks");
            }}
          />
        </span>
        {marks.card === undefined ? null : (
          <span className="mm">
            the card by{" "}
            <Cell
              label="Level of the card in mm"
              value={String(marks.card.level)}
              width="short"
              take={(text) => {
                const level = mm(text);
                return keep(
                  (now) => (now.card === undefined ? now : { ...now, card: { ...now.card, level } }),
                  "level of the card",
                );
              }}
            />
          </span>
        )}
        <span className="mm">
          focal length of the camera, as of 35 mm film{" "}
          <Cell
            label="Focal length in mm, as of 35 mm film"
            value={marks.focal === undefined ? "" : String(marks.focal)}
            placeholder="not told"
            width="short"
            take={(text) => {
              const focal = text.trim() === "" ? {} : { focal: mm(text) };
              return keep(({ focal: _, ...rest }) => ({ ...rest, ...focal }), "focal length");
            }}
          />
        </span>
      </div>
      {seen.fault === null ? null : <Fault title="No drawing board yet" faults={[seen.fault]} />}
      {seen.view === null ? null : <HowWell view={seen.view} told={marks.focal !== undefined} />}
    </>
  );

  function removeMark(id: string) {
    setActive(null);
    const number = numberOf(id);
    if (number !== null)
      void keep(
        withPoints((now) => now.toSpliced(number, 1)),
        `point of known place ${number + 1} taken away`,
      );
    const which = split(id);
    if (which !== null)
      void keep(
        withEdge(which[0], (now) => now.toSpliced(which[1], 1)),
        `mark on the ${which[0]} edge taken away`,
      );
  }

  function sized(text: string, axis: 0 | 1) {
    const length = mm(text);
    const now = body ?? [0, 0, 0, 0];
    const middle = [(now[0] + now[1]) / 2, (now[2] + now[3]) / 2] as const;
    const next: [number, number, number, number] = [...now] as [number, number, number, number];
    // Without a drawing the lower left corner is the origin; with one its middle stays.
    const from = now[2 * axis] === now[2 * axis + 1] ? 0 : middle[axis] - length / 2;
    next[2 * axis] = from;
    next[2 * axis + 1] = from + length;
    return inTurn(() =>
      edit([placeView(keeper.kept().shown.record, media.id, { ...marksNow(), body: next })], "size of the body"),
    );
  }
}

const round = (value: number): number => Math.round(value * 100) / 100;

function HowWell({ view, told }: { readonly view: View; readonly told: boolean }) {
  const worst = [...view.residuals].sort((a, b) => b.mm - a.mm).slice(0, 8);
  return (
    <>
      <Figures>
        <Figure
          large
          value={`${view.rms.toFixed(1)} px`}
          note="the marks about the view, root mean square"
          source={
            <Table
              caption="Marks that are farthest off"
              rows={worst.map((one, i) => ({ ...one, key: String(i) }))}
              rowKey={(one) => one.key}
              columns={[
                { head: "mark", cell: (one) => one.of },
                { head: "off", unit: "px", number: true, cell: (one) => Math.hypot(...one.off).toFixed(1) },
                { head: "on the device", unit: "mm", number: true, cell: (one) => one.mm.toFixed(2) },
              ]}
            />
          }
        />
        <Figure value={`${view.pixels.toFixed(1)} px a mm`} note="in the middle" />
        <Figure value={`${view.tilt.toFixed(0)}°`} note="from upright" />
        <Figure
          value={`${view.height.toFixed(0)} ± ${(2 * view.heightU).toFixed(0)} mm`}
          note="camera above the marks"
          source={
            <p>
              It decides how far what lies deeper is displaced. Focal length{" "}
              {told
                ? "as the camera told it"
                : `not told: ${UNKNOWN.focal} mm taken, to within ${100 * UNKNOWN.focalU} %`}
              .
            </p>
          }
        />
      </Figures>
      {view.warnings.map((warning) => (
        <p key={warning} className="question">
          {warning}
        </p>
      ))}
    </>
  );
}
