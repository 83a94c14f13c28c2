import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { crc32, deflateSync } from "node:zlib";
import sharp from "sharp";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { mediaKind, pictureHead, pictureToKeep, strippedJpeg, strippedPng } from "../core/photo/file/index.ts";
import { type MediaStore, openMediaFolder } from "./media.ts";

let folder: string;
let media: MediaStore;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), "unseam-media-"));
  media = await openMediaFolder(folder);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const kept = () => ["content", "named", "small", "arriving"].flatMap((inner) => readdirSync(join(folder, inner)));
async function* inPieces(bytes: Uint8Array, size = 1000) {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}
const take = (bytes: Uint8Array | string, name?: string) =>
  media.take(inPieces(typeof bytes === "string" ? Buffer.from(bytes) : bytes), name);
async function read(name: string): Promise<Buffer> {
  const file = (await media.open(name))!;
  return Buffer.from(await new Response(file.read(0, file.bytes - 1)).arrayBuffer());
}

/** 60 x 40, left half dark. */
const raw = () => {
  const pixels = Buffer.alloc(60 * 40 * 3, 220);
  for (let y = 0; y < 40; y++) pixels.fill(20, y * 180, y * 180 + 90);
  return sharp(pixels, { raw: { width: 60, height: 40, channels: 3 } });
};
const POSITION = { IFD0: { Copyright: "nobody" }, IFD3: { GPSLatitudeRef: "N", GPSLatitude: "51/1 30/1 0/1" } };

/** A PNG with a header of any size and the chunks given. */
function png(width: number, height: number, extra: readonly [string, Uint8Array][] = []): Buffer {
  const chunk = (name: string, data: Uint8Array) => {
    const body = Buffer.concat([Buffer.from(name), data]);
    const frame = Buffer.alloc(8);
    frame.writeUInt32BE(data.length, 0);
    frame.writeUInt32BE(crc32(body), 4);
    return Buffer.concat([frame.subarray(0, 4), body, frame.subarray(4)]);
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 0], 8);
  const lines = deflateSync(Buffer.alloc(Math.min(height, 100) * (Math.min(width, 100) + 1)));
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header),
    ...extra.map(([name, data]) => chunk(name, data)),
    chunk("IDAT", lines),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

describe("pictures taken in", () => {
  it("keeps a JPEG's pixels as they are, without its position, and says so", async () => {
    const plain = await raw().jpeg().toBuffer();
    const given = await raw().jpeg().withExif(POSITION).toBuffer();
    expect(given.length).toBeGreaterThan(plain.length);
    const taken = await take(given, "IMG 1.JPG");
    expect(taken).toMatchObject({ kind: "photo", type: "image/jpeg", width: 60, height: 40 });
    expect(taken.said).toEqual(["position data removed", "camera data removed"]);
    expect(taken.name).toMatch(/^[0-9a-f]{64}\.jpg$/);
    expect(taken.hash).toBe(`sha256:${taken.name.slice(0, 64)}`);
    const back = await read(taken.name);
    const facts = await sharp(back).metadata();
    expect(facts.exif).toBeUndefined();
    expect(await sharp(back).raw().toBuffer()).toEqual(await sharp(given).raw().toBuffer());
    // Not decoded and written anew: the same scan, byte for byte.
    expect(back.subarray(-200)).toEqual(given.subarray(-200));
    expect(await take(back)).toMatchObject({ name: taken.name, said: [] });
    expect(readdirSync(join(folder, "content"))).toHaveLength(1);
  });

  it("tells the focal length before the camera's data are taken out", async () => {
    const given = await raw()
      .jpeg()
      .withExif({ IFD2: { FocalLengthIn35mmFilm: "26" } })
      .toBuffer();
    expect(await take(given)).toMatchObject({ focal: 26, said: ["camera data removed"] });
  });

  it.each([
    [6, "right"],
    [8, "left"],
    [3, "half way"],
  ])("turns one of orientation %i upright (%s)", async (orientation) => {
    const given = await raw().jpeg().withMetadata({ orientation }).toBuffer();
    const taken = await take(given);
    expect(taken.said).toContain("turned upright");
    expect([taken.width, taken.height]).toEqual(orientation === 3 ? [60, 40] : [40, 60]);
    const wanted = await sharp(given).autoOrient().raw().toBuffer();
    const pixels = await sharp(await read(taken.name))
      .raw()
      .toBuffer();
    const worst = pixels.reduce((most, value, i) => Math.max(most, Math.abs(value - wanted[i]!)), 0);
    expect(worst).toBeLessThan(16);
  });

  it.each(["png", "webp", "avif", "tiff"] as const)("takes %s, and what it keeps any browser shows", async (format) => {
    const taken = await take(await raw().toFormat(format, { lossless: true }).toBuffer(), `a.${format}`);
    expect(["image/jpeg", "image/png"]).toContain(taken.type);
    expect(await sharp(await read(taken.name)).metadata()).toMatchObject({ width: 60, height: 40 });
    const small = (await media.thumbnail(taken.name, 240))!;
    expect(small.type).toBe("image/jpeg");
  });

  it("makes small pictures once, in the widths there are", async () => {
    const wide = sharp({ create: { width: 1000, height: 500, channels: 3, background: "#808080" } });
    const { name } = await take(await wide.png().toBuffer());
    const small = (await media.thumbnail(name, 240))!;
    const bytes = Buffer.from(await new Response(small.read(0, small.bytes - 1)).arrayBuffer());
    expect(await sharp(bytes).metadata()).toMatchObject({ width: 240, height: 120, format: "jpeg" });
    expect(readdirSync(join(folder, "small"))).toEqual([`${name}.240.jpg`]);
    expect(await media.thumbnail(name, 240)).toMatchObject({ bytes: small.bytes });
    expect(await media.thumbnail(`${"0".repeat(64)}.jpg`, 240)).toBeUndefined();
  });

  it("leaves notes out of a PNG and takes a film as it is", async () => {
    const given = png(8, 8, [["tEXt", Buffer.from("Comment\0taken at home")]]);
    const taken = await take(given);
    expect(taken.said).toEqual(["notes in the file removed"]);
    expect(await read(taken.name)).toEqual(png(8, 8));
    const film = Buffer.concat([Buffer.from("\0\0\0\x18ftypmp42\0\0\0\0mp42isom", "latin1"), Buffer.alloc(9000, 7)]);
    const { name, type, bytes } = await take(film, "afternoon.mp4");
    expect({ type, bytes }).toEqual({ type: "video/mp4", bytes: film.length });
    expect(await read(name)).toEqual(film);
  });
});

describe("told without decoding", () => {
  const FORMATS = ["jpeg", "png", "webp", "avif", "tiff"] as const;
  it.each(FORMATS)("the size of a %s, as the picture library tells it", async (format) => {
    const given = await raw().toFormat(format).withExif(POSITION).withMetadata({ orientation: 1 }).toBuffer();
    const { width, height } = await sharp(given).metadata();
    expect(pictureHead(given, format)).toMatchObject({ width, height, orientation: 1 });
    const large = await sharp({ create: { width: 3001, height: 1999, channels: 3, background: "#777" } })
      .toFormat(format)
      .toBuffer();
    expect(pictureHead(large, format)).toMatchObject({ width: 3001, height: 1999 });
    for (let end = 0; end < 60; end++) pictureHead(given.subarray(0, end), format);
  });

  it.each(["jpeg", "png", "webp"] as const)("camera data of a %s", async (format) => {
    const given = await raw()
      .toFormat(format)
      .withExif({ ...POSITION, IFD2: { FocalLengthIn35mmFilm: "26" } })
      .toBuffer();
    expect(pictureToKeep(given, "a.jpg")).toMatchObject({ width: 60, height: 40, focal: 26 });
  });

  it.each(["jpeg", "png"] as const)("what is put aside of a %s is what the server keeps", async (format) => {
    const given = await raw().toFormat(format).withExif(POSITION).toBuffer();
    const aside = pictureToKeep(given, "a.jpg");
    expect(aside.said).toContain("position data removed");
    const taken = await take(aside.bytes, "a.jpg");
    expect(taken.said).toEqual([]);
    expect(await read(taken.name)).toEqual(Buffer.from(aside.bytes));
    expect((await take(given)).name).toBe(taken.name);
  });

  it("one that lies on its side", async () => {
    const given = await raw().jpeg().withMetadata({ orientation: 6 }).toBuffer();
    expect(pictureToKeep(given, "a.jpg")).toMatchObject({ width: 40, height: 60, bytes: given });
  });
});

describe("refused, and nothing stored", () => {
  const jpeg = () => raw().jpeg().toBuffer();
  const cases: readonly [string, () => Promise<Uint8Array> | Uint8Array, string | undefined, RegExp][] = [
    ["300 megapixels", () => png(20_000, 15_000), "big.png", /20000 x 15000 pixels, 300 megapixels.*at most 110/],
    [
      "a renamed program",
      () => Buffer.from(`MZ${"\0".repeat(200)}`),
      "photo.jpg",
      /photo\.jpg: found a program for Windows/,
    ],
    ["a renamed program of another kind", () => Buffer.from("\x7fELF\x02\x01"), "photo.png", /a program for Linux/],
    ["a shell script", () => Buffer.from("#!/bin/sh\nrm -r x\n"), "a.jpg", /a script for a command line/],
    ["a drawing with scripts", () => Buffer.from("<svg><script>1</script></svg>"), "a.png", /an SVG drawing/],
    ["an archive", () => Buffer.from("PK\x03\x04"), "a.jpg", /a ZIP archive/],
    [
      "a HEIC picture",
      () => Buffer.from("\0\0\0\x18ftypheic\0\0\0\0mif1heic"),
      "a.heic",
      /HEIC.*set the camera to JPEG/,
    ],
    ["nothing", () => new Uint8Array(0), "a.jpg", /an empty file/],
    ["half a picture", async () => (await jpeg()).subarray(0, 300), "a.jpg", /a damaged JPEG picture/],
    ["a picture's head alone", () => Buffer.from([0xff, 0xd8, 0xff, 0xe0]), "a.jpg", /a damaged JPEG picture/],
    ["a folder in its name", jpeg, "../../etc/passwd.jpg", /name: found .*a plain file name/],
    ["a backslash in its name", jpeg, "..\\a.jpg", /a plain file name/],
    ["a name that reads backwards", jpeg, "a\u202egpj.exe", /a plain file name/],
    ["a zero in its name", jpeg, "a.jpg\0.exe", /a plain file name/],
    [
      "a script in its Exif",
      () =>
        raw()
          .jpeg()
          .withExif({ IFD0: { ImageDescription: "<script>alert(1)</script>" } })
          .toBuffer(),
      "a.jpg",
      /a script in the picture's metadata/,
    ],
    [
      "a script in its XMP",
      () => raw().jpeg().withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/"><a href="javascript:x"/></x:xmpmeta>').toBuffer(),
      "a.jpg",
      /a script in the picture's metadata/,
    ],
    [
      "a script in a PNG's note",
      () => png(8, 8, [["tEXt", Buffer.from("Comment\0<img src=x onerror=alert(1)>")]]),
      "a.png",
      /a script in the picture's metadata/,
    ],
    [
      "a script packed in a PNG's note",
      () => png(8, 8, [["zTXt", Buffer.concat([Buffer.from("Comment\0\0"), deflateSync("<?php x ?>")])]]),
      "a.png",
      /a script in the picture's metadata/,
    ],
    [
      "a page behind the picture",
      async () => Buffer.concat([await jpeg(), Buffer.from("<script>1</script>")]),
      "a.jpg",
      /a script in the picture's metadata/,
    ],
  ];
  const NEEDS_OPENING = new Set(["half a picture", "a script packed in a PNG's note"]);
  it.each(cases)("%s", async (_, bytes, name, words) => {
    const given = await bytes();
    await expect(take(given, name)).rejects.toThrow(words);
    expect(kept()).toEqual([]);
    // The browser says the same before anything is put aside, unless pixels or packed notes have to be opened for it.
    if (!NEEDS_OPENING.has(_)) expect(() => pictureToKeep(given, name!)).toThrow(words);
  });

  it("a file that never ends, and one that breaks off", async () => {
    const endless = async function* () {
      yield Buffer.from([0xff, 0xd8, 0xff, 0xe0]);
      for (;;) yield Buffer.alloc(4_000_000);
    };
    await expect(media.take(endless(), "a.jpg")).rejects.toThrow(/more than 80 MB/);
    const broken = async function* () {
      yield Buffer.from([0xff, 0xd8, 0xff, 0xe0]);
      throw new Error("the line went dead");
    };
    await expect(media.take(broken(), "a.jpg")).rejects.toThrow(/went dead/);
    expect(kept()).toEqual([]);
  });
});

describe("names", () => {
  it("lead to kept files alone", async () => {
    await media.keepNamed("plate.svg", Buffer.from("<svg/>"));
    await media.keepNamed("plate.svg", Buffer.from("<svg>other</svg>"));
    expect((await read("plate.svg")).toString()).toBe("<svg/>");
    for (const name of ["", ".", "..", "../named/plate.svg", "a/../plate.svg", "plate.SVG/", ".hidden.png", "plate"]) {
      expect(await media.open(name)).toBeUndefined();
    }
    await expect(media.keepNamed("../a.svg", new Uint8Array(1))).rejects.toThrow(/plain file name/);
    await expect(media.keepNamed("a.html", new Uint8Array(1))).rejects.toThrow(/known ending/);
  });

  it("are judged by content", () => {
    expect(mediaKind(Buffer.from("RIFF\0\0\0\0WEBP"))).toMatchObject({ format: "webp" });
    expect(mediaKind(Buffer.from("RIFF\0\0\0\0WAVE"))).toMatchObject({ type: "audio/wav" });
    expect(mediaKind(Buffer.from("\0\0\0\x1cftypavif\0\0\0\0mif1miaf"))).toMatchObject({ format: "avif" });
    expect(mediaKind(Buffer.from("\0\0\0\x14ftypqt  \0\0\0\0qt  "))).toMatchObject({ kind: "video" });
    expect(mediaKind(Buffer.from([0xff, 0xfb, 0x90, 0]))).toMatchObject({ type: "audio/mpeg" });
    expect(mediaKind(Buffer.from("hello"))).toMatchObject({ known: false });
    expect(strippedJpeg(Buffer.from([0xff, 0xd8, 0xff, 0xe1, 0, 1]))).toBeNull();
    expect(strippedPng(Buffer.from("\x89PNG\r\n\x1a\n\xff\xff\xff\xffIHDR", "latin1"))).toBeNull();
  });
});
