/**
 * The cautions that a way in makes necessary: plain words to stand beside its numbers, on screen and on paper.
 *
 * Limits are settings of common practice (no source) where nothing else is said. Local rules and qualified people come
 * first, always.
 */
import type { TeardownRecord } from "../core/record/index.ts";
import type { WayIn } from "../core/route/ways/types.ts";
import { spokenTime } from "../figures/index.ts";

export interface CautionWords {
  readonly title: string;
  readonly text: string;
}

export const RULES_FIRST = "Local rules and qualified people come first.";

/** What holds for every opened device with a cell in it. */
export const CELL_CAUTION: CautionWords = {
  title: "A swollen, hot or venting cell",
  text: "Stop and leave it alone: no heat, no prying. Ventilate, keep people away and follow your site's rules for lithium cells.",
};

export function cautionsFor(record: TeardownRecord, way: WayIn): readonly CautionWords[] {
  const out: CautionWords[] = [];
  const releases = way.operations.flatMap((operation) => {
    const joint = record.joints.find((one) => one.id === operation.joint);
    const release = operation.release === undefined ? undefined : joint?.releases[operation.release];
    return release === undefined ? [] : [{ joint: joint!, release, operation }];
  });
  const hazards = new Set(releases.flatMap(({ release }) => release.hazard ?? []));
  const battery = record.parts.find((part) => part.role === "battery");
  const heatings = way.operations.filter((one) => one.kind === "heat");
  const passes = releases.filter(({ operation }) => operation.passes !== undefined);
  if (heatings.length > 0 || passes.length > 0) {
    const charge = record.sessions?.findLast((session) => session.charge !== undefined)?.charge;
    const measured = charge === undefined ? "" : ` (last read: ${charge} %)`;
    const heated = heatings.reduce((sum, one) => sum + one.seconds, 0);
    const rounds = heatings.length + passes.reduce((sum, { operation }) => sum + (operation.passes ?? 0), 0);
    out.push({
      title: "Heat beside a cell",
      text:
        `${rounds} heating${rounds === 1 ? "" : "s"}${heated > 0 ? `, ${spokenTime(heated)} of them counted here` : ""}. ` +
        `Charge below 30 %${measured}. Keep the cell below 55 °C, stop at 60 °C; time between 45 and 55 °C adds up over all heatings. ` +
        "Warm metal and glass burn skin before they look hot.",
    });
  }
  if (releases.some(({ release }) => release.solvent))
    out.push({
      title: "Solvent",
      text: "Flammable vapour: nothing warm or sparking nearby, heat source off and cold, good ventilation, gloves and eye protection.",
    });
  if (hazards.has("puncture"))
    out.push({
      title: "Prying at a cell",
      text: "A cut or bent cell can burn at once. Blunt plastic only, no leverage on the cell's body, sand and a clear bench at hand.",
    });
  if (hazards.has("short"))
    out.push({
      title: "Short circuit",
      text: "Metal near live contacts: isolate the cell first, cover what stays live.",
    });
  if (hazards.has("shard") || releases.some(({ joint }) => glassIn(record, joint.holds)))
    out.push({
      title: "Glass",
      text: "It breaks without warning: eye protection, cut-proof gloves, tape over cracked glass.",
    });
  if (hazards.has("fume")) out.push({ title: "Fumes", text: "Extraction at the work, not just an open window." });
  if (hazards.has("burn"))
    out.push({ title: "Burns", text: "Tool and work stay hot: put them where nobody reaches for them." });
  const moved = new Set(way.operations.flatMap((one) => one.part ?? []));
  const flagged = (flag: "esd" | "laser" | "magnet") =>
    record.parts.filter((part) => part[flag] && moved.has(part.id)).map((part) => part.name);
  const still = flagged("esd");
  if (still.length > 0)
    out.push({ title: "Static", text: `${still.join(", ")}: wrist strap and mat, hold by the edges.` });
  const laser = flagged("laser");
  if (laser.length > 0)
    out.push({
      title: "Laser source",
      text: `${laser.join(", ")}: never power it while it is open; do not look into it.`,
    });
  const magnets = flagged("magnet");
  if (magnets.length > 0)
    out.push({ title: "Magnets", text: `${magnets.join(", ")}: they pull screws and blades to where the cell is.` });
  if (battery !== undefined) out.push(CELL_CAUTION);
  return out;
}

function glassIn(record: TeardownRecord, ids: readonly string[]): boolean {
  return ids.some((id) => /glass/i.test(record.parts.find((part) => part.id === id)?.material ?? ""));
}
