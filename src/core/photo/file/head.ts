/**
 * A picture's header, read without decoding a pixel: size, which way up, the camera's data, notes.
 *
 * JPEG: ITU-T T.81, B.1.1.3 (markers) and B.2.2 (frame header). PNG: W3C PNG, 11.2.1 and 11.3 (eXIf: PNG 3rd edition).
 * WebP: RFC 9649, 2.5 to 2.7. TIFF 6.0, section 2 and baseline tags. AVIF: the boxes ispe, irot and the item properties
 * of ISO/IEC 23008-12; only sizes are read of it, as its camera's data lie anywhere in the file.
 */
import { latin } from "./bytes.ts";
import type { PictureFormat } from "./file-kind.ts";
import { orientation, type PictureFacts } from "./notes.ts";

const EXIF = "Exif\0\0";
const XMP = "http://ns.adobe.com/xap/1.0/\0";

/** @returns undefined where the header does not read: the file is cut short or damaged */
export function pictureHead(bytes: Uint8Array, format: PictureFormat): PictureFacts | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    const facts = READERS[format](bytes, view);
    return facts.width > 0 && facts.height > 0 ? facts : undefined;
  } catch (error) {
    // The view's own refusal to read past the end.
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

type Reader = (bytes: Uint8Array, view: DataView) => PictureFacts;

const facts = (
  width: number,
  height: number,
  exif: Uint8Array | null = null,
  notes: readonly Uint8Array[] = [],
): PictureFacts => ({ width, height, exif, notes, orientation: exif === null ? 1 : orientation(exif) });

function jpeg(bytes: Uint8Array, view: DataView): PictureFacts {
  let [width, height] = [0, 0];
  let exif: Uint8Array | null = null;
  const notes: Uint8Array[] = [];
  for (let at = 2; ; ) {
    const marker = view.getUint8(at + 1);
    if (view.getUint8(at) !== 0xff) return facts(0, 0);
    if (marker === 0xff) {
      at++;
      continue;
    }
    const length = view.getUint16(at + 2);
    const content = bytes.subarray(at + 4, at + 2 + length);
    if (marker === 0xe1 && exif === null && latin(content.subarray(0, 6)) === EXIF) exif = content;
    else if (marker === 0xfe || marker === 0xed) notes.push(content);
    else if (marker === 0xe1 && latin(content.subarray(0, XMP.length)) === XMP) notes.push(content);
    // SOF0 to SOF15 without the tables DHT, JPG and DAC that lie between.
    else if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc) {
      [height, width] = [view.getUint16(at + 5), view.getUint16(at + 7)];
    }
    if (marker === 0xda || marker === 0xd9) return facts(width, height, exif, notes);
    at += 2 + length;
  }
}

function png(bytes: Uint8Array, view: DataView): PictureFacts {
  let exif: Uint8Array | null = null;
  const notes: Uint8Array[] = [];
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = view.getUint32(at);
    const name = latin(bytes.subarray(at + 4, at + 8));
    const content = bytes.subarray(at + 8, at + 8 + length);
    if (name === "eXIf") exif = content;
    if (name === "tEXt" || name === "iTXt" || name === "zTXt") notes.push(content);
    if (name === "IEND") break;
    at += 12 + length;
  }
  return facts(view.getUint32(16), view.getUint32(20), exif, notes);
}

function webp(bytes: Uint8Array, view: DataView): PictureFacts {
  let size: readonly [number, number] = [0, 0];
  let exif: Uint8Array | null = null;
  const notes: Uint8Array[] = [];
  const three = (at: number) => view.getUint16(at, true) + 65_536 * view.getUint8(at + 2);
  for (let at = 12; at + 8 <= bytes.length; ) {
    const name = latin(bytes.subarray(at, at + 4));
    const length = view.getUint32(at + 4, true);
    const content = bytes.subarray(at + 8, at + 8 + length);
    if (name === "VP8X") size = [three(at + 12) + 1, three(at + 15) + 1];
    else if (name === "VP8 " && size[0] === 0) {
      size = [view.getUint16(at + 14, true) & 0x3fff, view.getUint16(at + 16, true) & 0x3fff];
    } else if (name === "VP8L" && size[0] === 0) {
      const bits = view.getUint32(at + 9, true);
      size = [(bits & 0x3fff) + 1, ((bits >>> 14) & 0x3fff) + 1];
    } else if (name === "EXIF") exif = content;
    else if (name === "XMP ") notes.push(content);
    at += 8 + length + (length % 2);
  }
  return facts(size[0], size[1], exif, notes);
}

function tiff(bytes: Uint8Array, view: DataView): PictureFacts {
  const little = view.getUint16(0) === 0x4949;
  const directory = view.getUint32(4, little);
  const notes: Uint8Array[] = [];
  let [width, height] = [0, 0];
  for (let i = 0; i < view.getUint16(directory, little); i++) {
    const at = directory + 2 + 12 * i;
    const tag = view.getUint16(at, little);
    const value = () => (view.getUint16(at + 2, little) === 3 ? view.getUint16(at + 8, little) : long());
    const long = () => view.getUint32(at + 8, little);
    if (tag === 256) width = value();
    if (tag === 257) height = value();
    // XMP, IPTC, description: how long they are stands before where they are.
    if (tag === 700 || tag === 33_723 || tag === 270)
      notes.push(bytes.subarray(long(), long() + view.getUint32(at + 4, little)));
  }
  return facts(width, height, bytes, notes);
}

/** The largest of the sizes that it tells: a thumbnail has one of its own. */
function avif(bytes: Uint8Array, view: DataView): PictureFacts {
  let size: readonly [number, number] = [0, 0];
  const head = bytes.subarray(0, 65_536);
  for (let at = head.indexOf(0x69); at >= 0 && at + 16 <= head.length; at = head.indexOf(0x69, at + 1)) {
    if (latin(head.subarray(at, at + 4)) !== "ispe") continue;
    const found = [view.getUint32(at + 8), view.getUint32(at + 12)] as const;
    if (found[0] * found[1] > size[0] * size[1]) size = found;
  }
  return facts(size[0], size[1]);
}

const READERS: Readonly<Record<PictureFormat, Reader>> = { jpeg, png, webp, tiff, avif };
