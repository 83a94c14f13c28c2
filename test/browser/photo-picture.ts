/** A photograph of an invented body from straight above, drawn to scale, with the scale card beside it. */
import sharp from "sharp";
import { CARD, SPOTS } from "../../src/core/photo/card/index.ts";
import type { Point } from "../../src/core/photo/index.ts";

/** Pixels a mm, and where the body's lower left corner lies. */
export const SCALE = 12;
export const SIZE: Point = [2400, 2200];
const CORNER: Point = [200, 2080];

/** Pixel of a place of the body, mm to the right and up from its lower left corner. */
export const pixelAt = ([x, y]: Point): Point => [CORNER[0] + SCALE * x, CORNER[1] - SCALE * y];

/** Body of the size given with dots where screws are, as a JPEG that carries a position. */
export async function bodyPicture(width: number, height: number, screws: readonly Point[]): Promise<Buffer> {
  const [left, top] = pixelAt([0, height]);
  const dots = screws.map((at) => {
    const [x, y] = pixelAt(at);
    return `<circle cx="${x}" cy="${y}" r="14" fill="#8b8f94"/><path d="M${x - 9} ${y}H${x + 9}M${x} ${y - 9}V${y + 9}" stroke="#222" stroke-width="4"/>`;
  });
  const card: Point = [1330, 300];
  const spots = SPOTS.map(({ at, hollow }) => {
    const [x, y] = [card[0] + SCALE * at[0], card[1] + SCALE * at[1]];
    const inner = hollow ? `<circle cx="${x}" cy="${y}" r="${SCALE * CARD.hollow}" fill="#eee"/>` : "";
    return `<circle cx="${x}" cy="${y}" r="${SCALE * CARD.radius}" fill="#181818"/>${inner}`;
  });
  const [w, h, band] = [SCALE * CARD.width, SCALE * CARD.height, SCALE * CARD.band];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${SIZE[0]}" height="${SIZE[1]}">
    <rect width="100%" height="100%" fill="#6d6a63"/>
    <rect x="${left}" y="${top}" width="${SCALE * width}" height="${SCALE * height}" rx="90" fill="#c9ccd1"/>
    ${dots.join("")}
    <rect x="${card[0] - 60}" y="${card[1] - 60}" width="${w + 120}" height="${h + 120}" fill="#eee"/>
    <rect x="${card[0]}" y="${card[1]}" width="${w}" height="${h}" fill="#181818"/>
    <rect x="${card[0] + band}" y="${card[1] + band}" width="${w - 2 * band}" height="${h - 2 * band}" fill="#eee"/>
    ${spots.join("")}
  </svg>`;
  return sharp(Buffer.from(svg))
    .blur(1.2)
    .jpeg({ quality: 92 })
    .withExif({
      IFD2: { FocalLengthIn35mmFilm: "60" },
      IFD3: { GPSLatitudeRef: "N", GPSLatitude: "10/1 0/1 0/1" },
    })
    .toBuffer();
}
