import { z } from "zod";
import { TeardownRecord } from "./schema.ts";

/** The record's format as JSON Schema 2020-12; `docs/record.schema.json` is kept equal to it by a test. */
export function recordJsonSchema(): object {
  const schema = z.toJSONSchema(TeardownRecord, { target: "draft-2020-12" });
  return {
    ...schema,
    title: "unseam/1: the teardown record",
    description:
      "One teardown of one device. Lengths in mm, masses in g, temperatures in degC, times in s. The schema says what may stand where; references, circles and units are checked by `unseam check`.",
  };
}
