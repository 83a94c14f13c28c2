/**
 * Cell-centred finite volumes for a stack of layers.
 *
 * Between two cells the conductance is 1/(dl/2kl + 1/hc + dr/2kr), so a jump of material or a contact costs no
 * accuracy. Layers that are thick against the depth heat reaches in the shortest time of interest have their cells
 * drawn towards both faces (a tanh map, Vinokur, J. Comput. Phys. 50 (1983) 215): a step at a face is a thin front,
 * the middle is smooth. The map is one smooth function, so that halving every cell divides the error by four and two
 * meshes can be extrapolated.
 */
import type { Layer, Watch } from "./stack.ts";

export interface Mesh {
  /** J/(m2.K) held by each cell. */
  readonly c: Float64Array;
  /** W/(m2.K) between cell i and i + 1. */
  readonly g: Float64Array;
  /** W/(m2.K) from the middle of the first and last cell to the outer face. */
  readonly gHot: number;
  readonly gCool: number;
  /** First cell of each layer, and one past the last. */
  readonly first: Int32Array;
  /** Half-cell conductances of each layer's two ends, W/(m2.K). */
  readonly near: Float64Array;
  readonly far: Float64Array;
}

export interface MeshRequest {
  /** The shortest time in seconds that must be resolved. */
  readonly resolve: number;
  /** Multiplies the number of cells of every layer; 1, 2, 4, … */
  readonly refine: number;
}

/** Fewest cells of a layer on the coarsest mesh, and the most before the map is drawn towards the faces. */
const FEWEST = 4;
const EVEN = 12;
const MOST = 60;

/** Cells of a layer on the coarsest mesh and the stretch `a` of its map (0: even). */
export function cellsOf(layer: Layer, resolve: number): { readonly n: number; readonly a: number } {
  const { k, rho, cp } = layer.material;
  const thickness = layer.thickness * 1e-3;
  // A third of the depth that heat reaches in the shortest time of interest.
  const wanted = 0.35 * Math.sqrt((k / (rho * cp)) * resolve);
  const even = thickness / wanted;
  if (even <= EVEN) return { n: Math.max(FEWEST, Math.ceil(even)), a: 0 };
  const n = Math.min(MOST, Math.ceil(EVEN + 8 * Math.log(even / EVEN)));
  return { n, a: stretch(Math.max(even / n, 1)) };
}

/** `a` of the tanh map whose end cells are `ratio` times smaller than even ones. */
function stretch(ratio: number): number {
  let a = 1;
  for (let i = 0; i < 60; i += 1) {
    // tanh(a)/(a sech2(a)) = ratio, by fixed point on a: cosh a sinh a = ratio a.
    const next = 0.5 * Math.asinh(2 * ratio * a);
    if (Math.abs(next - a) < 1e-12) break;
    a = next;
  }
  return a < 1e-3 ? 0 : Math.min(a, 6);
}

export function makeMesh(layers: readonly Layer[], request: MeshRequest): Mesh {
  const shapes = layers.map((layer) => cellsOf(layer, request.resolve));
  const total = shapes.reduce((sum, shape) => sum + shape.n * request.refine, 0);
  const c = new Float64Array(total);
  const half = new Float64Array(total);
  const first = new Int32Array(layers.length + 1);
  let at = 0;
  for (const [l, layer] of layers.entries()) {
    const { n: coarse, a } = shapes[l];
    const n = coarse * request.refine;
    const thickness = layer.thickness * 1e-3;
    const { k, rho, cp } = layer.material;
    let before = 0;
    for (let i = 1; i <= n; i += 1) {
      const x = i === n ? thickness : thickness * place(i / n, a);
      c[at] = (x - before) * rho * cp;
      half[at] = (2 * k) / (x - before);
      before = x;
      at += 1;
    }
    first[l + 1] = at;
  }
  const g = new Float64Array(Math.max(0, total - 1));
  for (let i = 0; i + 1 < total; i += 1) g[i] = 1 / (1 / half[i] + 1 / half[i + 1]);
  for (let l = 0; l + 1 < layers.length; l += 1) {
    const contact = layers[l].contactAfter;
    if (contact === undefined) continue;
    const i = first[l + 1] - 1;
    g[i] = 1 / (1 / half[i] + 1 / contact + 1 / half[i + 1]);
  }
  const near = Float64Array.from(layers, (_, l) => half[first[l]]);
  const far = Float64Array.from(layers, (_, l) => half[first[l + 1] - 1]);
  return { c, g, gHot: half[0], gCool: half[total - 1], first, near, far };
}

function place(xi: number, a: number): number {
  return a === 0 ? xi : 0.5 * (1 + Math.tanh(a * (2 * xi - 1)) / Math.tanh(a));
}

/** Which face is asked for: 2 * layer + 0 near, + 1 far. */
export function faceIndex(layers: readonly Layer[], watch: Pick<Watch, "layer" | "face">): number {
  return 2 * layers.findIndex((layer) => layer.name === watch.layer) + (watch.face === "far" ? 1 : 0);
}
