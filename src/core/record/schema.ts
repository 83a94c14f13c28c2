/**
 * The teardown record: one teardown of one device as one JSON document, `unseam/1`.
 *
 * Lengths in mm, masses in g, temperatures in degC, times in s; money as a decimal string with its currency.
 * The schema says what may stand where; `check.ts` adds what a schema cannot say (references, circles, units).
 */
import { z } from "zod";

const id = z.string().min(1).max(200);
const text = z.string().max(20_000);
const name = z.string().min(1).max(400);
const finite = z.number();
const positive = z.number().positive();
const atLeast0 = z.number().min(0);
const chance = z.number().min(0).max(1);
const seconds = atLeast0;
/** Calendar date, or date and time, of ISO 8601. */
const date = z
  .string()
  .regex(/^\d{4}(-\d{2}(-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:\d{2})?)?)?)?$/, "an ISO 8601 date");
const point = z.tuple([finite, finite]);

export const UNIT_NAMES = [
  "g",
  "kg",
  "mg",
  "mm",
  "cm",
  "in",
  "um",
  "mm2",
  "cm2",
  "mAh",
  "Ah",
  "Wh",
  "J",
  "V",
  "mV",
  "mA",
  "A",
  "ohm",
  "mohm",
  "%",
  "degC",
  "degF",
  "s",
  "min",
  "h",
  "N.m",
  "cN.m",
  "N",
  "1",
] as const;
const unit = z.enum(UNIT_NAMES);

export const Quantity = z.strictObject({ value: finite, unit }).describe("A number with its unit.");
export const Money = z
  .strictObject({
    amount: z.string().regex(/^\d{1,15}(\.\d{1,6})?$/, "a decimal such as 12.50"),
    currency: z.string().regex(/^[A-Z]{3}$/, "a currency code of ISO 4217"),
  })
  .describe("An exact decimal amount and its ISO 4217 currency code.");

export const SIDES = ["back", "front", "top", "bottom", "left", "right"] as const;
export const Side = z.enum(SIDES);
const Ring = z.array(point).min(3).max(5000);
export const BASES = ["tried", "seen", "stated", "inferred", "sibling"] as const;
export const Basis = z.enum(BASES).describe("How a relation is known; inferred and sibling are open questions.");
const Groups = z.array(z.array(id));

export const PRIORITY_ROLES = [
  "battery",
  "display",
  "back-cover",
  "front-camera",
  "rear-camera",
  "charging-port",
  "button",
  "main-microphone",
  "speaker",
  "hinge",
] as const;
export const ROLES = [
  ...PRIORITY_ROLES,
  "audio-connector",
  "sim-tray",
  "protective-foil",
  "board",
  "frame",
  "bracket",
  "shield",
  "antenna",
  "sensor",
  "motor",
  "coil",
  "cable",
  "gasket",
  "other",
] as const;
export const Role = z.enum(ROLES);

export const Device = z.strictObject({
  name,
  maker: name.optional(),
  model: name.optional(),
  kind: z.enum(["smartphone", "slate-tablet", "other"]),
  foldable: z.boolean(),
  released: date.optional(),
  price: Money.optional(),
  ingress: z.string().max(20).optional(),
  cell: z.strictObject({ capacity: Quantity, voltage: Quantity }).optional(),
  stackups: z
    .array(
      z.strictObject({
        name,
        place: point,
        gaps: z.array(z.strictObject({ name, value: finite, tolerance: atLeast0.optional() })).optional(),
      }),
    )
    .optional(),
});

export const Unit = z.strictObject({
  market: name.optional(),
  storage: name.optional(),
  colour: name.optional(),
  build: name.optional(),
  seal: name.optional(),
  serialTail: z.string().max(4, "the last four signs at most").optional(),
  condition: z.enum(["new", "used", "refurbished", "damaged"]),
});

export const Session = z.strictObject({
  id,
  started: date,
  by: name.optional(),
  kind: z.enum(["first-look", "timed", "repair", "inspection"]),
  room: Quantity.optional(),
  charge: z.number().min(0).max(100).optional(),
  signedOut: z.boolean().optional(),
});

export const Part = z.strictObject({
  id,
  name,
  role: Role.optional(),
  base: z.literal(true).optional(),
  within: id.optional(),
  under: Groups.optional(),
  side: Side.optional(),
  seconds: seconds.optional(),
  shift: z.strictObject({ freeing: z.array(id), seconds: seconds.optional() }).optional(),
  live: z.boolean().optional(),
  basis: Basis.optional(),
  pairing: z.strictObject({ notification: z.boolean().optional(), authorisation: z.boolean().optional() }).optional(),
  ifUnpaired: z.enum(["nothing", "message", "feature-lost", "dead"]).optional(),
  outline: z.array(Ring).min(1).optional(),
  level: point.optional(),
  path: z.array(point).min(2).optional(),
  beneath: z.array(id).optional(),
  serves: z.array(Role).optional(),
  material: name.optional(),
  gives: z.array(name).optional(),
  marks: z
    .array(
      z.strictObject({
        number: name.optional(),
        revision: name.optional(),
        made: name.optional(),
        where: name.optional(),
      }),
    )
    .optional(),
  spare: z
    .strictObject({
      price: Money.optional(),
      leadDays: atLeast0.optional(),
      numbers: z.array(name).optional(),
      to: z.enum(["end-users", "professionals", "nobody"]).optional(),
      brings: z.array(id).optional(),
    })
    .optional(),
  esd: z.literal(true).optional(),
  magnet: z.literal(true).optional(),
  laser: z.literal(true).optional(),
  note: text.optional(),
});

export const CONDITIONS = [
  "swollen",
  "wet",
  "cracked-back",
  "cracked-display",
  "opened-before",
  "corroded",
  "no-power",
] as const;
export const Condition = z.enum(CONDITIONS);
export const ACTIONS_OF_RELEASE = [
  "unscrew",
  "unplug",
  "pry",
  "slice",
  "peel",
  "debond",
  "desolder",
  "cut",
  "pull",
] as const;
export const HAZARDS = ["puncture", "short", "burn", "fume", "shard"] as const;

export const Release = z.strictObject({
  action: z.enum(ACTIONS_OF_RELEASE),
  tools: z.array(id),
  seconds: seconds.optional(),
  hard: z.literal(true).optional(),
  leaves: z.enum(["whole", "spent", "broken", "unknown"]),
  heat: z
    .strictObject({
      zone: id,
      bond: finite,
      plate: finite.optional(),
      by: id.optional(),
      down: Side.optional(),
      seconds: seconds.optional(),
      soft: seconds.optional(),
      passes: z.literal(true).optional(),
    })
    .optional(),
  solvent: z.literal(true).optional(),
  clean: z.literal(true).optional(),
  hazard: z.array(z.enum(HAZARDS)).optional(),
  notWhen: z.array(Condition).optional(),
  onlyWhen: z.array(Condition).optional(),
  harm: z.array(z.strictObject({ part: id, chance })).optional(),
  destroys: z.array(id).optional(),
  fails: z.strictObject({ chance, then: z.number().int().min(0), seconds: seconds.optional() }).optional(),
});

export const JOINT_KINDS = [
  "screw",
  "clip",
  "press-fit",
  "connector",
  "adhesive",
  "tape",
  "debondable-adhesive",
  "magnet",
  "solder",
  "weld",
  "spring-contact",
  "seal",
] as const;

export const Joint = z.strictObject({
  id,
  kind: z.enum(JOINT_KINDS),
  holds: z.array(id).min(2),
  count: z.number().int().min(1).max(1000).optional(),
  reach: Groups.optional(),
  side: Side.optional(),
  basis: Basis.optional(),
  power: z.literal(true).optional(),
  releases: z.array(Release),
  screws: z
    .strictObject({
      drive: name,
      thread: name.optional(),
      length: positive.optional(),
      lengthIs: z.enum(["under-head", "overall"]).optional(),
      head: positive.optional(),
      torque: Quantity.optional(),
      torqueIs: z.enum(["stated", "back-off"]).optional(),
      each: z
        .array(
          z.strictObject({
            at: point.optional(),
            length: positive.optional(),
            mark: z.enum(["ground", "locked", "sealed", "hidden"]).optional(),
          }),
        )
        .optional(),
    })
    .optional(),
  plug: z
    .strictObject({
      form: z.enum(["board-to-board", "zif", "coaxial", "spring", "wire"]),
      pins: z.number().int().min(1).optional(),
    })
    .optional(),
  bond: z
    .strictObject({
      length: positive.optional(),
      width: positive.optional(),
      thickness: positive.optional(),
      softensAt: finite.optional(),
    })
    .optional(),
  remake: z
    .strictObject({
      uses: z.array(z.strictObject({ consumable: id, amount: Quantity })).optional(),
      clean: seconds.optional(),
      lay: seconds.optional(),
      press: seconds.optional(),
      cure: seconds.optional(),
      newFastener: z.literal(true).optional(),
    })
    .optional(),
});

export const TOOL_KINDS = [
  "basic",
  "with-spare-part",
  "with-product",
  "commercially-available",
  "proprietary",
] as const;
export const Tool = z.strictObject({
  id,
  name,
  heatSource: z.literal(true).optional(),
  conductive: z.literal(true).optional(),
  kind: z.enum(TOOL_KINDS),
});

export const Consumable = z.strictObject({
  id,
  name,
  number: name.optional(),
  price: Money.optional(),
  pack: Quantity.optional(),
  shelfDays: positive.optional(),
});

export const Instrument = z.strictObject({
  id,
  name: name.optional(),
  kind: z.enum([
    "scale",
    "caliper",
    "micrometer",
    "ruler",
    "multimeter",
    "thermocouple",
    "infrared",
    "stopwatch",
    "photo",
    "torque-driver",
    "supply",
    "other",
  ]),
  resolution: Quantity,
  maxError: Quantity.optional(),
  repeatability: Quantity.optional(),
  sharedOffset: Quantity.optional(),
  sharedGain: atLeast0.optional(),
  calibrated: date.optional(),
  due: date.optional(),
  emissivity: z.number().min(0).max(1).optional(),
});

export const QUANTITY_NAMES = [
  "mass",
  "thickness",
  "length",
  "width",
  "height",
  "diameter",
  "diagonal",
  "area",
  "capacity",
  "energy",
  "voltage",
  "current",
  "resistance",
  "charge",
  "temperature",
  "duration",
  "torque",
  "force",
  "count",
] as const;

export const Reading = z.strictObject({
  id,
  session: id.optional(),
  at: finite.optional(),
  of: z.array(id).min(1),
  record: id.optional(),
  on: z.array(id).optional(),
  off: z.array(id).optional(),
  place: point.optional(),
  quantity: z.enum(QUANTITY_NAMES),
  values: z.array(finite).min(1),
  unit,
  instrument: id.optional(),
});

export const ENTRY_ACTIONS = [
  "unscrew",
  "unplug",
  "heat",
  "wet",
  "pry",
  "slice",
  "lift",
  "shift",
  "peel",
  "debond",
  "desolder",
  "cut",
  "pull",
  "turn",
  "guard",
  "clean",
  "measure",
  "note",
  "refit",
  "plug",
  "fasten",
  "lay",
  "press",
  "cure",
  "isolate",
  "wake",
] as const;

export const Entry = z.strictObject({
  id,
  session: id.optional(),
  at: finite.optional(),
  until: finite.optional(),
  action: z.enum(ENTRY_ACTIONS),
  parts: z.array(id).optional(),
  joints: z.array(id).optional(),
  tool: id.optional(),
  lies: name.optional(),
  text: text.optional(),
  media: id.optional(),
  outcome: z.enum(["fine", "damaged"]).optional(),
  draft: z.literal(true).optional(),
});

export const CLAIM_RELATIONS = [
  "lighter",
  "heavier",
  "thinner",
  "thicker",
  "smaller",
  "larger",
  "shorter",
  "longer",
  "more",
  "fewer",
  "same",
  "fraction",
  "superlative",
  "adds-up",
  "ranked",
] as const;

export const Claim = z.strictObject({
  id,
  session: id.optional(),
  at: finite.optional(),
  text,
  subject: z.array(id).min(1),
  quantity: z.enum(QUANTITY_NAMES).optional(),
  relation: z.enum(CLAIM_RELATIONS),
  value: finite.optional(),
  unit: unit.optional(),
  band: z.enum(["over", "under", "just-over", "almost", "about"]).optional(),
  than: z.string().max(400).optional(),
  about: z.enum(["unit", "model"]).optional(),
  published: z.literal(true).optional(),
});

const PointMark = z.strictObject({ at: point, is: point });
const KnownPoint = PointMark.extend({
  level: finite.describe("Below the back face, mm; else that of all marks.").optional(),
});
/** Marks that turn a photograph into a drawing board; pixels from the upper left corner of the upright picture. */
export const PhotoView = z
  .strictObject({
    size: z.tuple([z.number().int().min(1), z.number().int().min(1)]),
    seen: z.enum(["back", "front"]),
    level: finite.describe("Level of the marked edges and points below the back face, mm."),
    body: z
      .tuple([finite, finite, finite, finite])
      .describe("Least and greatest x, least and greatest y, mm.")
      .optional(),
    edges: z
      .array(z.strictObject({ edge: z.enum(["left", "right", "top", "bottom"]), at: z.array(point).min(1).max(100) }))
      .max(4)
      .optional(),
    points: z.array(KnownPoint).max(200).optional(),
    card: z.strictObject({ level: finite, points: z.array(PointMark).max(200) }).optional(),
    focal: positive.describe("As that of a 35 mm film camera, mm.").optional(),
  })
  .describe("What was marked in a photograph, for places to be read off it.");

export const Media = z.strictObject({
  id,
  session: id.optional(),
  kind: z.enum(["photo", "video", "audio"]),
  file: z.string().min(1).max(1000),
  hash: z.string().max(200).optional(),
  starts: finite.optional(),
  view: PhotoView.optional(),
});

export const Check = z.strictObject({
  id,
  session: id.optional(),
  at: finite.optional(),
  what: name,
  when: z.enum(["before", "stop", "after"]),
  result: z.enum(["works", "fails", "not-tried"]),
  parts: z.array(id).optional(),
});

export const Described = z.strictObject({
  id,
  by: name,
  edition: name.optional(),
  parts: z.array(
    z.strictObject({
      part: id,
      steps: z.array(z.strictObject({ does: text, operations: z.array(z.string().max(500)), tools: z.array(id) })),
    }),
  ),
});

export const Market = z.strictObject({
  endOfMarket: date.optional(),
  securityUpdatesUntil: date.optional(),
  updateYears: atLeast0.optional(),
  repairInformation: z.enum(["free-for-all", "free-for-professionals", "fee", "none"]).optional(),
  battery: z
    .strictObject({
      after500: z.number().min(0).max(100).optional(),
      after1000: z.number().min(0).max(100).optional(),
      ingress: z.string().max(20).optional(),
    })
    .optional(),
});

export const ZoneStack = z.strictObject({
  id,
  lines: z.array(z.strictObject({ name, at: point })),
  programme: z.array(z.record(z.string(), z.unknown())).optional(),
  watch: z.array(z.record(z.string(), z.unknown())).optional(),
});

export const RECORD_FORMAT = "unseam/1";

export const TeardownRecord = z.strictObject({
  format: z.literal(RECORD_FORMAT),
  id: z.string().regex(/^[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{4}-[0-9a-fA-F]{12}$/, "a UUID"),
  device: Device,
  sibling: id.optional(),
  unit: Unit.optional(),
  sessions: z.array(Session).optional(),
  parts: z.array(Part),
  joints: z.array(Joint),
  tools: z.array(Tool),
  consumables: z.array(Consumable).optional(),
  instruments: z.array(Instrument),
  log: z.array(Entry),
  readings: z.array(Reading),
  claims: z.array(Claim),
  media: z.array(Media),
  checks: z.array(Check).optional(),
  described: z.array(Described).optional(),
  market: Market.optional(),
  zones: z.array(ZoneStack).optional(),
});

export type UnitName = z.infer<typeof unit>;
export type Quantity = z.infer<typeof Quantity>;
export type Money = z.infer<typeof Money>;
export type Side = z.infer<typeof Side>;
export type Basis = z.infer<typeof Basis>;
export type Role = z.infer<typeof Role>;
export type PriorityRole = (typeof PRIORITY_ROLES)[number];
export type Condition = z.infer<typeof Condition>;
export type Hazard = (typeof HAZARDS)[number];
export type Device = z.infer<typeof Device>;
export type Unit = z.infer<typeof Unit>;
export type Session = z.infer<typeof Session>;
export type Part = z.infer<typeof Part>;
export type Release = z.infer<typeof Release>;
export type Joint = z.infer<typeof Joint>;
export type Tool = z.infer<typeof Tool>;
export type Consumable = z.infer<typeof Consumable>;
export type Instrument = z.infer<typeof Instrument>;
export type Reading = z.infer<typeof Reading>;
export type QuantityName = (typeof QUANTITY_NAMES)[number];
export type Entry = z.infer<typeof Entry>;
export type Claim = z.infer<typeof Claim>;
export type Media = z.infer<typeof Media>;
export type Check = z.infer<typeof Check>;
export type Described = z.infer<typeof Described>;
export type Market = z.infer<typeof Market>;
export type ZoneStack = z.infer<typeof ZoneStack>;
export type TeardownRecord = z.infer<typeof TeardownRecord>;
