/** Two devices beside each other as text, at most 80 columns wide. */
import type { Explained, RecordComparison } from "../core/measure/index.ts";
import { resultText } from "../core/measure/index.ts";
import { fallsOf } from "../figures/index.ts";
import { fallTexts } from "./strip-text.ts";
import { wrap } from "./wrap.ts";

const WIDTH = 80;
/** A row as it stands where it fits, so that columns stay; else broken at spaces. */
const item = (text: string): string =>
  text.length + 2 <= WIDTH ? `  ${text}\n` : `${wrap(text, WIDTH, "  ", "    ")}\n`;
const signed = (x: number, digits = 0): string => `${x > 0 ? "+" : ""}${x.toFixed(digits)}`;

export function compareText(c: RecordComparison, nameA: (id: string) => string, nameB: (id: string) => string): string {
  const blocks = [
    `${wrap(`${c.a.name} against ${c.b.name} (differences: first less second)`, WIDTH)}\n`,
    section("The device", deviceText(c)),
    explainedText(c.mass, "Mass"),
    ...c.thickness.map((one) => explainedText(one, `Thickness, ${one.name}`)),
    section("Parts", partsText(c, nameA, nameB)),
    section("Fasteners and joints", countsText(c)),
    c.ways.length === 0 ? "" : section("Ways in to the priority parts (without damage)", waysText(c)),
    c.warnings.length === 0 ? "" : section("To be said with it", c.warnings.map(item).join("")),
  ];
  return blocks.filter((block) => block !== "").join("\n");
}

const section = (title: string, body: string): string => (body === "" ? "" : `${title}\n${body}`);

function deviceText(c: RecordComparison): string {
  const rows = Object.entries(c.device)
    .filter(([quantity]) => quantity !== "energy")
    .map(([quantity, d]) => item(`${quantity.padEnd(11)} ${d.text}${d.told ? "" : " (no difference can be told)"}`));
  const energy = (label: string, key: "energyWh" | "whPerKg" | "whPerL", unit: string) => {
    const { a, b, difference } = c.battery[key];
    if (a === null || b === null) return "";
    return item(`${label.padEnd(11)} ${a.toFixed(1)} against ${b.toFixed(1)} ${unit} (${signed(difference!, 1)})`);
  };
  const { a, b, classA, classB } = c.index;
  const index =
    a === null && b === null
      ? ""
      : item(
          `${"legal index".padEnd(11)} ${a ?? "none"} (${classA ?? "no class"}) against ${b ?? "none"} (${classB ?? "no class"})`,
        );
  return `${rows.join("")}${energy("energy", "energyWh", "Wh")}${energy("per mass", "whPerKg", "Wh/kg")}${energy("per volume", "whPerL", "Wh/L")}${index}`;
}

/** Columns of the bars beside the changes. */
const BARS = 26;

function explainedText(one: Explained, title: string): string {
  if (one.total === null) return "";
  const notes = new Map(one.changes.map((change) => [change.what, NOTES[change.kind]]));
  const falls = fallsOf(one);
  const bars = fallTexts(falls, BARS);
  const rows = falls.map(({ change }, i) => {
    const what = uncapital(change.what, one);
    const words = `${resultText(change.difference, change.U, one.unit).padEnd(18)} ${what}${notes.get(what) ?? ""}`;
    const room = WIDTH - BARS - 4;
    return words.length <= room ? `  ${words.padEnd(room)} ${bars[i]!}`.trimEnd().concat("\n") : item(words);
  });
  return section(`${title}: ${one.total.text} in all`, rows.join(""));
}

const NOTES = { added: " (new)", dropped: " (gone)", changed: "", gap: "", unaccounted: "" } as const;

/** Pictures begin a name with a capital; in a list it stands as it was found. */
const uncapital = (what: string, one: Explained): string =>
  one.changes.find((change) => change.what.toLowerCase() === what.toLowerCase())?.what ??
  what.charAt(0).toLowerCase() + what.slice(1);

function partsText(c: RecordComparison, nameA: (id: string) => string, nameB: (id: string) => string): string {
  const list = (label: string, names: readonly string[]) =>
    names.length === 0 ? "" : item(`${label}: ${names.join(", ")}`);
  const corrected = c.parts
    .filter((part) => part.by === "role and order")
    .map((part) => `${nameA(part.a)} = ${nameB(part.b)}`);
  return (
    item(`${c.parts.length} matched by role or name`) +
    list("new", c.added.map(nameA)) +
    list("gone", c.dropped.map(nameB)) +
    list(
      "merged",
      c.merged.map(({ a, from }) => `${from.map(nameB).join(" + ")} into ${nameA(a)}`),
    ) +
    list(
      "split",
      c.split.map(({ b, into }) => `${nameB(b)} into ${into.map(nameA).join(" + ")}`),
    ) +
    list("matched only by their order, to be checked (--match)", corrected)
  );
}

function countsText(c: RecordComparison): string {
  const changed = [...c.fasteners, ...c.joints.filter((one) => one.what !== "screw")];
  return changed
    .map((one) =>
      item(
        `${one.what.padEnd(32)} ${String(one.a).padStart(4)} against ${String(one.b).padStart(4)}  (${signed(one.difference)})`,
      ),
    )
    .join("");
}

function waysText(c: RecordComparison): string {
  const number = (x: number | null, unit: string, digits: number) =>
    x === null ? "none" : `${x.toFixed(digits)}${unit}`;
  return c.ways
    .map(({ role, seconds, steps }) =>
      item(
        `${role.padEnd(16)} ${number(seconds.a, " s", 1).padStart(9)} against ${number(seconds.b, " s", 1).padStart(9)}; ${number(steps.a, "", 0).padStart(4)} steps against ${number(steps.b, "", 0).padStart(4)}`,
      ),
    )
    .join("");
}
