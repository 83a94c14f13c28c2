import { createHash } from "node:crypto";
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

/** Writes into the service worker which files the app is made of. */
function shellList(): Plugin {
  return {
    name: "shell-list",
    generateBundle(_, bundle) {
      const worker = bundle["service-worker.js"];
      if (worker?.type !== "chunk") throw new Error("the build made no service worker");
      const names = Object.keys(bundle)
        .filter((name) => name !== worker.fileName && name !== "index.html" && !name.endsWith(".map"))
        .sort();
      const hash = createHash("sha256");
      for (const name of names) {
        const file = bundle[name]!;
        hash.update(name).update(file.type === "chunk" ? file.code : file.source);
      }
      const shell = { mark: hash.digest("hex").slice(0, 16), files: names.map((name) => `/${name}`) };
      worker.code = worker.code.replaceAll("__SHELL__", () => JSON.stringify(shell));
    },
  };
}

const core = fileURLToPath(new URL("./src/core/", import.meta.url));

export default defineConfig({
  root: fileURLToPath(new URL("./src/web", import.meta.url)),
  plugins: [react(), drawingStyle(), shellList()],
  worker: { format: "es" },
  build: {
    outDir: fileURLToPath(new URL("./dist/web", import.meta.url)),
    emptyOutDir: true,
    target: "es2023",
    // The content security policy allows files of our own and no data: addresses.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // In kB. It comes from this machine, and once: the browser keeps it.
    chunkSizeWarningLimit: 1500,
    rollupOptions: {
      input: {
        app: fileURLToPath(new URL("./src/web/index.html", import.meta.url)),
        "service-worker": fileURLToPath(new URL("./src/web/service-worker.ts", import.meta.url)),
      },
      output: {
        entryFileNames: (chunk) => (chunk.name === "service-worker" ? "service-worker.js" : "assets/[name]-[hash].js"),
      },
      // The core does nothing on being loaded: what a page does not use stays out of it.
      treeshake: { moduleSideEffects: (id) => !id.startsWith(core) },
    },
  },
  server: { proxy: { "/api": process.env.UNSEAM_API ?? "http://127.0.0.1:4680" } },
});
