/** The drawing that is the menu: click, or arrow keys, choose a part; the grip on the section sets the depth. */
import { type KeyboardEvent, type MouseEvent, useCallback, useMemo, useState } from "react";
import { type Decorate, SceneView } from "../../draw/scene-view.tsx";
import { type DeviceDrawing, drawDevice, type PlacedDevice } from "../../figures/index.ts";
import { type Bench, useBench } from "../bench/bench.tsx";
import { usePictureId, useWidth } from "../face/picture.tsx";
import { Segmented } from "../face/segmented.tsx";
import { DepthList } from "./depth-list.tsx";
import { type Arrow, neighbour, nextDepth } from "./neighbour.ts";

const NO_PARTS: ReadonlySet<string> = new Set();

export function DrawingPanel() {
  const bench = useBench();
  const [view, setView] = useState<"drawing" | "list">("drawing");
  const { device, seen, look } = bench;
  return (
    <div className="panel">
      <div className="panel-tools">
        <Segmented
          label="Show"
          value={view}
          options={[
            { value: "drawing", label: "drawing" },
            { value: "list", label: "by depth" },
          ]}
          onChange={setView}
        />
        <Segmented
          label="Seen from"
          value={seen}
          options={[
            { value: "back", label: "from the back" },
            { value: "front", label: "from the display" },
          ]}
          onChange={look}
        />
      </div>
      {view === "list" || device === null ? null : <Drawing bench={bench} device={device} />}
      {device === null ? (
        <p className="soft">
          No part has both an outline and a level yet, so there is no drawing. Choose from the list.
        </p>
      ) : null}
      {view === "list" || device === null ? <DepthList /> : null}
    </div>
  );
}

function useDrawn(bench: Bench, device: PlacedDevice, width: number): DeviceDrawing | null {
  const { record, part, seen, depth, walk, away, released, way, wayJoints } = bench;
  const stepping = walk?.step != null;
  return useMemo(() => {
    if (width < 120) return null;
    const room = Math.max(300, Math.min(640, window.innerHeight - (window.innerWidth < 900 ? 430 : 190)));
    const closed = seen === "back" ? device.depth[0] : device.depth[1];
    return drawDevice(
      device,
      {
        seen,
        depth: stepping ? closed : depth,
        away: stepping ? away : NO_PARTS,
        released,
        chosen: new Set(part === null ? [] : [part.id]),
        way,
        wayJoints,
        width,
        height: room,
      },
      record.device.name,
    );
  }, [record, device, part, seen, depth, stepping, away, released, way, wayJoints, width]);
}

function Drawing({ bench, device }: { readonly bench: Bench; readonly device: PlacedDevice }) {
  const { part, choose, seen, depth, setDepth, walk } = bench;
  const [attach, width] = useWidth();
  const drawn = useDrawn(bench, device, width);
  const id = usePictureId();
  const optionId = useCallback((one: string) => `${id}-${encodeURIComponent(one)}`, [id]);
  const chosen = part?.id;
  const decorate = useCallback<Decorate>(
    (of, label) =>
      of.part !== undefined && label !== undefined
        ? {
            role: "option",
            id: optionId(of.part),
            "aria-selected": of.part === chosen,
            "aria-label": label,
            className: "pick",
          }
        : { className: "pick" },
    [optionId, chosen],
  );

  const click = (event: MouseEvent<HTMLElement>) => {
    const hit = (event.target as Element).closest<SVGGElement>("[data-part],[data-joint]");
    if (hit?.dataset.part !== undefined) choose(hit.dataset.part === chosen ? null : hit.dataset.part);
    else if (hit?.dataset.joint !== undefined) {
      const joint = bench.record.joints.find((one) => one.id === hit.dataset.joint);
      const held = joint?.holds.find((one) => !bench.record.parts.find((other) => other.id === one)?.base);
      if (held !== undefined) choose(held);
    }
  };
  const key = (event: KeyboardEvent<SVGSVGElement>) => {
    if (drawn === null || event.ctrlKey || event.metaKey || event.altKey) return;
    const levels = device.parts.flatMap((one) => one.level);
    const opening = seen === "back" ? 1 : -1;
    switch (event.key) {
      case "ArrowUp":
      case "ArrowDown":
      case "ArrowLeft":
      case "ArrowRight": {
        const next = neighbour(drawn.choices, chosen ?? null, event.key as Arrow);
        if (next !== null) choose(next);
        break;
      }
      case "Home":
      case "End": {
        const next = drawn.choices.at(event.key === "Home" ? 0 : -1);
        if (next) choose(next.part);
        break;
      }
      case "PageDown":
        setDepth(nextDepth(levels, depth, opening));
        break;
      case "PageUp":
        setDepth(nextDepth(levels, depth, -opening as 1 | -1));
        break;
      case "Escape":
        choose(null);
        break;
      default:
        return;
    }
    event.preventDefault();
  };

  const isBare = drawn?.choices.some((choice) => choice.part === chosen) ?? false;
  const closed = seen === "back" ? device.depth[0] : device.depth[1];
  return (
    <div className="sheet" ref={attach}>
      {drawn === null ? null : (
        // biome-ignore lint/a11y/useKeyWithClickEvents: the keys are those of the listbox inside
        // biome-ignore lint/a11y/noStaticElementInteractions: one handler for all the parts in the picture
        <div className="sheet-inner" onClick={click}>
          <SceneView
            scene={drawn.scene}
            id={id}
            decorate={decorate}
            svg={{
              role: "listbox",
              tabIndex: 0,
              "aria-label": `${drawn.scene.title}. Arrow keys choose a part, page keys open and close.`,
              "aria-activedescendant": isBare && chosen !== undefined ? optionId(chosen) : undefined,
              onKeyDown: key,
            }}
          />
          {walk?.step != null ? null : <DepthGrip drawn={drawn} device={device} depth={depth} onChange={setDepth} />}
        </div>
      )}
      <p className="sheet-note soft">
        {walk?.step != null ? (
          `After ${walk.step} of ${walk.way.operations.length} operations of the way in.`
        ) : depth === closed ? (
          "Closed. Move the red grip to open it."
        ) : (
          <button type="button" className="quiet" onClick={() => setDepth(closed)}>
            close the device
          </button>
        )}
        {drawn !== null && drawn.unnamed.length > 0
          ? ` ${drawn.unnamed.length} names found no room: see by depth.`
          : ""}
      </p>
    </div>
  );
}

const THUMB = 24;

/** A slider laid over the grip of the section: native, so that keys, touch and screen readers work. */
function DepthGrip(props: {
  readonly drawn: DeviceDrawing;
  readonly device: PlacedDevice;
  readonly depth: number;
  readonly onChange: (depth: number) => void;
}) {
  const { drawn, device, depth, onChange } = props;
  const { section, beside } = drawn.layout;
  const [least, most] = device.depth;
  const style = beside
    ? { left: section.x - THUMB / 2, top: section.y - 42, width: section.width + THUMB, height: 42 }
    : { left: section.x - 44, top: section.y - THUMB / 2, height: section.height + THUMB, width: 42 };
  return (
    <input
      className={beside ? "grip" : "grip upright"}
      type="range"
      aria-label="Depth to which the device is opened"
      aria-valuetext={`${depth.toFixed(1)} mm below the back face`}
      min={least}
      max={most}
      step="any"
      value={depth}
      style={style}
      onChange={(event) => onChange(Math.round(event.target.valueAsNumber * 20) / 20)}
      onKeyDown={(event) => {
        const by = { ArrowRight: 0.1, ArrowDown: 0.1, ArrowLeft: -0.1, ArrowUp: -0.1 }[event.key];
        if (by === undefined) return;
        event.preventDefault();
        onChange(Math.min(most, Math.max(least, Math.round((depth + by) * 10) / 10)));
      }}
    />
  );
}
