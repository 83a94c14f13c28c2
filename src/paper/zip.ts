/**
 * A ZIP archive (PKWARE APPNOTE 6.3.3): files stored deflated, names in UTF-8, all with one date that the caller gives, so that
 * the same files give the same bytes.
 */
import { deflateRawSync } from "node:zlib";

export interface ZipEntry {
  readonly name: string;
  readonly bytes: Uint8Array;
}

const CRC = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; k += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});

export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const byte of bytes) c = CRC[(c ^ byte) & 0xff]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

/** @param date ISO 8601 calendar date, from 1980 on */
export function zipOf(entries: readonly ZipEntry[], date: string): Uint8Array {
  const [year, month, day] = date.slice(0, 10).split("-").map(Number) as [number, number, number];
  const stamp = (Math.max(0, year - 1980) << 9) | (month << 5) | day;
  const bodies: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const { name, bytes } of entries) {
    const label = Buffer.from(name, "utf8");
    const packed = deflateRawSync(bytes, { level: 6 });
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    // Bit 11: the name is UTF-8.
    common.writeUInt16LE(0x0800, 2);
    common.writeUInt16LE(8, 4);
    common.writeUInt16LE(0, 6);
    common.writeUInt16LE(stamp, 8);
    common.writeUInt32LE(crc32(bytes), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(bytes.length, 18);
    common.writeUInt16LE(label.length, 22);
    common.writeUInt16LE(0, 24);
    const local = Buffer.concat([Buffer.from([0x50, 0x4b, 3, 4]), common, label, packed]);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(offset, 10);
    directory.push(Buffer.concat([Buffer.from([0x50, 0x4b, 1, 2, 20, 0]), common, rest, label]));
    bodies.push(local);
    offset += local.length;
  }
  const central = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(central.length, 12);
  end.writeUInt32LE(offset, 16);
  return new Uint8Array(Buffer.concat([...bodies, central, end]));
}
