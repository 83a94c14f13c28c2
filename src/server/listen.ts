import type { Server } from "node:http";
import { createAdaptorServer } from "@hono/node-server";
import type { Hono } from "hono";
import { InputError } from "../core/errors.ts";

/** This machine alone: nothing of a record leaves it. */
const ADDRESS = "127.0.0.1";

export interface Listening {
  readonly url: string;
  close(): Promise<void>;
}

/** Serves on 127.0.0.1. Port 0 takes a free one. @throws InputError when the port is taken or not to be had */
export async function listen(app: Hono, port: number): Promise<Listening> {
  const server = createAdaptorServer({ fetch: app.fetch }) as Server;
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, ADDRESS, resolve);
  }).catch((error: NodeJS.ErrnoException) => {
    throw portFault(error, port);
  });
  const bound = server.address();
  const actual = typeof bound === "object" && bound !== null ? bound.port : port;
  return {
    url: `http://${ADDRESS}:${actual}/`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

function portFault(error: NodeJS.ErrnoException, port: number): unknown {
  const found =
    error.code === "EADDRINUSE"
      ? `port ${port} in use already`
      : error.code === "EACCES"
        ? `port ${port}, which may not be used`
        : undefined;
  return found === undefined
    ? error
    : new InputError({ path: "", found, expected: "a free port (choose one with --port)" });
}
