import { compareRecords } from "../../core/measure/index.ts";
import type { TeardownRecord } from "../../core/record/index.ts";
import { type Command, type Context, type ExitCode, UsageError } from "../command.ts";
import { compareText } from "../compare-text.ts";
import { listOption, numberOption, readOptions } from "../options.ts";
import { readRecord } from "../read-record.ts";

const help = `unseam compare: two devices beside each other

Usage: unseam compare A B [options]

Parts matched by role and name; differences (A less B) in mass, thickness, area
and energy, each with its uncertainty and whether it can be told; fasteners by
drive and thread, joints; least seconds and least legal steps to each priority
part, the legal index; what is new, gone, merged or split; the few changes that
explain most of the mass and of the thickness, the rest in one line.

  --match a=b,c=-   corrections: part a of A is part b of B; c has none
  --limit SECONDS   for each way in (2)
  --no-ways         leave out ways in and the index (faster)
  --json            { "a", "b", "device", "battery", "parts", "added",
                      "dropped", "merged", "split", "mass", "thickness",
                      "fasteners", "joints", "ways", "index", "warnings" }

A claim about the models needs more than one unit of each: these are units.
`;

async function run(context: Context): Promise<ExitCode> {
  const { values, files } = readOptions(
    context.args,
    {
      json: { type: "boolean" },
      match: { type: "string" },
      limit: { type: "string" },
      "no-ways": { type: "boolean" },
    },
    ["A", "B"],
  );
  const limit = values.limit === undefined ? 2 : numberOption("limit", values.limit, 0, 86_400, "seconds");
  const match = values.match === undefined ? {} : corrections(values.match);
  const a = await readRecord(context, files[0]);
  const b = await readRecord(context, files[1]!);
  const said: string[] = [];
  const facts = values["no-ways"] ? undefined : await factsOf([a, b], limit * 1000, (text) => said.push(text));
  const compared = compareRecords(a, b, {
    match,
    ...(facts === undefined ? {} : { facts: { a: facts[0]!, b: facts[1]! } }),
  });
  const answer = { ...compared, warnings: [...compared.warnings, ...said] };
  const nameIn = (record: TeardownRecord) => (id: string) => record.parts.find((part) => part.id === id)?.name ?? id;
  if (values.json) context.stdout(`${JSON.stringify(answer, null, 2)}\n`);
  else context.stdout(compareText(answer, nameIn(a), nameIn(b)));
  return 0;
}

async function factsOf(records: readonly TeardownRecord[], limit: number, warn: (text: string) => void) {
  const { deviceFacts } = await import("../../core/measure/device-facts.ts");
  return records.map((record) => deviceFacts(record, { now: () => performance.now(), limit, warn }));
}

function corrections(text: string): Record<string, string | null> {
  return Object.fromEntries(
    listOption("match", text).map((pair) => {
      const [a, b, more] = pair.split("=");
      if (!a || !b || more !== undefined)
        throw new UsageError(`--match takes pairs such as coil=coil-2 or foil=-, not "${pair}".`);
      return [a, b === "-" ? null : b] as const;
    }),
  );
}

export const compare: Command = { name: "compare", summary: "two devices beside each other", help, run };
