/** How a record begins: from nothing, or from the structure of the model before. */
import type { Device, TeardownRecord } from "./schema.ts";
import { RECORD_FORMAT } from "./schema.ts";

/** A record with one part, the base that everything else is taken off. @param id a UUID */
export function emptyRecord(id: string, device: Device): TeardownRecord {
  return {
    format: RECORD_FORMAT,
    id,
    device,
    parts: [{ id: "frame", name: "Frame", base: true }],
    joints: [],
    tools: [],
    instruments: [],
    log: [],
    readings: [],
    claims: [],
    media: [],
  };
}

/**
 * The sibling's parts, joints, tools and materials under a new id, every relation a guess (basis `sibling`) until it is
 * tried. What was measured, said, photographed, logged, described or proved there was about another unit and stays there,
 * and so do the numbers stamped on its parts.
 */
export function fromSibling(sibling: TeardownRecord, id: string, device: Device): TeardownRecord {
  const guess = { basis: "sibling" } as const;
  return {
    format: RECORD_FORMAT,
    id,
    device,
    sibling: sibling.id,
    parts: sibling.parts.map(({ marks: _, spare: __, ...part }) => (part.base ? part : { ...part, ...guess })),
    joints: sibling.joints.map((joint) => ({ ...joint, ...guess })),
    tools: sibling.tools,
    ...(sibling.consumables === undefined ? {} : { consumables: sibling.consumables }),
    instruments: sibling.instruments,
    log: [],
    readings: [],
    claims: [],
    media: [],
    ...(sibling.zones === undefined ? {} : { zones: sibling.zones }),
  };
}
