import { readdir, readFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { InputError, InputFaults } from "../../core/errors.ts";
import { ThreadedAnswers } from "../../server/answers.ts";
import { createApp } from "../../server/app.ts";
import { listen } from "../../server/listen.ts";
import { editionsInFolder } from "../../store/editions.ts";
import type { Store } from "../../store/index.ts";
import { type MediaStore, mediaFolder, openMediaFolder } from "../../store/media.ts";
import { DriverMissing } from "../../store/sqlite/driver.ts";
import type { Command, Context, ExitCode } from "../command.ts";
import { numberOption, readOptions } from "../options.ts";
import { packageFile } from "../package-folder.ts";
import { readRecord } from "../read-record.ts";
import { version } from "../version.ts";
import { dataFolder, openWorkspace } from "../workspace.ts";

const PORT = 4680;

const help = `unseam serve: the app in the browser, on this machine alone

Usage: unseam serve [--port N] [--data DIR] [--examples DIR]

Serves the app on 127.0.0.1 and prints its address. Records and everything done
to them are kept in a database in the data folder. Ctrl-C ends it; what was
saved is on the disk.

  --port N         ${PORT} where left out; 0 takes any free one
  --data DIR       where the records are kept; left out: the folder named by
                   UNSEAM_DATA, else .unseam in the package's folder. Not on a
                   network share.
  --examples DIR   an empty workspace begins with the records in this folder
`;

async function run(context: Context): Promise<ExitCode> {
  const options = { port: { type: "string" }, data: { type: "string" }, examples: { type: "string" } } as const;
  const { values } = readOptions(context.args, options, []);
  const port = values.port === undefined ? PORT : wholePort(values.port);
  const folder = dataFolder(context, values.data);
  const store = await open(folder);
  const answers = new ThreadedAnswers();
  try {
    const media = await openMediaFolder(mediaFolder(folder));
    if (values.examples !== undefined) {
      await loadExamples(context, store, resolve(context.cwd, values.examples));
      await loadPictures(media, resolve(context.cwd, values.examples, "media"));
    }
    const log = (text: string) => context.stderr(`${text}\n`);
    const app = createApp({
      store,
      answers,
      media,
      editions: editionsInFolder(join(folder, "editions")),
      version: version(),
      webFolder: packageFile("dist", "web"),
      log,
    });
    const { url, close } = await listen(app, port);
    context.stdout(`Unseam is at ${url}\nRecords are kept in ${folder}. Ctrl-C ends it.\n`);
    await interrupted();
    await close();
    return 0;
  } finally {
    await answers.close();
    await store.close();
  }
}

function wholePort(text: string): number {
  const port = numberOption("port", text, 0, 65535);
  return Math.trunc(port) === port ? port : numberOption("port", "", 0, 65535);
}

/** A driver that is missing is no fault of the program: the sentence says what to install. */
async function open(folder: string): Promise<Store> {
  try {
    return await openWorkspace(folder);
  } catch (error) {
    if (!(error instanceof DriverMissing)) throw error;
    throw new InputError({ path: "", found: "no database driver", expected: error.message });
  }
}

/** Puts the records of a folder into a workspace that has none. One with faults is told of and left out. */
async function loadExamples(context: Context, store: Store, folder: string): Promise<void> {
  if ((await store.list()).length > 0) return;
  const names = (await readdir(folder).catch(() => [])).filter((name) => /\.(json|ya?ml)$/i.test(name)).sort();
  for (const name of names) {
    try {
      await store.import(await readRecord(context, join(folder, name)), { by: "examples" });
    } catch (error) {
      if (!(error instanceof InputFaults || error instanceof InputError)) throw error;
      context.stderr(`${name} is left out: ${error.message.split("\n")[0]}\n`);
    }
  }
}

/** The examples' own pictures, under their own names; also for a workspace that has the records already. */
async function loadPictures(media: MediaStore, folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names.filter((one) => /\.(svg|png|jpg|mp4|webm)$/.test(one)).sort()) {
    await media.keepNamed(basename(name), await readFile(join(folder, name)));
  }
}

function interrupted(): Promise<void> {
  return new Promise((done) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => done());
  });
}

export const serve: Command = { name: "serve", summary: "the app in the browser, on this machine alone", help, run };
