/** Decodes a picture and looks for the scale card or for edges in it, away from the page's own thread. */
import { type FoundCard, findCard } from "../../../core/photo/card/index.ts";
import { type EdgeMark, type GreyPicture, type SnappedEdge, snapEdge } from "../../../core/photo/index.ts";

export type PictureQuestion = { readonly content: Blob } & (
  | { readonly find: "card" }
  /** `reach`: how far beside its marks an edge is looked for, pixels. */
  | { readonly find: "edges"; readonly edges: readonly EdgeMark[]; readonly reach: number }
);

export interface PictureAnswers {
  readonly card: FoundCard | null;
  /** One for each edge that was asked for; null where the picture shows none there. */
  readonly edges: readonly (SnappedEdge | null)[];
}

export type PictureAnswer = { readonly found: PictureAnswers[keyof PictureAnswers] } | { readonly failed: string };

self.onmessage = async ({ data }: MessageEvent<PictureQuestion>) => {
  try {
    const picture = await greyOf(data.content);
    const found =
      data.find === "card"
        ? (findCard(picture) ?? null)
        : data.edges.map((edge) => snapEdge(picture, edge.at, data.reach) ?? null);
    self.postMessage({ found } satisfies PictureAnswer);
  } catch (error) {
    self.postMessage({ failed: error instanceof Error ? error.message : String(error) } satisfies PictureAnswer);
  }
};

async function greyOf(content: Blob): Promise<GreyPicture> {
  const bitmap = await createImageBitmap(content);
  const { width, height } = bitmap;
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true })!;
  context.drawImage(bitmap, 0, 0);
  const { data: colours } = context.getImageData(0, 0, width, height);
  const pixels = new Uint8Array(width * height);
  // Luma of ITU-R BT.601, in 256ths.
  for (let i = 0, at = 0; i < pixels.length; i++, at += 4) {
    pixels[i] = (77 * colours[at]! + 150 * colours[at + 1]! + 29 * colours[at + 2]!) >> 8;
  }
  return { width, height, pixels };
}
