/**
 * Where photographs, films and sound are kept: a folder of files named after their content.
 *
 * In: bytes as they come, with the name they had. Out: a name (`SHA-256 of the content . ending`), to be put into the
 * record, and the bytes again, whole or any stretch of them. Promised:
 * - a file is there whole or not at all: it is written beside, flushed to the disk, then given its name;
 * - the same content is kept once; a name never changes its content;
 * - what is no picture, film or sound by its own bytes is refused in words, and nothing of it stays;
 * - a picture's size is judged before a pixel is decoded; kept pictures are upright and carry no position, camera data
 *   or notes, and it is said what was taken out.
 */
import { createHash, randomBytes } from "node:crypto";
import { createReadStream } from "node:fs";
import { link, mkdir, open, readdir, readFile, rename, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { InputError } from "../core/errors.ts";
import {
  checkedFacts,
  focalLength,
  HEAD_BYTES,
  judged,
  type KnownMedia,
  PICTURE_LIMITS,
  type PictureFormat,
  refuseTricks,
  tooLarge,
  withoutNotes,
} from "../core/photo/file/index.ts";
import type { TakenMedia } from "../server/api.ts";
import { pictureFacts, shrink, type WrittenPicture, writeUpright } from "./image-door.ts";

export type { TakenMedia };

/** Bytes and pixels. */
export const LIMITS = {
  picture: PICTURE_LIMITS.bytes,
  /** Bytes of a film or a sound. */
  recording: 8_000_000_000,
  pixels: PICTURE_LIMITS.pixels,
} as const;

/** Widths that small pictures are made in. */
export const THUMBNAIL_WIDTHS = [240, 480, 960, 1920] as const;
export type ThumbnailWidth = (typeof THUMBNAIL_WIDTHS)[number];

export interface OpenMedia {
  readonly type: string;
  readonly bytes: number;
  /** The content of a name never changes. */
  readonly lasting: boolean;
  /** The bytes from `from` up to and including `to`. */
  read(from: number, to: number): ReadableStream<Uint8Array>;
}

export interface MediaStore {
  /** @throws InputError when it is refused, PicturesMissing when no picture can be read here */
  take(pieces: AsyncIterable<Uint8Array>, name?: string): Promise<TakenMedia>;
  /** Keeps a file of a scenario under its own name, where there is none of that name yet. */
  keepNamed(name: string, bytes: Uint8Array): Promise<void>;
  open(name: string): Promise<OpenMedia | undefined>;
  /** A small JPEG of a picture; undefined where there is no such picture. */
  thumbnail(name: string, width: ThumbnailWidth): Promise<OpenMedia | undefined>;
}

const TYPES: Readonly<Record<string, string>> = {
  jpg: "image/jpeg",
  png: "image/png",
  svg: "image/svg+xml",
  mp4: "video/mp4",
  mov: "video/quicktime",
  webm: "video/webm",
  m4a: "audio/mp4",
  mp3: "audio/mpeg",
  ogg: "audio/ogg",
  wav: "audio/wav",
  flac: "audio/flac",
};
const ENDINGS: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(TYPES).map(([end, type]) => [type, end]),
);
const BY_CONTENT = /^[0-9a-f]{64}\.[a-z0-9]{2,4}$/;
const PLAIN_NAME = /^[a-z0-9][a-z0-9_-]{0,99}\.[a-z0-9]{2,4}$/i;

/** The folder of the media in a data folder. */
export const mediaFolder = (dataFolder: string): string => join(dataFolder, "media");

/** Opens the media of a folder, making it where it is missing. What a killed process left half written is swept out. */
export async function openMediaFolder(folder: string): Promise<MediaStore> {
  for (const inner of ["content", "named", "small", "arriving"]) {
    await mkdir(join(folder, inner), { recursive: true, mode: 0o700 });
  }
  await sweep(join(folder, "arriving"));
  return new MediaFolder(folder);
}

/** Another process may be writing just now: only what is a day old is taken for left behind. */
async function sweep(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const file = join(folder, name);
    const age = await stat(file).then(
      ({ mtimeMs }) => Date.now() - mtimeMs,
      () => 0,
    );
    if (age > 86_400_000) await rm(file, { force: true });
  }
}

class MediaFolder implements MediaStore {
  /** Pictures are decoded one after the other: each may take hundreds of megabytes. */
  private decoding: Promise<unknown> = Promise.resolve();
  private readonly folder: string;

  constructor(folder: string) {
    this.folder = folder;
  }

  async take(pieces: AsyncIterable<Uint8Array>, name?: string): Promise<TakenMedia> {
    if (name !== undefined) refuseTricks(name);
    const arriving = join(this.folder, "arriving", randomBytes(12).toString("hex"));
    try {
      const { known, bytes, hash } = await this.receive(pieces, arriving, name);
      if (known.kind === "photo") return await this.inTurn(() => this.takePicture(arriving, known, name));
      const kept = `${hash}.${ENDINGS[known.type]}`;
      await this.settle(arriving, kept);
      return { name: kept, hash: `sha256:${hash}`, kind: known.kind, type: known.type, bytes, said: [] };
    } finally {
      await rm(arriving, { force: true });
    }
  }

  async keepNamed(name: string, bytes: Uint8Array): Promise<void> {
    refuseTricks(name);
    if (!PLAIN_NAME.test(name) || BY_CONTENT.test(name) || TYPES[ending(name)] === undefined) {
      throw new InputError({
        path: name,
        found: "a name that no media has",
        expected: "letters, digits, - and _, and a known ending",
      });
    }
    const arriving = join(this.folder, "arriving", randomBytes(12).toString("hex"));
    await writeWhole(arriving, bytes);
    // A name that is there already keeps its content.
    await link(arriving, join(this.folder, "named", name)).catch(ifThere);
    await rm(arriving, { force: true });
  }

  async open(name: string): Promise<OpenMedia | undefined> {
    const file = this.fileOf(name);
    return file === undefined ? undefined : openFile(file, TYPES[ending(name)]!, BY_CONTENT.test(name));
  }

  async thumbnail(name: string, width: ThumbnailWidth): Promise<OpenMedia | undefined> {
    const type = TYPES[ending(name)] ?? "";
    const file = this.fileOf(name);
    if (file === undefined || !type.startsWith("image/")) return undefined;
    // A drawing is as sharp at any size; a scenario's own file may be replaced by nobody, so its small ones last too.
    if (type === "image/svg+xml") return this.open(name);
    const small = join(this.folder, "small", `${name}.${width}.jpg`);
    const made = await openFile(small, "image/jpeg", true);
    if (made !== undefined) return made;
    const bytes = await readFile(file).catch(() => undefined);
    if (bytes === undefined) return undefined;
    const arriving = join(this.folder, "arriving", randomBytes(12).toString("hex"));
    await writeWhole(arriving, await this.inTurn(() => shrink(bytes, width, LIMITS.pixels)));
    await rename(arriving, small);
    return openFile(small, "image/jpeg", true);
  }

  /** Names lead to files of these two folders only: they have no separators. */
  private fileOf(name: string): string | undefined {
    if (TYPES[ending(name)] === undefined) return undefined;
    if (BY_CONTENT.test(name)) return join(this.folder, "content", name);
    return PLAIN_NAME.test(name) ? join(this.folder, "named", name) : undefined;
  }

  /** Writes what comes to a file aside; judged as soon as its first bytes are there. */
  private async receive(pieces: AsyncIterable<Uint8Array>, file: string, name: string | undefined) {
    const handle = await open(file, "wx", 0o600);
    const hash = createHash("sha256");
    let head = new Uint8Array(0);
    let known: KnownMedia | undefined;
    let bytes = 0;
    try {
      for await (const piece of pieces) {
        bytes += piece.length;
        if (known === undefined) {
          head = Buffer.concat([head, piece.subarray(0, HEAD_BYTES)]);
          if (head.length >= HEAD_BYTES) known = judged(head, name);
        }
        const most = known === undefined || known.kind === "photo" ? LIMITS.picture : LIMITS.recording;
        if (bytes > most) throw tooLarge(name, most);
        hash.update(piece);
        await handle.appendFile(piece);
      }
      known ??= judged(head, name);
      await handle.sync();
    } finally {
      await handle.close();
    }
    return { known, bytes, hash: hash.digest("hex") };
  }

  private async takePicture(file: string, known: KnownMedia, name: string | undefined): Promise<TakenMedia> {
    const bytes = new Uint8Array(await readFile(file));
    const { picture, said, focal } = await cleaned(bytes, known.format as PictureFormat, name ?? "");
    const hash = createHash("sha256").update(picture.bytes).digest("hex");
    const type = `image/${picture.format}`;
    const kept = `${hash}.${ENDINGS[type]}`;
    await writeWhole(file, picture.bytes);
    await this.settle(file, kept);
    const { width, height } = picture;
    return {
      name: kept,
      hash: `sha256:${hash}`,
      kind: "photo",
      type,
      bytes: picture.bytes.length,
      width,
      height,
      ...(focal === undefined ? {} : { focal }),
      said,
    };
  }

  /** Gives a flushed file its name; the same content that is there already stays. */
  private async settle(file: string, kept: string): Promise<void> {
    const folder = join(this.folder, "content");
    await link(file, join(folder, kept)).catch(ifThere);
    const directory = await open(folder, "r");
    await directory.sync().catch(() => undefined);
    await directory.close();
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.decoding.then(work, work);
    this.decoding = turn.catch(() => undefined);
    return turn;
  }
}

async function cleaned(
  bytes: Uint8Array,
  format: PictureFormat,
  name: string,
): Promise<{ picture: WrittenPicture; said: string[]; focal?: number }> {
  const damaged = (error: unknown) => {
    if (!(error instanceof Error) || error.name === "PicturesMissing") return error;
    const why = error.message.split("\n")[0]!.slice(0, 120);
    return new InputError({
      path: name,
      found: `a damaged ${format.toUpperCase()} picture (${why})`,
      expected: "one that opens in a viewer",
    });
  };
  const facts = await pictureFacts(bytes).catch((error: unknown) => {
    throw damaged(error);
  });
  const removed = checkedFacts(bytes, facts, name);
  const said = removed.map((what) => `${what} removed`);
  const told = facts.exif === null ? undefined : focalLength(facts.exif);
  const focal = told === undefined ? {} : { focal: told };
  try {
    const bare = withoutNotes(bytes, format, facts);
    if (bare !== null) {
      // Decoded once all the same: a damaged picture is refused now, not when it is wanted.
      await shrink(bare, THUMBNAIL_WIDTHS[0], LIMITS.pixels);
      return {
        picture: { bytes: bare, format: format as "jpeg" | "png", width: facts.width, height: facts.height },
        said,
        ...focal,
      };
    }
    const picture = await writeUpright(bytes, format === "png" || format === "tiff" || facts.alpha, LIMITS.pixels);
    if (facts.orientation > 1) said.push("turned upright");
    if (picture.format !== format) said.push(`kept as ${picture.format.toUpperCase()}`);
    if (facts.pages > 1) said.push(`the first of ${facts.pages} pictures in the file`);
    return { picture, said, ...focal };
  } catch (error) {
    throw damaged(error);
  }
}

const ending = (name: string): string => name.slice(name.lastIndexOf(".") + 1).toLowerCase();

function ifThere(error: NodeJS.ErrnoException): void {
  if (error.code !== "EEXIST") throw error;
}

async function writeWhole(file: string, bytes: Uint8Array): Promise<void> {
  const handle = await open(file, "w", 0o600);
  try {
    await handle.writeFile(bytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function openFile(file: string, type: string, lasting: boolean): Promise<OpenMedia | undefined> {
  const facts = await stat(file).catch(() => undefined);
  if (!facts?.isFile()) return undefined;
  return { type, bytes: facts.size, lasting, read: (from, to) => stretch(file, from, to) };
}

/** Given up half way (a player that jumps elsewhere), the file is closed at once. */
function stretch(file: string, from: number, to: number): ReadableStream<Uint8Array> {
  if (to < from) return new ReadableStream({ start: (controller) => controller.close() });
  const source = createReadStream(file, { start: from, end: to, highWaterMark: 256 * 1024 });
  const pieces = source[Symbol.asyncIterator]() as AsyncIterator<Uint8Array>;
  return new ReadableStream<Uint8Array>(
    {
      async pull(controller) {
        const { done, value } = await pieces.next();
        if (done) controller.close();
        else controller.enqueue(new Uint8Array(value));
      },
      cancel: () => void source.destroy(),
    },
    { highWaterMark: 1 },
  );
}
