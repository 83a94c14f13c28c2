import "@fontsource/atkinson-hyperlegible-next/400.css";
import "@fontsource/atkinson-hyperlegible-next/700.css";
import "virtual:drawing.css";
import "./app.css";
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./app.tsx";
import { applyAppearance, keptAppearance } from "./frame/appearance.ts";
import { Guard } from "./frame/guard.tsx";

applyAppearance(keptAppearance());

createRoot(document.getElementById("root")!).render(
  <StrictMode>
    <Guard>
      <App />
    </Guard>
  </StrictMode>,
);

// In development the files change under it.
if (import.meta.env.PROD && "serviceWorker" in navigator)
  addEventListener("load", () => {
    navigator.serviceWorker.register("/service-worker.js", { type: "module" }).catch(() => {
      // Without it the app works as long as the server does.
    });
  });
