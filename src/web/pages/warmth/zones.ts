/** The zones of a record as the page lists them: what each frees, by what it is heated, and what is known of it. */
import type { Joint, Part, Release, TeardownRecord } from "../../../core/record/index.ts";
import { releaseTime } from "../../../core/structure/index.ts";

export interface ZoneHere {
  readonly id: string;
  /** The record has lines through the device for it. */
  readonly layers: boolean;
  readonly uses: readonly { readonly joint: Joint; readonly release: Release }[];
  /** Names of the parts that the bonds hold. */
  readonly frees: string;
  /** Id and name of the source; null where the record names none. */
  readonly source: { readonly id: string; readonly name: string } | null;
  /** s of the longest cut, each joint undone by the first of its ways that needs this zone. */
  readonly cut: number;
  readonly bond: number | null;
}

export function zonesOf(record: TeardownRecord): ZoneHere[] {
  const lined = (record.zones ?? []).map(({ id }) => id);
  const used = record.joints.flatMap((joint) => joint.releases.flatMap((release) => release.heat?.zone ?? []));
  return [...new Set([...lined, ...used])].map((id) => {
    const uses = record.joints.flatMap((joint) =>
      joint.releases.filter((release) => release.heat?.zone === id).map((release) => ({ joint, release })),
    );
    const firstWays = uses.filter((use, i) => uses.findIndex(({ joint }) => joint === use.joint) === i);
    const by = uses.map(({ release }) => release.heat?.by).find((one) => one !== undefined);
    const tool = record.tools.find((one) => one.id === by);
    const held = new Set(uses.flatMap(({ joint }) => joint.holds));
    const bonds = uses.flatMap(({ release }) => release.heat?.bond ?? []);
    return {
      id,
      layers: lined.includes(id),
      uses,
      // What comes off first, what stays last.
      frees: record.parts
        .filter((part) => held.has(part.id))
        .sort((a, b) => staying(a) - staying(b))
        .map((part) => part.name)
        .join(" from "),
      source: tool === undefined ? null : { id: tool.id, name: tool.name },
      cut: Math.round(Math.max(0, ...firstWays.map(({ joint, release }) => releaseTime(joint, release).ms)) / 1000),
      bond: bonds.length === 0 ? null : Math.max(...bonds),
    };
  });
}

function staying(part: Part): number {
  if (part.base === true) return 2;
  return part.role === "frame" || part.role === "board" ? 1 : 0;
}

/** The zone asked for, else that of the chosen part, else the first with layers. */
export function chosenZone(zones: readonly ZoneHere[], asked: string | null, part: string | null): ZoneHere | null {
  const lined = zones.filter(({ layers }) => layers);
  return (
    lined.find(({ id }) => id === asked) ??
    lined.find(({ uses }) => part !== null && uses.some(({ joint }) => joint.holds.includes(part))) ??
    lined[0] ??
    null
  );
}
