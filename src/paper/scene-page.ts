/** A scene on paper: the same shapes as on screen, as items of a page in mm. Hatching becomes strokes cut to their outline. */
import { HATCHES, type Hatch, type Look, type Scene, type Shape } from "../figures/scene.ts";
import type { PageFill, PageItem, Stroke } from "./page.ts";

/** px, as on screen. */
const WEIGHTS = { hair: 0.9, thin: 1.1, line: 1.5, bold: 2.3 } as const;
const DASHES = { way: [5, 3], away: [1.5, 3], chain: [9, 2.5], dot: [2, 3] } as const;
/** No line is thinner on paper, mm: a hairline has to survive a copier. */
const THINNEST = 0.09;

type Rings = readonly (readonly (readonly [number, number])[])[];

export function sceneItems(scene: Scene, x: number, y: number, scale: number): PageItem[] {
  const at = (px: number, py: number): [number, number] => [x + px * scale, y + py * scale];
  return scene.shapes.flatMap((shape) => itemsOf(shape, at, scale));
}

function itemsOf(shape: Shape, at: (x: number, y: number) => [number, number], scale: number): PageItem[] {
  switch (shape.kind) {
    case "group":
      return shape.children.flatMap((child) => itemsOf(child, at, scale));
    case "line": {
      const stroke = strokeOf(shape.look, scale);
      if (!stroke) return [];
      const [x1, y1] = at(shape.x1, shape.y1);
      const [x2, y2] = at(shape.x2, shape.y2);
      return [{ kind: "line", x1, y1, x2, y2, stroke }];
    }
    case "rect": {
      const { x, y, width, height } = shape;
      return filled([[at(x, y), at(x + width, y), at(x + width, y + height), at(x, y + height)]], shape.look, scale);
    }
    case "polygon":
      return filled(
        shape.rings.map((ring) => ring.map(([x, y]) => at(x, y))),
        shape.look,
        scale,
      );
    case "circle": {
      const [cx, cy] = at(shape.cx, shape.cy);
      const stroke = strokeOf(shape.look, scale);
      const fill = fillOf(shape.look);
      return [
        {
          kind: "circle",
          cx,
          cy,
          r: shape.r * scale,
          ...(fill === undefined ? {} : { fill }),
          ...(stroke ? { stroke } : {}),
        },
      ];
    }
    case "path":
      return pathItems(shape, at, scale);
    case "text": {
      const [x, y] = at(shape.x, shape.y);
      return [
        {
          kind: "text",
          x,
          y,
          text: shape.text,
          size: ((shape.size ?? 12) * scale * 72) / 25.4,
          ...(shape.bold ? { bold: true as const } : {}),
          ...(shape.tone === undefined ? {} : { tone: shape.tone }),
          ...(shape.anchor === undefined ? {} : { anchor: shape.anchor }),
          ...(shape.rotate === undefined ? {} : { rotate: shape.rotate }),
          ...(shape.halo ? { halo: true as const } : {}),
        },
      ];
    }
  }
}

const isHatch = (fill: string): fill is Hatch => (HATCHES as readonly string[]).includes(fill);

function fillOf(look: Look): PageFill | undefined {
  if (look.fill === undefined) return undefined;
  if (isHatch(look.fill)) return look.fill === "cell" ? "wash" : "sheet";
  return look.fill;
}

function strokeOf(look: Look, scale: number): Stroke | undefined {
  if (look.stroke === undefined) return undefined;
  const dash = look.dash === undefined ? undefined : DASHES[look.dash].map((one) => Math.max(0.25, one * scale));
  return {
    tone: look.faint ? "hair" : look.stroke,
    width: Math.max(THINNEST, WEIGHTS[look.weight ?? "hair"] * scale),
    ...(dash === undefined ? {} : { dash }),
  };
}

function filled(rings: Rings, look: Look, scale: number): PageItem[] {
  const stroke = strokeOf(look, scale);
  const fill = fillOf(look);
  const hatch = look.fill !== undefined && isHatch(look.fill) ? hatching(rings, look.fill) : [];
  return [
    {
      kind: "rings",
      rings,
      ...(fill === undefined ? {} : { fill }),
      ...(stroke && hatch.length === 0 ? { stroke } : {}),
    },
    ...hatch,
    ...(stroke && hatch.length > 0 ? [{ kind: "rings" as const, rings, stroke }] : []),
  ];
}

/** mm between strokes and the angle of each family of strokes, degrees. */
const FAMILIES: Readonly<
  Record<Hatch, { readonly gap: number; readonly angles: readonly number[]; readonly dash?: readonly [number, number] }>
> = {
  metal: { gap: 1.3, angles: [-45] },
  glass: { gap: 2.2, angles: [-53], dash: [1, 1.6] },
  cell: { gap: 1.9, angles: [0] },
  board: { gap: 1.7, angles: [45, -45] },
  polymer: { gap: 1.5, angles: [45], dash: [0.8, 0.8] },
  coil: { gap: 1.7, angles: [0], dash: [0.9, 0.8] },
};

/** Strokes across the inside of rings, cut at their edges by the even-odd rule: exact, and readable by any viewer. */
function hatching(rings: Rings, hatch: Hatch): PageItem[] {
  const { gap, angles, dash } = FAMILIES[hatch];
  const stroke: Stroke = {
    tone: hatch === "cell" ? "accent" : "hair",
    width: THINNEST,
    ...(dash === undefined ? {} : { dash }),
  };
  return angles.flatMap((angle) => {
    const [c, s] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
    const turned = rings.map((ring) => ring.map(([x, y]): [number, number] => [x * c + y * s, y * c - x * s]));
    const ys = turned.flatMap((ring) => ring.map(([, y]) => y));
    const items: PageItem[] = [];
    // Strokes lie on one grid for the whole page, so that neighbours line up.
    for (let n = Math.ceil(Math.min(...ys) / gap); n * gap < Math.max(...ys); n += 1) {
      const y = n * gap + 1e-7;
      const crossings = turned
        .flatMap((ring) => ring.flatMap(([x1, y1], i) => crossing(x1, y1, ring[(i + 1) % ring.length]!, y)))
        .sort((a, b) => a - b);
      for (let i = 0; i + 1 < crossings.length; i += 2) {
        const [from, to] = [crossings[i]!, crossings[i + 1]!];
        if (to - from < 0.1) continue;
        items.push({
          kind: "line",
          x1: from * c - y * s,
          y1: y * c + from * s,
          x2: to * c - y * s,
          y2: y * c + to * s,
          stroke,
        });
      }
    }
    return items;
  });
}

function crossing(x1: number, y1: number, [x2, y2]: readonly [number, number], y: number): number[] {
  if (y1 > y === y2 > y) return [];
  return [x1 + ((y - y1) / (y2 - y1)) * (x2 - x1)];
}

/** Paths are polylines and curves; curves are cut into short lines. */
function pathItems(
  shape: Extract<Shape, { kind: "path" }>,
  at: (x: number, y: number) => [number, number],
  scale: number,
): PageItem[] {
  const runs: { points: [number, number][]; closed: boolean }[] = [];
  let here: [number, number] = [0, 0];
  for (const command of shape.commands) {
    if (command[0] === "M") {
      here = [command[1], command[2]];
      runs.push({ points: [at(...here)], closed: false });
    } else if (command[0] === "L") {
      here = [command[1], command[2]];
      runs.at(-1)?.points.push(at(...here));
    } else if (command[0] === "C") {
      const [, ax, ay, bx, by, x, y] = command;
      for (let i = 1; i <= 12; i += 1) {
        const t = i / 12;
        const u = 1 - t;
        const px = u ** 3 * here[0] + 3 * u * u * t * ax + 3 * u * t * t * bx + t ** 3 * x;
        const py = u ** 3 * here[1] + 3 * u * u * t * ay + 3 * u * t * t * by + t ** 3 * y;
        runs.at(-1)?.points.push(at(px, py));
      }
      here = [x, y];
    } else if (runs.length > 0) runs.at(-1)!.closed = true;
  }
  const stroke = strokeOf(shape.look, scale);
  const rings = runs
    .filter(({ points, closed }) => points.length > 2 && (closed || shape.look.fill !== undefined))
    .map(({ points }) => points);
  const open = stroke ? runs.filter(({ closed }) => !closed) : [];
  return [
    ...(rings.length > 0
      ? filled(rings, shape.look.fill !== undefined && open.length > 0 ? { fill: shape.look.fill } : shape.look, scale)
      : []),
    ...open.flatMap(({ points }) =>
      points
        .slice(1)
        .map(
          ([x2, y2], i): PageItem => ({ kind: "line", x1: points[i]![0], y1: points[i]![1], x2, y2, stroke: stroke! }),
        ),
    ),
  ];
}
