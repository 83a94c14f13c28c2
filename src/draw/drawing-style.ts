/** The one place where roles become colours: one ink, one accent, paper, hairline and a warm wash, light and dark. */

export const TOKENS_LIGHT: Readonly<Record<string, string>> = {
  paper: "#fbfaf6",
  sheet: "#fffefb",
  ink: "#1d1e1c",
  soft: "#5f5d55",
  hair: "#cfcabd",
  accent: "#b0370d",
  wash: "#f6e3d8",
  warm: "#f3ead2",
};

export const TOKENS_DARK: Readonly<Record<string, string>> = {
  paper: "#151614",
  sheet: "#1b1c1a",
  ink: "#ece8de",
  soft: "#b0ac9f",
  hair: "#45453f",
  accent: "#ff8f5e",
  wash: "#3a2419",
  warm: "#2f2a1c",
};

const WEIGHTS = { hair: 0.9, thin: 1.1, line: 1.5, bold: 2.3 } as const;
const DASHES = { way: "5 3", away: "1.5 3", chain: "9 2.5 1.5 2.5", dot: "2 3" } as const;

const block = (tokens: Readonly<Record<string, string>>): string =>
  Object.entries(tokens)
    .map(([name, value]) => `--${name}:${value}`)
    .join(";");

/** Custom properties of both appearances; a `data-appearance` on the root overrides what the system prefers. */
export function tokensCss(): string {
  return [
    `:root{color-scheme:light;${block(TOKENS_LIGHT)}}`,
    `@media (prefers-color-scheme:dark){:root:not([data-appearance=light]){color-scheme:dark;${block(TOKENS_DARK)}}}`,
    `:root[data-appearance=dark]{color-scheme:dark;${block(TOKENS_DARK)}}`,
    `@media print{:root,:root[data-appearance]{color-scheme:light;${block(TOKENS_LIGHT)}}}`,
  ].join("\n");
}

/** Rules for the classes that `markup.ts` writes. */
export function drawingCss(): string {
  const rules = [
    `.drawing text{font-family:"Atkinson Hyperlegible Next","Atkinson Hyperlegible","DejaVu Sans",sans-serif;font-variant-numeric:tabular-nums}`,
    `.drawing .b{font-weight:700}`,
    `.drawing .halo{paint-order:stroke;stroke:var(--paper);stroke-width:3.5px;stroke-linejoin:round}`,
    `.drawing .faint{opacity:.65}`,
    ...["ink", "soft", "hair", "accent", "paper"].map((tone) => `.drawing .s-${tone}{stroke:var(--${tone})}`),
    ...["ink", "soft", "hair", "accent", "paper"].map((tone) => `.drawing .t-${tone}{fill:var(--${tone})}`),
    ...["paper", "sheet", "wash", "warm", "ink", "accent", "hair"].map(
      (fill) => `.drawing .f-${fill}{fill:var(--${fill})}`,
    ),
    ...Object.entries(WEIGHTS).map(([name, width]) => `.drawing .w-${name}{stroke-width:${width}}`),
    ...Object.entries(DASHES).map(([name, dash]) => `.drawing .d-${name}{stroke-dasharray:${dash}}`),
    `.drawing .tile-accent{stroke-opacity:.3}`,
  ];
  return rules.join("\n");
}
