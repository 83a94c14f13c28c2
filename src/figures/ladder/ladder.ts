/** The ladder as a picture: a rung for each part that must come away, from what can be done at once to the target. */
import { jointDetail } from "../joint-words.ts";
import { group, line, path, type Scene, type Shape, text } from "../scene.ts";
import { fitText, textWidth } from "../text-width.ts";
import { directNeeds, type Rung } from "./rungs.ts";

const ROW = 42;
const TOP = 10;
const ARC = 13;
const MOST_TRACKS = 6;

/** Tracks for the lines left of the ladder, so that none runs over another: first track that is free over its rows. */
function tracks(spans: readonly (readonly [number, number])[]): readonly number[] {
  const taken: [number, number][][] = [];
  return spans.map(([from, to]) => {
    let track = 0;
    while (taken[track]?.some(([a, b]) => from < b && a < to)) track++;
    (taken[track] ??= []).push([from, to]);
    return track;
  });
}

export function drawLadder(rungs: readonly Rung[], target: string, width: number): Scene {
  const row = new Map(rungs.map((rung, i) => [rung.part, i]));
  const links = [...directNeeds(rungs)]
    .flatMap(([part, needs]) => needs.map((need): [number, number] => [row.get(need)!, row.get(part)!]))
    .filter(([from, to]) => from < to)
    .sort((a, b) => a[1] - a[0] - (b[1] - b[0]) || a[0] - b[0]);
  const track = tracks(links);
  const used = Math.min(MOST_TRACKS, 1 + Math.max(-1, ...track));
  const left = 30 + used * ARC;
  const right = width - 4;
  const middle = (index: number) => TOP + index * ROW + ROW / 2;
  const height = TOP * 2 + rungs.length * ROW;
  const shapes: Shape[] = [];
  links.forEach(([from, to], i) => {
    const x = left - 8 - (1 + Math.min(track[i]!, MOST_TRACKS - 1)) * ARC;
    shapes.push(
      path(
        [
          ["M", left - 6, middle(from) + 5],
          ["C", x + ARC, middle(from) + 5, x, middle(from) + 8, x, middle(from) + 16],
          ["L", x, middle(to) - 16],
          ["C", x, middle(to) - 8, x + ARC, middle(to) - 5, left - 8, middle(to) - 5],
        ],
        { stroke: "soft", weight: "hair" },
      ),
      path(
        [["M", left - 6, middle(to) - 5], ["L", left - 12, middle(to) - 8], ["L", left - 12, middle(to) - 2], ["Z"]],
        {
          fill: "ink",
        },
      ),
    );
  });
  shapes.push(line(left, TOP, left, height - TOP, { stroke: "ink", weight: "line" }));
  rungs.forEach((rung, index) => {
    const chosen = rung.part === target;
    const y = middle(index);
    const name = `${rung.name}${rung.move === "shift" ? ", moved aside" : ""}`;
    const bold = chosen ? ({ bold: true } as const) : {};
    const room = right - left - 16;
    const first = fitText(name, room, 13, chosen);
    const guess = rung.guess ? "a guess" : "";
    const children: Shape[] = [
      line(left, y + 17, right, y + 17, { stroke: chosen ? "accent" : "hair", weight: chosen ? "bold" : "hair" }),
      text(left + 10, y - 3, first, { size: 13, tone: chosen ? "accent" : "ink", ...bold }),
    ];
    const at = left + 20 + textWidth(first, 13, chosen);
    if (guess && at + textWidth(guess, 12) < right) children.push(text(at, y - 3, guess, { tone: "soft", size: 12 }));
    const held =
      rung.joints.length === 0 ? "held by nothing more" : rung.joints.map((joint) => jointDetail(joint)).join(" · ");
    const or = rung.instead.length === 0 ? "" : ` · or past ${rung.instead.join(", or ")}`;
    children.push(text(left + 10, y + 11, fitText(held + or, room, 11.5), { size: 11.5, tone: "soft" }));
    shapes.push(group(children, { part: rung.part }, `${name}: ${held}${or}`));
  });
  const last = rungs.at(-1)?.name ?? "";
  const title = `What must be undone before ${last} comes away: ${rungs.map((rung) => rung.name).join(", then ")}`;
  return { width, height, title, shapes };
}
