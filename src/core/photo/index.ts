/**
 * Photographs that measure.
 *
 * In: the size of a picture and marks in it (body edges, points whose places are known, a printed scale card), all in
 * pixels. Out: a view, which turns pixels into places and outlines of the device in mm, each with its uncertainty, on
 * any level; the edits that write them into a record; the card's marks found in a grey picture. Refused with the reason:
 * sets of marks that give no view, files that are no pictures (file/). Nothing here reads a disk or decodes a picture.
 */
export { backProject, type Camera, project, tilt } from "./camera.ts";
export * from "./card/index.ts";
export { type SnappedEdge, snapEdge } from "./edge-snap.ts";
export * from "./file/index.ts";
export { fitView, type MarkResidual, MOST_TILT, UNKNOWN, type View } from "./fit-view.ts";
export {
  applyHomography,
  homography,
  intersection,
  inverseHomography,
  type Matrix3,
  type Pair,
  type Point,
} from "./homography.ts";
export * from "./marks.ts";
export { LEVEL_U, type OffPlane, type OutlineMeasure, type Placed, place, traceOutline } from "./place.ts";
export {
  addPhoto,
  bodyOf,
  headLevel,
  type KnownPlace,
  knownPlaces,
  type NewPhoto,
  type PlacedScrews,
  placeLevel,
  placeOutline,
  placeScrews,
  placeView,
} from "./placing.ts";
