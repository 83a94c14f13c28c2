/** A scene as SVG text. With `standalone` it carries its own style sheet and can be opened as a file. */
import type { Hatch, Scene, Shape } from "../figures/scene.ts";
import { drawingCss, tokensCss } from "./drawing-style.ts";
import { HATCH_TILES, hatchesIn, hatchId, number, tagOf } from "./markup.ts";

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#x27;",
};

// Control characters may not stand in XML at all.
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is to be found
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g;

/** Text that is safe between tags and in quoted attributes. */
export function escapeMarkup(words: string): string {
  return words.replace(FORBIDDEN, "\ufffd").replace(/[&<>"']/g, (sign) => ENTITIES[sign]!);
}

const attribute = ([name, value]: readonly [string, string]): string => ` ${name}="${escapeMarkup(value)}"`;

function shapeMarkup(shape: Shape, id: string): string {
  const tag = tagOf(shape, id);
  const open = `<${tag.name}${tag.attributes.map(attribute).join("")}>`;
  const inner =
    tag.text === undefined
      ? (tag.children ?? []).map((child) => shapeMarkup(child, id)).join("")
      : escapeMarkup(tag.text);
  return `${open}${inner}</${tag.name}>`;
}

function hatchMarkup(hatch: Hatch, id: string): string {
  const tile = HATCH_TILES.find((one) => one.hatch === hatch)!;
  const turn = tile.turn === undefined ? "" : ` patternTransform="rotate(${tile.turn})"`;
  return (
    `<pattern id="${escapeMarkup(hatchId(id, hatch))}" width="${tile.width}" height="${tile.height}" patternUnits="userSpaceOnUse"${turn}>` +
    `<rect class="f-${tile.ground}" width="${tile.width}" height="${tile.height}"></rect>` +
    `<path class="s-${tile.stroke} w-hair tile-${tile.stroke}" fill="none" d="${tile.strokes}"></path></pattern>`
  );
}

export interface SvgOptions {
  /** Prefix of the ids in this SVG: different for every picture on a page. */
  readonly id: string;
  readonly standalone?: boolean;
}

export function svgText(scene: Scene, { id, standalone = false }: SvgOptions): string {
  const hatches = hatchesIn(scene.shapes);
  const [width, height] = [number(scene.width), number(scene.height)];
  const head = standalone ? ` xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"` : "";
  const style = standalone ? `<style>${tokensCss()}\n${drawingCss()}\nsvg{background:var(--paper)}</style>` : "";
  const defs = hatches.length === 0 ? "" : `<defs>${hatches.map((hatch) => hatchMarkup(hatch, id)).join("")}</defs>`;
  return (
    `<svg${head} class="drawing" viewBox="0 0 ${width} ${height}" role="img" aria-label="${escapeMarkup(scene.title)}">` +
    `${style}${defs}${scene.shapes.map((shape) => shapeMarkup(shape, id)).join("")}</svg>`
  );
}
