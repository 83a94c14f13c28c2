/** A scene as React elements: the same tags and attributes as `svg.ts` writes. */
import { createElement, memo, type ReactNode, type SVGAttributes } from "react";
import type { Hatch, Reference, Scene, Shape } from "../figures/scene.ts";
import { HATCH_TILES, hatchesIn, hatchId, number, tagOf } from "./markup.ts";

const REACT_NAMES: Readonly<Record<string, string>> = {
  class: "className",
  "font-size": "fontSize",
  "text-anchor": "textAnchor",
  "fill-rule": "fillRule",
};

/** More attributes for a group that stands for something: its role, state and handlers. */
export type Decorate = (of: Reference, label: string | undefined) => SVGAttributes<SVGGElement> | undefined;

export interface SceneViewProps {
  readonly scene: Scene;
  /** Prefix of the ids in this SVG: different for every picture on a page. */
  readonly id: string;
  readonly decorate?: Decorate;
  /** How the whole is announced; left out: an image with the scene's title. */
  readonly svg?: SVGAttributes<SVGSVGElement>;
}

function element(shape: Shape, key: number, id: string, decorate: Decorate | undefined): ReactNode {
  const tag = tagOf(shape, id);
  const props: Record<string, unknown> = { key };
  for (const [name, value] of tag.attributes) props[REACT_NAMES[name] ?? name] = value;
  if (tag.of && decorate) Object.assign(props, decorate(tag.of, tag.label));
  if (tag.text !== undefined) return createElement(tag.name, props, tag.text);
  return createElement(tag.name, props, ...(tag.children ?? []).map((child, i) => element(child, i, id, decorate)));
}

function hatchElement(hatch: Hatch, id: string): ReactNode {
  const tile = HATCH_TILES.find((one) => one.hatch === hatch)!;
  return (
    <pattern
      key={hatch}
      id={hatchId(id, hatch)}
      width={tile.width}
      height={tile.height}
      patternUnits="userSpaceOnUse"
      {...(tile.turn === undefined ? {} : { patternTransform: `rotate(${tile.turn})` })}
    >
      <rect className={`f-${tile.ground}`} width={tile.width} height={tile.height} />
      <path className={`s-${tile.stroke} w-hair tile-${tile.stroke}`} fill="none" d={tile.strokes} />
    </pattern>
  );
}

export const SceneView = memo(function SceneView({ scene, id, decorate, svg }: SceneViewProps) {
  const hatches = hatchesIn(scene.shapes);
  return (
    <svg
      className="drawing"
      viewBox={`0 0 ${number(scene.width)} ${number(scene.height)}`}
      role="img"
      aria-label={scene.title}
      {...svg}
    >
      {hatches.length > 0 ? <defs>{hatches.map((hatch) => hatchElement(hatch, id))}</defs> : null}
      {scene.shapes.map((shape, i) => element(shape, i, id, decorate))}
    </svg>
  );
});
