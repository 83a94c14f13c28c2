/**
 * A joint told in one line, for entry by keyboard:
 *
 *     6 screw: cover + frame; Phillips #000, M1.2, 2.4 mm; after back; unscrew with ph000
 *
 * Count and kind, what it holds, then in any order the fastener, what must be away to reach it, the side it is reached
 * from, whether it isolates the cell, and how it is undone.
 */
import { InputError } from "../../core/errors.ts";
import { JOINT_KINDS, type Joint, nearest, SIDES, type TeardownRecord } from "../../core/record/index.ts";
import {
  idFrom,
  NameList,
  oneOf,
  readGroups,
  readList,
  readReleases,
  readScrews,
} from "../../core/record/written/index.ts";

const USUAL: Readonly<Partial<Record<Joint["kind"], string>>> = {
  connector: "unplug",
  "spring-contact": "",
  magnet: "",
};

/** @throws InputError naming the piece that was not understood */
export function readJoint(text: string, record: TeardownRecord): Joint {
  const parts = new NameList("part", record.parts);
  const tools = new NameList("tool", record.tools);
  const head = /^\s*(?:(\d+)\s+)?([a-z-]+?)s?\s*:\s*([^;]+)(.*)$/i.exec(text);
  if (!head)
    throw new InputError({
      path: "",
      found: `"${text}"`,
      expected: "a count, a kind, and what it holds, such as 6 screw: cover + frame; Phillips #000, 2.4 mm",
    });
  const [, count, kindWord, holdsText, rest] = head as unknown as [string, string | undefined, string, string, string];
  const kind = JOINT_KINDS.find((one) => one === kindWord.toLowerCase());
  if (kind === undefined) {
    const near = nearest(kindWord.toLowerCase(), JOINT_KINDS);
    throw new InputError({
      path: "",
      found: `"${kindWord}"`,
      expected: `a kind of joint: ${JOINT_KINDS.join(", ")}`,
      ...(near === undefined ? {} : { nearest: near }),
    });
  }
  const holds = readList(holdsText, parts);
  const pieces = rest.split(/\s*;\s*/).filter((one) => one !== "");
  const after = pieces.filter((one) => /^after\s/i.test(one)).map((one) => readGroups(one.slice(6), parts));
  const sides = pieces
    .flatMap((one) => /^from\s+(.+)$/i.exec(one)?.[1] ?? [])
    .map((one) => oneOf(one, SIDES, "a side"));
  const power = pieces.some((one) => /^isolates the cell$/i.test(one));
  const undone = pieces.filter((one) => !/^(?:after\s|from\s|isolates the cell$)/i.test(one));
  const screws =
    kind === "screw" && undone[0] !== undefined && !/^(?:or\s|\S+\s+with\s)/i.test(undone[0])
      ? undone.shift()
      : undefined;
  const usual = USUAL[kind];
  const releases = undone.length > 0 ? readReleases(undone.join("; "), tools) : usual ? readReleases(usual, tools) : [];
  return {
    id: idFrom(
      `${holds[0]}-${kind}`,
      record.joints.map((one) => one.id),
    ),
    kind,
    holds,
    ...(count === undefined ? {} : { count: Number(count) }),
    ...(after.length === 0 ? {} : { reach: after.flat() }),
    ...(sides[0] === undefined ? {} : { side: sides[0] }),
    ...(power ? { power: true as const } : {}),
    releases,
    ...(screws === undefined ? {} : { screws: readScrews(screws)! }),
  };
}
