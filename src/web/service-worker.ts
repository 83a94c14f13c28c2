/**
 * Keeps the app at hand with the server gone: its own files, and the last answers to what was asked for. What is edited
 * does not come through here; that is the outbox's (keep/).
 */
interface Lifetime extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface Fetched extends Lifetime {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Scope {
  addEventListener(kind: "install" | "activate", hear: (event: Lifetime) => void): void;
  addEventListener(kind: "fetch", hear: (event: Fetched) => void): void;
  skipWaiting(): Promise<void>;
  readonly clients: { claim(): Promise<void> };
  readonly location: Location;
}
const scope = self as unknown as Scope;

/** The build writes in what it made: the addresses of the app's files and a mark of their content. */
declare const __SHELL__: { readonly mark: string; readonly files: readonly string[] };

const SHELL = `unseam files ${__SHELL__.mark}`;
const ANSWERS = "unseam answers";
/** Answers worth having without a server: records and pictures; nothing that is computed. */
const WORTH_KEEPING = /^\/api\/(records(\/[^/]+)?|media\/[^/]+)$/;
const files = new Set(__SHELL__.files);

scope.addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(SHELL)
      .then((cache) => cache.addAll(["/", ...__SHELL__.files]))
      .then(() => scope.skipWaiting()),
  );
});

scope.addEventListener("activate", (event) => {
  const old = (name: string): boolean => name.startsWith("unseam files ") && name !== SHELL;
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name))))
      .then(() => scope.clients.claim()),
  );
});

scope.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== scope.location.origin || request.headers.has("range")) return;
  if (request.mode === "navigate" && !pathname.startsWith("/api/"))
    event.respondWith(fetch(request).catch(() => known(SHELL, "/")));
  else if (files.has(pathname)) event.respondWith(known(SHELL, pathname).catch(() => fetch(request)));
  else if (WORTH_KEEPING.test(pathname))
    event.respondWith(
      fetch(request).then(
        (answer) => {
          if (answer.status === 200) {
            const copy = answer.clone();
            event.waitUntil(caches.open(ANSWERS).then((cache) => cache.put(request, copy)));
          }
          return answer;
        },
        // A picture in another width is better than none.
        () => known(ANSWERS, request).catch(() => known(ANSWERS, pathname)),
      ),
    );
});

async function known(name: string, what: RequestInfo): Promise<Response> {
  const answer = await (await caches.open(name)).match(what);
  if (answer === undefined) throw new TypeError("not kept here");
  return answer;
}
