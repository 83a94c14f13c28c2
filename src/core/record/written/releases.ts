/**
 * Ways to undo a joint as they are written into a table:
 *
 *     unscrew with ph000, 6 s
 *     slice with pick + gun, warm rim 70 degC soft 90 s, leaves spent; or cut with knife, leaves broken, hazard puncture
 *
 * What the text does not say (what a release harms, destroys or what it turns to when it fails) stays as it was.
 */
import { InputError } from "../../errors.ts";
import { nearest } from "../nearest.ts";
import { ACTIONS_OF_RELEASE, HAZARDS, type Release } from "../schema.ts";
import { listText, type NameList, readList } from "./groups.ts";

const LEAVES = ["whole", "spent", "broken", "unknown"] as const;
const NUMBER = String.raw`(-?\d+(?:[.,]\d+)?)`;
const number = (text: string): number => Number(text.replace(",", "."));

export function releasesText(releases: readonly Release[]): string {
  return releases.map(releaseText).join("; or ");
}

function releaseText(release: Release): string {
  const { heat } = release;
  return [
    `${release.action}${release.tools.length === 0 ? "" : ` with ${listText(release.tools)}`}`,
    heat === undefined
      ? null
      : [
          `warm ${heat.zone} ${heat.bond} degC`,
          heat.by === undefined ? "" : ` by ${heat.by}`,
          heat.soft === undefined ? "" : ` soft ${heat.soft} s`,
          heat.passes ? " in passes" : "",
        ].join(""),
    release.seconds === undefined ? null : `${release.seconds} s`,
    release.leaves === "whole" ? null : `leaves ${release.leaves}`,
    release.hard ? "hard" : null,
    release.solvent ? "solvent" : null,
    release.clean ? "clean" : null,
    release.hazard === undefined || release.hazard.length === 0 ? null : `hazard ${listText(release.hazard)}`,
  ]
    .filter((one) => one !== null)
    .join(", ");
}

/**
 * @param before the releases that stand there: what the text cannot say is taken over from the one in the same place
 *   with the same action
 * @throws InputError naming the words that were not understood
 */
export function readReleases(text: string, tools: NameList, before: readonly Release[] = []): Release[] {
  if (text.trim() === "") return [];
  return text.split(/\s*;\s*(?:or\s+)?/i).map((part, index) => readRelease(part, tools, before[index]));
}

function readRelease(text: string, tools: NameList, before: Release | undefined): Release {
  const [head = "", ...rest] = splitCommas(text);
  const words = /^(\S+)(?:\s+with\s+(.+))?$/i.exec(head.trim());
  const action = oneOf(words?.[1] ?? head, ACTIONS_OF_RELEASE, "an action");
  const kept = before?.action === action ? before : undefined;
  const { seconds: _, hard: __, solvent: ___, clean: ____, hazard: _____, heat, ...more } = kept ?? { heat: undefined };
  let release: Release = { ...more, action, tools: readList(words?.[2] ?? "", tools), leaves: "whole" };
  for (const piece of rest) release = { ...release, ...readPiece(piece.trim(), heat, tools) };
  return release;
}

function readPiece(piece: string, heat: Release["heat"], tools: NameList): Partial<Release> {
  const time = new RegExp(`^${NUMBER}\\s*s$`, "i").exec(piece);
  if (time) return { seconds: number(time[1]!) };
  const leaves = /^leaves\s+(\S+)$/i.exec(piece);
  if (leaves) return { leaves: oneOf(leaves[1]!, LEAVES, "what the joint is left as") };
  if (/^hard$/i.test(piece)) return { hard: true };
  if (/^solvent$/i.test(piece)) return { solvent: true };
  if (/^clean$/i.test(piece)) return { clean: true };
  const hazard = /^hazard\s+(.+)$/i.exec(piece);
  if (hazard) return { hazard: hazard[1]!.split(/\s*\+\s*|\s+and\s+/i).map((one) => oneOf(one, HAZARDS, "a hazard")) };
  const warm = new RegExp(
    `^warm\\s+(\\S+)\\s+${NUMBER}\\s*(?:degC|°C|C)?(?:\\s+by\\s+(.+?))?(?:\\s+soft\\s+${NUMBER}\\s*s)?(\\s+in\\s+passes)?$`,
    "i",
  ).exec(piece);
  if (warm) {
    const [, zone, bond, by, soft, passes] = warm;
    const { by: _, soft: __, passes: ___, ...old } = heat ?? {};
    return {
      heat: {
        ...old,
        zone: zone!,
        bond: number(bond!),
        ...(by === undefined ? {} : { by: tools.need(by) }),
        ...(soft === undefined ? {} : { soft: number(soft) }),
        ...(passes === undefined ? {} : { passes: true as const }),
      },
    };
  }
  throw new InputError({
    path: "",
    found: `"${piece}"`,
    expected: "12 s, leaves spent, warm ZONE 70 degC, hard, solvent, clean or hazard puncture",
  });
}

/** At commas, except those inside a number. */
const splitCommas = (text: string): string[] => text.split(/,(?!\d)/);

/** A word out of a few, capitals or not. @throws InputError naming them all and the nearest */
export function oneOf<T extends string>(word: string, words: readonly T[], what: string): T {
  const low = word.trim().toLowerCase();
  const found = words.find((one) => one === low);
  if (found !== undefined) return found;
  const near = nearest(low, words);
  throw new InputError({
    path: "",
    found: low === "" ? "nothing" : `"${word.trim()}"`,
    expected: `${what}: ${words.join(", ")}`,
    ...(near === undefined ? {} : { nearest: near }),
  });
}
