/**
 * Drawing: a scene in, a picture out. `svg.ts` writes text for files and reports, `scene-view.tsx` makes the same
 * elements in React, `drawing-style.ts` holds the colours of both.
 */
export { drawingCss, TOKENS_DARK, TOKENS_LIGHT, tokensCss } from "./drawing-style.ts";
export { escapeMarkup, svgText } from "./svg.ts";
