/**
 * From marks in a photograph to a view: a camera with the covariance of everything that is not known about it.
 *
 * A direct linear transform over the corners (edges of the body are intersected, its corners are rounded), the marked
 * points or the card gives a start; it is taken apart into turn, shift and focal length (Hartley & Zisserman, 8.1), and
 * then all marks together are brought to the least sum of squares by Levenberg-Marquardt: points by their distance, edges
 * by the distance of each of their marks from the straight line, in pixels over their standard uncertainty.
 *
 * What the marks alone cannot tell is not set but given a standard uncertainty of its own, which the marks then narrow
 * and which is carried on to every position: focal length (it decides how far what lies off the plane is displaced),
 * the lens's bending, its optical centre, the sizes that are taken for true. The posterior covariance is (JᵀJ)⁻¹ of the
 * weighted residuals. Unknowns: 12, and 4 more with a card; cost some 20 rounds of as many evaluations.
 */
import { chiSquaredQuantile } from "../measure/distributions.ts";
import { type Matrix, solveSymmetric } from "../measure/linear.ts";
import type { Point } from "../measure/polygon.ts";
import { backProject, type Camera, flatImage, halfDiagonal, project, stand, tilt, turned, unbent } from "./camera.ts";
import { handU, type PhotoMarks, type SeenFrom } from "./marks.ts";
import { checked, FILM, type Lined, onDevice, refused, type Start, startCameras } from "./start-view.ts";

/** Settings of our own, no source; each is a standard uncertainty. */
export const UNKNOWN = {
  /** Focal length where the camera does not tell it, in terms of 35 mm film: phones' lenses have 24 to 77 mm. */
  focal: 40,
  focalU: 0.4,
  focalToldU: 0.04,
  /** Bending at half a diagonal from the centre: phones correct their own pictures; a card can tell more. */
  radialU: 0.004,
  radialCardU: 0.05,
  centreU: 0.01,
  /** Sizes of the body that the edges stand for, mm. */
  bodyU: 0.05,
  /** Places of points that are taken for known, along each axis, mm. */
  placeU: 0.05,
  /** Scale of a printed card after it was checked with calipers. */
  cardU: 0.001,
} as const;

/** Beyond it nothing is read off: an edge seen from above and one seen from aside are not the same edge. */
export const MOST_TILT = 40;
/** Card marks that can tell the lens's bending. */
const CARD_TELLS = 8;

export interface MarkResidual {
  readonly of: string;
  readonly at: Point;
  /** Pixels between the mark and where the view has it; for an edge across it. */
  readonly off: Point;
  /** The same in mm on the mark's level. */
  readonly mm: number;
}

export interface View {
  readonly kind: "view";
  readonly seen: SeenFrom;
  readonly size: Point;
  readonly level: number;
  /** Standard uncertainty of a mark set by hand in this picture, pixels. */
  readonly handU: number;
  readonly camera: Camera;
  /** The camera when the unknowns are moved by as much; the device's own sizes stay as they are. */
  readonly moved: (by: readonly number[]) => Camera;
  readonly covariance: Matrix;
  /** A step in each unknown that is small for it. */
  readonly steps: readonly number[];
  readonly residuals: readonly MarkResidual[];
  /** Root mean square of the residuals, pixels. */
  readonly rms: number;
  /** Pixels per mm in the middle of the marks. */
  readonly pixels: number;
  readonly tilt: number;
  /** Above the plane of the marks, mm, with its standard uncertainty. */
  readonly height: number;
  readonly heightU: number;
  readonly warnings: readonly string[];
}

/** @throws InputError with the reason why these marks give no view */
export function fitView(marks: PhotoMarks): View {
  const lined = checked(marks);
  const problem = new Fit(marks, lined);
  const starts = startCameras(marks, lined);
  let best: Solution | undefined;
  for (const start of starts) {
    const solution = problem.solve(start);
    if (solution !== undefined && (best === undefined || solution.cost < best.cost)) best = solution;
    // The other starts are for when this one went astray.
    if (best !== undefined && best.cost < problem.plausible) break;
  }
  if (best === undefined) throw refused("marks that no camera sees like that", "each mark at its own place");
  return problem.view(best);
}

interface Solution {
  readonly start: Start;
  readonly by: readonly number[];
  readonly cost: number;
  readonly jacobian: Matrix;
  readonly residuals: readonly number[];
}

/** Unknowns: turn 3, shift 3, log focal, radial, centre 2, stretch of the body 2; with a card turn, place 2, stretch. */
const CAMERA = 10;

class Fit {
  private readonly marks: PhotoMarks;
  private readonly edges: readonly Lined[];
  private readonly handU: number;
  private readonly cardU: number;
  private readonly priors: readonly number[];
  private readonly focal: number;
  private readonly middle: Point;
  readonly steps: readonly number[];
  /** A cost that marks set by hand reach in all but one of a hundred pictures. */
  readonly plausible: number;
  private readonly spare: number;

  constructor(marks: PhotoMarks, edges: readonly Lined[]) {
    this.marks = marks;
    this.edges = edges;
    this.handU = handU(marks);
    this.cardU = marks.card?.u ?? 0.3;
    this.focal = (marks.focal ?? UNKNOWN.focal) / FILM;
    const places = [...edges.flatMap((edge) => edge.line), ...(marks.points ?? []).map((one) => one.is)];
    const span = (axis: 0 | 1) => {
      const values = places.map((place) => place[axis]);
      return values.length === 0 ? [0, 1] : [Math.min(...values), Math.max(...values)];
    };
    const [x, y] = [span(0), span(1)];
    this.middle = [(x[0]! + x[1]!) / 2, (y[0]! + y[1]!) / 2];
    const free = 0;
    const told = marks.card !== undefined && marks.card.points.length >= CARD_TELLS;
    this.priors = [
      ...new Array<number>(6).fill(free),
      marks.focal === undefined ? UNKNOWN.focalU : UNKNOWN.focalToldU,
      told ? UNKNOWN.radialCardU : UNKNOWN.radialU,
      UNKNOWN.centreU,
      UNKNOWN.centreU,
      UNKNOWN.bodyU / Math.max(1, x[1]! - x[0]!),
      UNKNOWN.bodyU / Math.max(1, y[1]! - y[0]!),
      ...(marks.card === undefined ? [] : [free, free, free, UNKNOWN.cardU]),
    ];
    const card = marks.card === undefined ? [] : [1e-6, 1e-4, 1e-4, 1e-6];
    const counted = 2 * ((marks.points ?? []).length + (marks.card?.points.length ?? 0));
    const marked = edges.reduce((sum, { at }) => sum + at.length, counted);
    // Each unknown with an uncertainty of its own brings as much as it takes.
    this.spare = marked - 6 - (marks.card === undefined ? 0 : 3);
    this.plausible = this.spare > 0 ? chiSquaredQuantile(0.99, this.spare) : 1e-3;
    this.steps = [1e-6, 1e-6, 1e-6, 1e-4, 1e-4, 1e-4, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6, ...card];
  }

  private camera({ camera }: Start, by: readonly number[]): Camera {
    return {
      size: camera.size,
      rotation: turned(camera.rotation, [by[0]!, by[1]!, by[2]!]),
      shift: [camera.shift[0] + by[3]!, camera.shift[1] + by[4]!, camera.shift[2] + by[5]!],
      focal: camera.focal * Math.exp(by[6]!),
      radial: camera.radial + by[7]!,
      centre: [camera.centre[0] + by[8]!, camera.centre[1] + by[9]!],
    };
  }

  /** Differences in pixels, marks after marks, not yet weighted. */
  private differences(start: Start, by: readonly number[]): { value: number; u: number }[] {
    const camera = this.camera(start, by);
    const stretched = ([x, y]: Point): Point => [
      this.middle[0] + (x - this.middle[0]) * (1 + by[CAMERA]!),
      this.middle[1] + (y - this.middle[1]) * (1 + by[CAMERA + 1]!),
    ];
    const { marks } = this;
    const out: { value: number; u: number }[] = [];
    const half = halfDiagonal(marks.size);
    for (const { at, line } of this.edges) {
      const [a, b] = line.map((point) => flatImage(camera, stretched(point), marks.level)) as [Point, Point];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      for (const mark of at) {
        const flat = unbent(camera, mark);
        const across = ((b[0] - a[0]) * (flat[1] - a[1]) - (b[1] - a[1]) * (flat[0] - a[0])) / length;
        out.push({ value: half * across, u: this.handU });
      }
    }
    if ((marks.points ?? []).length > 0) {
      // The place itself is known to so much; in pixels by the scale that the start has.
      const u = Math.hypot(this.handU, UNKNOWN.placeU * pixelsPerMm(start.camera, this.middle, marks.level));
      for (const { at, is, level } of marks.points!) {
        const seen = project(camera, stretched(is), level ?? marks.level);
        out.push({ value: at[0] - seen[0], u }, { value: at[1] - seen[1], u });
      }
    }
    if (marks.card !== undefined) {
      const pose = start.pose.map((value, i) => value + by[CAMERA + 2 + i]!);
      const sign = marks.seen === "back" ? 1 : -1;
      for (const { at, is } of marks.card.points) {
        const seen = project(camera, onDevice(is, pose, sign, 1 + by[CAMERA + 5]!), marks.card.level);
        out.push({ value: at[0] - seen[0], u: this.cardU }, { value: at[1] - seen[1], u: this.cardU });
      }
    }
    return out;
  }

  private weighted(start: Start, by: readonly number[]): number[] {
    const values = this.differences(start, by).map(({ value, u }) => value / u);
    this.priors.forEach((u, i) => {
      if (u === 0) return;
      const away = i === 6 ? Math.log(start.camera.focal / this.focal) + by[6]! : by[i]!;
      values.push(away / u);
    });
    return values;
  }

  private jacobian(start: Start, by: readonly number[]): number[][] {
    const columns = this.steps.map((step, i) => {
      const up = this.weighted(start, by.with(i, by[i]! + step));
      const down = this.weighted(start, by.with(i, by[i]! - step));
      return up.map((value, row) => (value - down[row]!) / (2 * step));
    });
    return columns[0]!.map((_, row) => columns.map((column) => column[row]!));
  }

  solve(start: Start): Solution | undefined {
    let by: readonly number[] = new Array<number>(this.steps.length).fill(0);
    let residuals = this.weighted(start, by);
    let cost = squares(residuals);
    let damping = 1e-3;
    let jacobian = this.jacobian(start, by);
    for (let round = 0; round < 60; round++) {
      const normal = normalMatrix(jacobian);
      const right = this.steps.map((_, i) => [-jacobian.reduce((sum, row, k) => sum + row[i]! * residuals[k]!, 0)]);
      const damped = normal.map((row, i) => row.map((value, j) => (i === j ? value * (1 + damping) : value)));
      const step = solveSymmetric(damped, right);
      const next = step === undefined ? undefined : by.map((value, i) => value + step[i]![0]!);
      const trial = next === undefined ? undefined : this.weighted(start, next);
      const trialCost = trial === undefined ? Number.NaN : squares(trial);
      if (next === undefined || trial === undefined || !(trialCost <= cost)) {
        damping *= 8;
        if (damping > 1e12) break;
        continue;
      }
      const gain = cost - trialCost;
      by = next;
      residuals = trial;
      cost = trialCost;
      jacobian = this.jacobian(start, by);
      damping = Math.max(1e-12, damping / 10);
      if (gain <= 1e-8 * (1 + cost)) break;
    }
    return Number.isFinite(cost) ? { start, by, cost, jacobian, residuals } : undefined;
  }

  view({ start, by, cost, jacobian }: Solution): View {
    const { marks } = this;
    const camera = this.camera(start, by);
    const lean = tilt(camera);
    if (lean > MOST_TILT) {
      throw refused(
        `a view ${Math.round(lean)} degrees from upright`,
        `at most ${MOST_TILT}: hold the camera over the device`,
      );
    }
    const differences = this.differences(start, by);
    const size = this.steps.length;
    const inverse = solveSymmetric(
      normalMatrix(jacobian),
      this.steps.map((_, i) => this.steps.map((__, j) => (i === j ? 1 : 0))),
    );
    if (inverse === undefined) throw refused("marks that do not fix a view", "marks on all four edges, or four points");
    const warnings: string[] = [];
    let misfit = 1;
    if (this.spare > 0 && cost > this.plausible) {
      misfit = cost / this.spare;
      warnings.push(
        `The marks fit one another ${Math.sqrt(misfit).toFixed(1)} times worse than marks set by hand do: look at the largest residuals, and whether the picture was cropped. The uncertainties are widened by as much.`,
      );
    }
    const covariance = inverse.map((row) => row.map((value) => value * misfit));
    const moved = (more: readonly number[]) =>
      this.camera(
        start,
        by.map((value, i) => value + (more[i] ?? 0)),
      );
    const { residuals, rms } = this.residuals(camera, differences);
    const height = Math.abs(stand(camera).level - marks.level);
    const steps = this.steps;
    const gradient = steps.map((step, i) => {
      const one = new Array<number>(size).fill(0).with(i, step);
      return (Math.abs(stand(moved(one)).level - marks.level) - height) / step;
    });
    return {
      kind: "view",
      seen: marks.seen,
      size: marks.size,
      level: marks.level,
      handU: this.handU,
      camera,
      moved,
      covariance,
      steps,
      residuals,
      rms,
      pixels: pixelsPerMm(camera, this.middle, marks.level),
      tilt: lean,
      height,
      heightU: Math.sqrt(Math.max(0, quadratic(gradient, covariance))),
      warnings,
    };
  }

  private residuals(camera: Camera, differences: readonly { value: number }[]) {
    const residuals: MarkResidual[] = [];
    let next = 0;
    const scaleAt = (at: Point, level: number) => {
      const [p, q] = [backProject(camera, at, level), backProject(camera, [at[0] + 1, at[1]], level)];
      return Math.hypot(q[0] - p[0], q[1] - p[1]);
    };
    for (const { of, at, line } of this.edges) {
      const [a, b] = line.map((point) => project(camera, point, this.marks.level)) as [Point, Point];
      const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
      for (const mark of at) {
        const off = differences[next++]!.value;
        const away: Point = [(-off * (b[1] - a[1])) / length, (off * (b[0] - a[0])) / length];
        residuals.push({ of, at: mark, off: away, mm: Math.abs(off) * scaleAt(mark, this.marks.level) });
      }
    }
    const points = [
      ...(this.marks.points ?? []).map((mark, i) => ({
        ...mark,
        of: `point ${i + 1}`,
        level: mark.level ?? this.marks.level,
      })),
      ...(this.marks.card?.points ?? []).map((mark) => ({ ...mark, of: "card", level: this.marks.card!.level })),
    ];
    for (const { of, at, level } of points) {
      const off: Point = [differences[next++]!.value, differences[next++]!.value];
      residuals.push({ of, at, off, mm: Math.hypot(...off) * scaleAt(at, level) });
    }
    const rms = Math.sqrt(squares(differences.map(({ value }) => value)) / Math.max(1, residuals.length));
    return { residuals, rms };
  }
}

function pixelsPerMm(camera: Camera, [x, y]: Point, level: number): number {
  const [near, right] = [project(camera, [x, y], level), project(camera, [x + 1, y], level)];
  return Math.hypot(right[0] - near[0], right[1] - near[1]);
}

const squares = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0);

function normalMatrix(jacobian: Matrix): number[][] {
  const n = jacobian[0]!.length;
  const out = Array.from({ length: n }, () => new Array<number>(n).fill(0));
  for (const row of jacobian) for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) out[i]![j]! += row[i]! * row[j]!;
  return out;
}

/** gᵀ V g */
export function quadratic(gradient: readonly number[], v: Matrix): number {
  return gradient.reduce(
    (sum, g, i) => sum + g * v[i]!.reduce((inner, value, j) => inner + value * gradient[j]!, 0),
    0,
  );
}
