/** The HTTP application without a socket: tests ask it directly, `listen.ts` puts it on 127.0.0.1. */
import { Hono } from "hono";
import { faultsIn } from "../core/errors.ts";
import { type EditionStore, editionsInMemory } from "../store/editions.ts";
import type { Store } from "../store/index.ts";
import type { MediaStore } from "../store/media.ts";
import { answerRoutes } from "./answer-routes.ts";
import type { Answers } from "./answers.ts";
import { ownRequestsOnly, safeHeaders } from "./guard.ts";
import { lawPackRoutes } from "./law-pack-routes.ts";
import { mediaRoutes } from "./media-routes.ts";
import { describe } from "./openapi.ts";
import { recordRoutes } from "./record-routes.ts";
import { json, mount, type Route, refused, route } from "./route.ts";
import { Health, NAMED } from "./schemas.ts";
import { sheetRoutes } from "./sheet-routes.ts";
import { staticPages } from "./static.ts";

export interface Services {
  readonly store: Store;
  readonly answers: Answers;
  readonly media: MediaStore;
  /** Left out: editions of sheets are remembered until the server ends. */
  readonly editions?: EditionStore;
  readonly version: string;
  /** Folder of the built browser application; need not be there. */
  readonly webFolder: string;
  /** Told of every fault of ours, with its stack trace. */
  readonly log: (text: string) => void;
}

export function createApp({ store, answers, media, editions, version, webFolder, log }: Services): Hono {
  const app = new Hono();
  app.use(safeHeaders, ownRequestsOnly);
  const routes: Route[] = [
    route({
      method: "get",
      path: "/api/health",
      summary: "Whether the server is there.",
      answers: { 200: { means: "It is.", body: Health } },
      handle: async () => json({ ok: true, version }),
    }),
    ...recordRoutes(store),
    ...answerRoutes(store, answers, version),
    ...lawPackRoutes(store, answers, version),
    ...mediaRoutes(media),
    ...sheetRoutes(store, answers, editions ?? editionsInMemory(), version),
  ];
  for (const each of routes) mount(app, each);
  const description = describe(routes, NAMED, version);
  app.get("/api/openapi.json", () => json(description));
  app.all("/api/*", ({ req }) =>
    refused(404, { path: "", found: `${req.method} ${req.path}`, expected: "a path told of in /api/openapi.json" }),
  );
  app.get("*", staticPages(webFolder));
  app.notFound(({ req }) => refused(405, { path: "", found: `${req.method} ${req.path}`, expected: "GET" }));
  app.onError((error) => {
    const faults = faultsIn(error);
    if (faults !== undefined) return refused(422, ...faults);
    log(error.stack ?? error.message);
    return refused(500, { path: "", found: `a fault of Unseam (${error.message})`, expected: "an answer" });
  });
  return app;
}
