/** Decodes a picture and looks for the scale card, away from the page's own thread. */
import { type FoundCard, findCard } from "../../../core/photo/card/index.ts";

export type CardAnswer = { readonly found: FoundCard | null } | { readonly failed: string };

self.onmessage = async ({ data }: MessageEvent<Blob>) => {
  try {
    const bitmap = await createImageBitmap(data);
    const { width, height } = bitmap;
    const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true })!;
    context.drawImage(bitmap, 0, 0);
    const { data: colours } = context.getImageData(0, 0, width, height);
    const pixels = new Uint8Array(width * height);
    // Luma of ITU-R BT.601, in 256ths.
    for (let i = 0, at = 0; i < pixels.length; i++, at += 4) {
      pixels[i] = (77 * colours[at]! + 150 * colours[at + 1]! + 29 * colours[at + 2]!) >> 8;
    }
    self.postMessage({ found: findCard({ width, height, pixels }) ?? null } satisfies CardAnswer);
  } catch (error) {
    self.postMessage({ failed: error instanceof Error ? error.message : String(error) } satisfies CardAnswer);
  }
};
