/** What travels, as schemas; the compiler holds them to the types in `api.ts`, which the browser application uses. */
import { z } from "zod";
import { CONDITIONS, Edit, HAZARDS, Money, SIDES, TeardownRecord } from "../core/record/index.ts";
import type * as api from "./api.ts";
import { wholeNumber } from "./route.ts";

const revision = z.number().int().min(1);
const text = z.string().max(400);
const time = z.string();

export const Fault = z.strictObject({
  path: z.string(),
  found: z.string(),
  expected: z.string(),
  nearest: z.string().optional(),
}) satisfies z.ZodType<api.Fault>;
export const Refused = z.strictObject({
  ok: z.literal(false),
  faults: z.array(Fault),
}) satisfies z.ZodType<api.Refused>;
export const Health = z.strictObject({ ok: z.literal(true), version: z.string() }) satisfies z.ZodType<api.Health>;
const Warning = z.strictObject({ path: z.string(), text: z.string() });

export const RecordHead = z.strictObject({
  id: z.string(),
  revision,
  name: z.string(),
  maker: z.string().nullable(),
  kind: z.enum(["smartphone", "slate-tablet", "other"]),
  sibling: z.string().nullable(),
  parts: z.number().int(),
  joints: z.number().int(),
  savedAt: time,
}) satisfies z.ZodType<api.RecordHead>;
export const KeptRecord = z.strictObject({
  revision,
  savedAt: time,
  record: TeardownRecord,
  warnings: z.array(Warning),
}) satisfies z.ZodType<api.KeptRecord>;
export const SaveRequest = z.strictObject({
  on: revision,
  edits: z.array(Edit).max(5000),
  token: z.string().min(1).max(100).optional(),
  by: text.optional(),
}) satisfies z.ZodType<api.SaveRequest>;
export const RestoreRequest = z.strictObject({
  on: revision,
  revision,
  by: text.optional(),
}) satisfies z.ZodType<api.RestoreRequest>;
export const Saved = z.strictObject({
  kind: z.literal("saved"),
  id: z.string(),
  revision,
  savedAt: time,
}) satisfies z.ZodType<api.Saved>;
export const Stale = z.strictObject({
  kind: z.literal("stale"),
  id: z.string(),
  on: z.number().int(),
  revision,
  since: z.array(Edit),
}) satisfies z.ZodType<api.Stale>;
export const Revision = z.strictObject({
  revision,
  kind: z.enum(["import", "edits", "restore"]),
  savedAt: time,
  by: z.string().nullable(),
  edits: z.array(Edit),
}) satisfies z.ZodType<api.Revision>;
export const Found = z.strictObject({
  record: z.string(),
  list: z.string(),
  id: z.string(),
  text: z.string(),
}) satisfies z.ZodType<api.Found>;
export const TakenMedia = z.strictObject({
  name: z.string(),
  hash: z.string(),
  kind: z.enum(["photo", "video", "audio"]),
  type: z.string(),
  bytes: z.number().int(),
  width: z.number().int().optional(),
  height: z.number().int().optional(),
  focal: z.number().optional(),
  said: z.array(z.string()),
}) satisfies z.ZodType<api.TakenMedia>;

const ids = z.array(z.string().max(200)).max(2000);
export const Question = z.strictObject({
  to: ids,
  least: z.enum(["seconds", "steps", "risk"]),
  damage: z.boolean().optional(),
  accept: z.array(z.enum(HAZARDS)).optional(),
  conditions: z.array(z.enum(CONDITIONS)).optional(),
  isolation: z.boolean().optional(),
  doubt: z.union([z.enum(["written", "none"]), ids]).optional(),
  readings: z
    .strictObject({
      I1: z.boolean(),
      I2: z.boolean(),
      I3: z.boolean(),
      I4: z.boolean(),
      I5: z.boolean(),
      I6: z.boolean(),
      I7: z.boolean(),
      I9: z.boolean(),
      I10: z.boolean(),
    })
    .optional(),
  capSteps: z.number().min(0).optional(),
  capRisk: z
    .string()
    .regex(/^\d{1,15}(\.\d{1,6})?$/, "a decimal such as 12.50")
    .optional(),
  gone: ids.optional(),
}) satisfies z.ZodType<api.Question>;

const names = z.array(z.string());
export const WayOperation = z.strictObject({
  kind: z.enum(["release", "lift", "shift", "heat"]),
  joint: z.string().optional(),
  release: z.number().int().optional(),
  part: z.string().optional(),
  zone: z.string().optional(),
  action: z.string().optional(),
  tools: names,
  fetch: names,
  turn: z.boolean(),
  side: z.enum(SIDES).optional(),
  passes: z.number().int().optional(),
  at: z.number(),
  seconds: z.number(),
  steps: z.number(),
});
/** A release that may fail, and how the work goes on then. */
const Branch = z.strictObject({
  joint: z.string(),
  chance: z.number(),
  then: z.number().int(),
  seconds: z.number(),
  expected: z.number(),
});
export const WayIn = z.strictObject({
  targets: names,
  least: z.enum(["seconds", "steps", "risk"]),
  seconds: z.number(),
  steps: z.number(),
  remoteSteps: z.number(),
  risk: Money.nullable(),
  lowerBound: z.number(),
  proved: z.boolean(),
  range: z.strictObject({ low: z.number(), usual: z.number(), high: z.number() }).nullable(),
  operations: z.array(WayOperation),
  branches: z.array(Branch),
  assumptions: names,
  warnings: names,
  milliseconds: z.number(),
}) satisfies z.ZodType<api.WayIn>;
export const Unreachable = z.strictObject({
  unreachable: z.array(z.strictObject({ part: z.string(), because: z.string(), blockedBy: names })),
}) satisfies z.ZodType<api.Unreachable>;

/** docs/core/law.md tells of the rest; `index` and `class` are null where the law has no points. */
export const Law = z.looseObject({
  basis: z.enum(["described", "done", "least"]),
  index: z.string().nullable(),
  unrounded: z.string().nullable(),
  class: z.string().nullable(),
  roundingDecides: z.boolean(),
  scores: z.record(z.string(), z.unknown()),
  parts: z.record(z.string(), z.unknown()),
  unknown: z.array(z.unknown()),
  warnings: names,
});

export const Figures = z.looseObject({
  mass: z.unknown(),
  thickness: z.array(z.unknown()),
  battery: z.unknown(),
  readings: z.array(z.unknown()),
  claims: z.array(z.unknown()),
});

export const AtRevision = z.strictObject({ revision: wholeNumber.optional() });
export { Edit, TeardownRecord };

export const Edition = z.strictObject({
  edition: z.number().int(),
  date: time,
  revision: z.string(),
}) satisfies z.ZodType<api.IssuedEdition>;

/** Schemas that the description tells once and refers to by name. */
export const NAMED = {
  TeardownRecord,
  Edit,
  Fault,
  Refused,
  Health,
  RecordHead,
  KeptRecord,
  SaveRequest,
  RestoreRequest,
  Saved,
  Stale,
  Revision,
  Found,
  TakenMedia,
  Question,
  WayIn,
  Unreachable,
  Law,
  Figures,
  Edition,
} as const;
