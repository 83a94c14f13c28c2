/**
 * A claim as a strip: the measured interval on an axis, and where it has to lie for the claim to hold. The ground where it
 * holds is warm and ruled off; the interval stands on it, beside it, or across the rule.
 */
import type { ClaimVerdict } from "../../core/measure/index.ts";
import { resultText } from "../../core/measure/index.ts";
import { niceStep } from "../axis.ts";
import { whisker } from "../bars/mass-bars.ts";
import { circle, line, rect, type Scene, type Shape, text } from "../scene.ts";
import { textWidth } from "../text-width.ts";

export type StripClaim = Pick<ClaimVerdict, "value" | "interval" | "threshold" | "unit" | "holds" | "text" | "verdict">;

const HEIGHT = 46;
const RULE = 22;
const SIZE = 11;

/** null where there is nothing measured to show. */
export function drawClaimStrip(claim: StripClaim, width: number): Scene | null {
  const { value, interval, threshold, holds } = claim;
  if (value === null || interval === null || threshold === null) return null;
  // A fraction is read in per cent.
  const times = claim.unit === "" ? 100 : 1;
  const unit = claim.unit === "" ? "%" : claim.unit === "1" ? "" : claim.unit;
  const scaled = (one: number) => one * times;
  const [low, high] = interval.map(scaled) as [number, number];
  const edges = (typeof threshold === "number" ? [threshold] : threshold).map(scaled);
  const ends = [low, high, ...edges];
  const span = Math.max(...ends) - Math.min(...ends) || Math.abs(ends[0]!) || 1;
  const [first, last] = [Math.min(...ends) - span * 0.18, Math.max(...ends) + span * 0.18];
  const [left, right] = [6, width - 6];
  const x = (one: number) => left + ((one - first) / (last - first)) * (right - left);
  const shapes: Shape[] = [];
  const ground = groundOf(holds, edges, first, last);
  if (ground !== null)
    shapes.push(rect(x(ground[0]), RULE - 12, Math.max(x(ground[1]) - x(ground[0]), 2), 24, { fill: "warm" }));
  for (const edge of edges)
    shapes.push(line(x(edge), RULE - 16, x(edge), RULE + 14, { stroke: "ink", weight: "line" }));
  shapes.push(line(left, RULE + 12, right, RULE + 12, { stroke: "hair" }));
  shapes.push(...ticks(first, last, x, width, unit));
  shapes.push(
    ...whisker(x(low), x(high), RULE, 6, "accent"),
    circle(x(scaled(value)), RULE, 3.4, { stroke: "accent", fill: "accent" }),
  );
  const said = resultText(scaled(value), (high - low) / 2, unit);
  const limits = edges.map((edge) => `${Number(edge.toPrecision(6))}${unit === "" ? "" : ` ${unit}`}`).join(" to ");
  const where = { above: "above", below: "below", within: "within", at: "at" }[holds ?? "at"];
  return { width, height: HEIGHT, title: `Measured ${said}; as claimed it lies ${where} ${limits}`, shapes };
}

/** As many round figures as have room beside each other, the first that is shown with the unit. */
function ticks(first: number, last: number, x: (one: number) => number, width: number, unit: string): Shape[] {
  const label = (one: number) => `${one < 0 ? "−" : ""}${Math.abs(one)}`;
  const room = (of: string) => textWidth(of, SIZE) + 14;
  for (let wanted = Math.max(2, Math.floor(width / 60)); wanted >= 1; wanted--) {
    const step = niceStep(last - first, wanted);
    const at: number[] = [];
    for (let n = Math.ceil(first / step); n * step <= last; n++) at.push(Number((n * step).toPrecision(8)));
    const widest = Math.max(...at.map((one) => room(label(one)))) + (unit === "" ? 0 : textWidth(` ${unit}`, SIZE));
    if (wanted > 1 && at.length > 1 && widest > x(at[1]!) - x(at[0]!)) continue;
    const shown = at.filter((one) => x(one) - widest / 2 > -4 && x(one) + widest / 2 < width + 4);
    return at.flatMap((one) => [
      line(x(one), RULE + 12, x(one), RULE + 15, { stroke: "soft" }),
      ...(shown.includes(one)
        ? [
            text(x(one), HEIGHT - 2, `${label(one)}${one === shown[0] && unit !== "" ? ` ${unit}` : ""}`, {
              size: SIZE,
              tone: "soft",
              anchor: "middle",
            }),
          ]
        : []),
    ]);
  }
  return [];
}

function groundOf(
  holds: StripClaim["holds"],
  edges: readonly number[],
  first: number,
  last: number,
): readonly [number, number] | null {
  if (holds === "within" && edges.length === 2) return [Math.min(...edges), Math.max(...edges)];
  if (holds === "above") return [edges[0]!, last];
  if (holds === "below") return [first, edges[0]!];
  return null;
}
