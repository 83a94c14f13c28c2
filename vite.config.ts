import { fileURLToPath } from "node:url";
import react from "@vitejs/plugin-react";
import { defineConfig, type Plugin } from "vite";
import { drawingCss, tokensCss } from "./src/draw/drawing-style.ts";

/** `virtual:drawing.css`: the colours and strokes of `src/draw`, so that app and report share one source. */
function drawingStyle(): Plugin {
  const id = "virtual:drawing.css";
  return {
    name: "drawing-style",
    resolveId: (source) => (source === id ? `\0${id}` : null),
    load: (source) => (source === `\0${id}` ? `${tokensCss()}\n${drawingCss()}` : null),
  };
}

const core = fileURLToPath(new URL("./src/core/", import.meta.url));

export default defineConfig({
  root: fileURLToPath(new URL("./src/web", import.meta.url)),
  plugins: [react(), drawingStyle()],
  worker: { format: "es" },
  build: {
    outDir: fileURLToPath(new URL("./dist/web", import.meta.url)),
    emptyOutDir: true,
    target: "es2023",
    // The content security policy allows files of our own and no data: addresses.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rollupOptions: {
      // The core does nothing on being loaded: what a page does not use stays out of it.
      treeshake: { moduleSideEffects: (id) => !id.startsWith(core) },
    },
  },
  server: { proxy: { "/api": process.env.UNSEAM_API ?? "http://127.0.0.1:4680" } },
});
