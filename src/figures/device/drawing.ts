/**
 * Plan and section on one sheet: the drawing that is the app's menu, and the picture of a step on paper.
 *
 * In: the placed device, how it is looked at, and what is chosen, on the way and away. Out: the scene and the places
 * that the app needs to let people choose parts and set the depth.
 */
import { line, polyline, type Scene, type Shape, text } from "../scene.ts";
import type { Seen } from "./bare.ts";
import { type Layout, layoutDevice } from "./layout.ts";
import type { PlacedDevice } from "./placed.ts";
import { type Choice, drawPlan } from "./plan.ts";
import { drawSection } from "./section.ts";

export interface DrawingInput {
  readonly seen: Seen;
  /** Everything that lies wholly above this level (as seen) is taken away; mm below the back face. */
  readonly depth: number;
  /** Parts already off, whatever the depth. */
  readonly away: ReadonlySet<string>;
  /** Joints already undone. */
  readonly released: ReadonlySet<string>;
  readonly chosen: ReadonlySet<string>;
  readonly way: ReadonlySet<string>;
  readonly wayJoints: ReadonlySet<string>;
  /** Where the section is cut, in mm across the long axis; left out: through the chosen part, else the middle. */
  readonly cutAt?: number;
  readonly width: number;
  readonly height: number;
  /** For paper: without the line and grip that set the depth. */
  readonly still?: true;
  /** For small pictures: without names, cutting plane and dimensions. */
  readonly quiet?: true;
}

const NONE: ReadonlySet<string> = new Set();

/** Nothing chosen, nothing away, seen from the back, closed. */
export function closedView(device: PlacedDevice, width: number, height: number): DrawingInput {
  return {
    seen: "back",
    depth: device.depth[0],
    away: NONE,
    released: NONE,
    chosen: NONE,
    way: NONE,
    wayJoints: NONE,
    width,
    height,
  };
}

export interface DeviceDrawing {
  readonly scene: Scene;
  readonly choices: readonly Choice[];
  readonly unnamed: readonly string[];
  readonly layout: Layout;
  readonly cutAt: number;
}

export function drawDevice(device: PlacedDevice, input: DrawingInput, name: string): DeviceDrawing {
  const layout = layoutDevice(device, input.seen, input.width, input.height, input.quiet);
  const cutAt = input.cutAt ?? defaultCut(device, input, layout.beside);
  const plan = drawPlan(device, layout, input);
  const shapes: Shape[] = [
    ...plan.shapes,
    ...(input.quiet ? [] : cutMarks(device, layout, cutAt)),
    ...drawSection(device, layout, input, cutAt),
    ...(input.quiet ? [] : dimensions(device, layout, input)),
  ];
  const from = input.seen === "back" ? "the back" : "the display";
  const title = `${name}: plan from ${from}, opened to ${input.depth.toFixed(1)} mm, and section ${
    layout.beside ? "beside" : "below"
  } it, thickness drawn ${layout.stretch} times`;
  return {
    scene: { width: layout.width, height: layout.height, title, shapes },
    choices: plan.choices,
    unnamed: plan.unnamed,
    layout,
    cutAt,
  };
}

/** Through the middle of the chosen part, and if that is a hole, through the part's widest solid place near it. */
function defaultCut(device: PlacedDevice, input: DrawingInput, beside: boolean): number {
  const chosen = device.parts.find((part) => input.chosen.has(part.id));
  const { x0, x1, y0, y1 } = (chosen ?? device).bounds;
  return beside ? (x0 + x1) / 2 : (y0 + y1) / 2;
}

/** Ends of the cutting plane, outside the body, joined by a chain line. */
function cutMarks(device: PlacedDevice, layout: Layout, cutAt: number): Shape[] {
  const { x0, y0, x1, y1 } = device.bounds;
  const look = { stroke: "soft", weight: "hair", dash: "chain" } as const;
  const end = { stroke: "ink", weight: "line" } as const;
  if (layout.beside) {
    const [x, top] = layout.at(cutAt, y1);
    const [, bottom] = layout.at(cutAt, y0);
    return [
      line(x, top - 4, x, bottom + 4, look),
      line(x, top - 13, x, top - 4, end),
      line(x, bottom + 4, x, bottom + 13, end),
      text(x, top - 17, "cut", { anchor: "middle", size: 10, tone: "soft" }),
    ];
  }
  const [left, y] = layout.at(x0, cutAt);
  const [right] = layout.at(x1, cutAt);
  const [from, to] = [Math.min(left, right), Math.max(left, right)];
  return [
    line(from - 4, y, to + 4, y, look),
    line(from - 11, y, from - 4, y, end),
    line(to + 4, y, to + 11, y, end),
    text(to + 13, y + 3, "cut", { size: 10, tone: "soft" }),
  ];
}

const mm = (value: number): string => `${Math.round(value * 100) / 100} mm`;

function dimensions(device: PlacedDevice, layout: Layout, input: DrawingInput): Shape[] {
  const { plan, section } = layout;
  const { x0, x1, y0, y1 } = device.bounds;
  const look = { stroke: "soft", weight: "hair" } as const;
  const note = { anchor: "middle", size: 11, tone: "soft" } as const;
  const level = (ax: number, bx: number, y: number): Shape[] => [
    polyline(
      [
        [ax, y],
        [bx, y],
      ],
      look,
    ),
    line(ax, y - 4, ax, y + 4, look),
    line(bx, y - 4, bx, y + 4, look),
  ];
  const upright = (ay: number, by: number, x: number): Shape[] => [
    polyline(
      [
        [x, ay],
        [x, by],
      ],
      look,
    ),
    line(x - 4, ay, x + 4, ay, look),
    line(x - 4, by, x + 4, by, look),
  ];
  const thickness = `${mm(device.depth[1])}${layout.stretch === 1 ? "" : `, drawn ${layout.stretch} times`}`;
  const [zero, end] = [layout.cut(y0, 0), layout.cut(y0, device.depth[1])];
  const from = input.seen === "back" ? "from the back" : "from the display";
  const planFoot = plan.y + plan.height + 19;
  const shapes: Shape[] = [
    ...level(plan.x, plan.x + plan.width, planFoot),
    text(plan.x + plan.width / 2, planFoot + 15, `${mm(x1 - x0)}, ${from}`, note),
  ];
  if (layout.beside) {
    const right = section.x + section.width + 13;
    const middle = plan.y + plan.height / 2;
    shapes.push(
      ...level(zero[0], end[0], planFoot),
      text(layout.width - 2, planFoot + 15, thickness, { size: 11, tone: "soft", anchor: "end" }),
      ...upright(plan.y, plan.y + plan.height, right),
      text(right + 13, middle, mm(y1 - y0), { ...note, rotate: -90 }),
    );
  } else {
    const x = section.x + section.width + 13;
    shapes.push(
      ...upright(zero[1], end[1], x),
      text(section.x + section.width, section.y + section.height + 18, thickness, {
        size: 11,
        tone: "soft",
        anchor: "end",
      }),
      ...upright(plan.y, plan.y + plan.height, plan.x - 13),
      text(plan.x - 18, plan.y + plan.height / 2, mm(y1 - y0), { ...note, rotate: -90 }),
    );
  }
  return shapes;
}
