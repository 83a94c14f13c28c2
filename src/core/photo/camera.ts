/**
 * A camera over the bench: where a point of the device lands in the picture, and which point of a level a pixel shows.
 *
 * Pinhole with square pixels, an optical centre near the middle of the picture, and one radial term: an undistorted
 * point at distance r from the centre lands at r (1 + k r²) (Brown 1966; Zhang 2000, equation 11). Lengths in the
 * picture count in half diagonals, so that k means the same for every size.
 *
 * Device coordinates: x to the right and y up, seen from the back, in mm; level in mm below the back face. Inside, the
 * axes are x, -y and level, which is a right-handed set, so that a view from the back and one from the display differ by
 * a turn alone and nothing has to be mirrored.
 */
import type { Point } from "./homography.ts";

export type Vector3 = readonly [number, number, number];
/** Rows of a rotation. */
export type Rotation = readonly [Vector3, Vector3, Vector3];

export interface Camera {
  readonly size: Point;
  readonly rotation: Rotation;
  /** Of the device's origin in the camera's axes (right, down, away), mm. */
  readonly shift: Vector3;
  /** In half diagonals. */
  readonly focal: number;
  readonly radial: number;
  /** Optical centre from the middle of the picture, in half diagonals. */
  readonly centre: Point;
}

export const halfDiagonal = ([width, height]: Point): number => Math.hypot(width, height) / 2;

/** Into the camera's axes. */
export function toCamera({ rotation, shift }: Camera, [x, y]: Point, level: number): Vector3 {
  const at = (i: 0 | 1 | 2) => rotation[i][0] * x - rotation[i][1] * y + rotation[i][2] * level + shift[i];
  return [at(0), at(1), at(2)];
}

/** Without the lens's bending, in half diagonals from the optical centre. */
export function flatImage(camera: Camera, point: Point, level: number): Point {
  const [x, y, z] = toCamera(camera, point, level);
  return [(camera.focal * x) / z, (camera.focal * y) / z];
}

/** Pixel in which a point of the device appears. */
export function project(camera: Camera, point: Point, level: number): Point {
  const [u, v] = flatImage(camera, point, level);
  const bend = 1 + camera.radial * (u * u + v * v);
  return toPixel(camera, [u * bend, v * bend]);
}

function toPixel({ size, centre }: Camera, [u, v]: Point): Point {
  const half = halfDiagonal(size);
  return [size[0] / 2 + half * (centre[0] + u), size[1] / 2 + half * (centre[1] + v)];
}

/** What a pixel would be without the lens's bending, in half diagonals from the optical centre. */
export function unbent({ size, centre, radial }: Camera, pixel: Point): Point {
  const half = halfDiagonal(size);
  const u = (pixel[0] - size[0] / 2) / half - centre[0];
  const v = (pixel[1] - size[1] / 2) / half - centre[1];
  const bent = Math.hypot(u, v);
  let r = bent;
  // Newton on r (1 + k r²) = bent: from below for k > 0, from above for k < 0; four rounds reach the last digit.
  for (let i = 0; i < 6; i++) r -= (r * (1 + radial * r * r) - bent) / (1 + 3 * radial * r * r);
  const factor = bent === 0 ? 1 : r / bent;
  return [u * factor, v * factor];
}

/** The point of a level that a pixel shows. NaN where the ray runs along the level. */
export function backProject(camera: Camera, pixel: Point, level: number): Point {
  const [u, v] = unbent(camera, pixel);
  const ray: Vector3 = [u / camera.focal, v / camera.focal, 1];
  const { rotation, shift } = camera;
  const turned = (vector: Vector3, column: 0 | 1 | 2) =>
    rotation[0][column] * vector[0] + rotation[1][column] * vector[1] + rotation[2][column] * vector[2];
  const along = (level + turned(shift, 2)) / turned(ray, 2);
  return [along * turned(ray, 0) - turned(shift, 0), -(along * turned(ray, 1) - turned(shift, 1))];
}

/** Where the camera stands: foot in device coordinates, and its level (below zero: on the back's side). */
export function stand({ rotation, shift }: Camera): { foot: Point; level: number } {
  const at = (column: 0 | 1 | 2) =>
    -(rotation[0][column] * shift[0] + rotation[1][column] * shift[1] + rotation[2][column] * shift[2]);
  return { foot: [at(0), -at(1)], level: at(2) };
}

/** Angle between the optical axis and the upright over the device, degrees. */
export function tilt({ rotation }: Camera): number {
  return (Math.acos(Math.min(1, Math.abs(rotation[2][2]))) * 180) / Math.PI;
}

/** A rotation turned further by a small vector (Rodrigues). */
export function turned(rotation: Rotation, [a, b, c]: Vector3): Rotation {
  const angle = Math.hypot(a, b, c);
  const [s, t] = angle < 1e-9 ? [1, 0.5] : [Math.sin(angle) / angle, (1 - Math.cos(angle)) / angle ** 2];
  const q = [
    [1 - t * (b * b + c * c), t * a * b - s * c, t * a * c + s * b],
    [t * a * b + s * c, 1 - t * (a * a + c * c), t * b * c - s * a],
    [t * a * c - s * b, t * b * c + s * a, 1 - t * (a * a + b * b)],
  ];
  return q.map((row) =>
    [0, 1, 2].map((j) => row[0]! * rotation[0][j]! + row[1]! * rotation[1][j]! + row[2]! * rotation[2][j]!),
  ) as unknown as Rotation;
}
