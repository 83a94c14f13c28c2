import { performance } from "node:perf_hooks";
import { InputError, InputFaults } from "../../core/errors.ts";
import {
  type FitAnswer,
  fitStack,
  MATERIALS,
  readLog,
  readStack,
  type Simulation,
  type Stack,
  simulate,
  stackFromZone,
  warmAnswer,
} from "../../core/heat/index.ts";
import { upgrade } from "../../core/record/index.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { numberOption, readOptions } from "../options.ts";
import { readDocument, readText } from "../read-document.ts";
import { readRecord } from "../read-record.ts";
import { fitText, materialsText, warmText } from "../warm-text.ts";

const help = `unseam warm: how long a bond is heated, and how long the cell allows it

Usage: unseam warm STACK.json [options]
       unseam warm RECORD --zone ZONE [options]
       unseam warm STACK.json --fit LOG.csv [--at WATCH] [--bond]
       unseam warm --materials

Computes the temperatures in a stack of layers (unseam-stack/1) while it is
heated by a programme, when each watched face reaches its limits, and the warm
window: from when every bond is soft to the latest lift-off after which no
face ever passes its plan limit. From a record the layers under the places of a
zone are taken from outlines, levels, materials and bonds.

  --zone ZONE      the zone of a record
  --cut SECONDS    plan the whole cut: heatings, pieces of cutting, pauses
  --band           how far the window moves with what is not well known
  --fit LOG.csv    fit the contact of the heat source to a thermocouple log:
                   two columns, seconds from the beginning and degC
  --at WATCH       the watched face that the thermocouple is on (the first)
  --bond           fit the conductivity of the bond as well
  --materials      the property table, each value with its source
  --json           one JSON value

Planning figures for trained people; local rules first. Cautions about skin,
solvent, glass and cells stand beside the figures. A swollen cell is not heated.
`;

const OPTIONS = {
  zone: { type: "string" },
  cut: { type: "string" },
  band: { type: "boolean" },
  fit: { type: "string" },
  at: { type: "string" },
  bond: { type: "boolean" },
  materials: { type: "boolean" },
  json: { type: "boolean" },
} as const;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(context.args, OPTIONS, ["FILE?"]);
  if (values.materials) {
    context.stdout(values.json ? json(MATERIALS) : materialsText());
    return 0;
  }
  if (files.length === 0) throw new UsageError("FILE is missing.");
  if (values.fit === undefined && (values.at !== undefined || values.bond))
    throw new UsageError("--at and --bond go with --fit.");
  const cut = values.cut === undefined ? undefined : numberOption("cut", values.cut, 0, 86_400, "seconds");
  const { stack, notes } = await readInput(context, files[0], values.zone);
  if (values.fit !== undefined) {
    const log = readLog(await readText(context, values.fit, 8_000_000));
    const fit: FitAnswer = fitStack(stack, log, { at: values.at, bond: values.bond === true });
    context.stdout(values.json ? json(fit) : fitText(fit));
    return 0;
  }
  const { simulation, milliseconds } = timed(stack);
  const { assumptions, ...answer } = warmAnswer(
    stack,
    { ...(cut === undefined ? {} : { cut }), band: values.band === true || !values.json },
    simulation,
  );
  const all = { ...answer, milliseconds, assumptions: [...assumptions, ...notes] };
  if (values.json) context.stdout(json(values.zone === undefined ? all : { ...all, stack }));
  else context.stdout(warmText(stack, all));
  return 0;
}

/** Runs the programme twice: the first run is spent on compiling the code, the quicker of both is told. */
function timed(stack: Stack): { simulation: Simulation; milliseconds: number } {
  const run = () => {
    const begin = performance.now();
    const simulation = simulate(stack);
    return { simulation, milliseconds: Math.round((performance.now() - begin) * 1000) / 1000 };
  };
  const [first, second] = [run(), run()];
  return second.milliseconds < first.milliseconds ? second : first;
}

/** A stack, or the stack of a record's zone with what had to be assumed for it. */
async function readInput(
  context: Context,
  path: string,
  zone: string | undefined,
): Promise<{ stack: Stack; notes: string[] }> {
  const { read, value, faults } = await readDocument(context, path);
  if (faults.length > 0 || !read) throw new InputFaults(faults);
  if ((value as { format?: unknown } | null)?.format === "unseam-stack/1" || !isRecord(value)) {
    if (zone !== undefined) throw new UsageError("--zone goes with a record, and this is a stack.");
    return { stack: readStack(value), notes: [] };
  }
  const record = await readRecord(context, path);
  if (zone === undefined) {
    const zones = (record.zones ?? []).map(({ id }) => id);
    throw new InputError({
      path: "zones",
      found: "a record, and no --zone",
      expected: zones.length === 0 ? "a record with zones" : `--zone with one of ${zones.join(", ")}`,
    });
  }
  return stackFromZone(record, zone);
}

function isRecord(value: unknown): boolean {
  const format = (upgrade(value) as { format?: unknown } | null)?.format;
  return typeof format === "string" && /^unseam\/\d/.test(format);
}

function json(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

export const warm: Command = {
  name: "warm",
  summary: "how long a bond is heated, and how long the cell allows it",
  help,
  run,
};
