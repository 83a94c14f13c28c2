/**
 * Pictures as files: what a file is by its own bytes, how large it is and what else stands in it, without decoding a
 * pixel; a JPEG or PNG rid of position, camera data and notes. In: the whole file's bytes. Refused in words (InputError):
 * what is no picture, too large, damaged, or carries a script.
 */
export * from "./file-kind.ts";
export { pictureHead } from "./head.ts";
export {
  focalLength,
  hasPosition,
  type MetadataFound,
  metadataFound,
  type PictureFacts,
  strippedJpeg,
  strippedPng,
} from "./notes.ts";
export {
  checkedFacts,
  judged,
  PICTURE_LIMITS,
  type PictureToKeep,
  pictureToKeep,
  refuseTricks,
  tooLarge,
  withoutNotes,
} from "./take.ts";
