/** The typeface of the app as data addresses, for sheets that must open without a network. World: reads two font files. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const FILES = [
  [400, "@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-400-normal.woff2"],
  [700, "@fontsource/atkinson-hyperlegible-next/files/atkinson-hyperlegible-next-latin-700-normal.woff2"],
] as const;

/** Font faces as CSS, or nothing where the files are not installed: the sheet then uses what the reader's machine has. */
export function typefaceCss(): string {
  const { resolve } = createRequire(import.meta.url);
  return FILES.map(([weight, file]) => {
    try {
      const data = readFileSync(resolve(file)).toString("base64");
      return `@font-face{font-family:"Atkinson Hyperlegible Next";font-weight:${weight};src:url(data:font/woff2;base64,${data}) format("woff2")}`;
    } catch {
      return "";
    }
  }).join("\n");
}
