/** The pictures of figures with made-up numbers: for the page of components alone. */
import type { Change, Explained } from "../../../core/measure/index.ts";
import {
  type BudgetPicture,
  drawBudget,
  drawClaimStrip,
  drawWaterfall,
  type StripClaim,
} from "../../../figures/index.ts";
import { Section } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";

const change = (what: string, difference: number, U: number, kind: Change["kind"] = "changed"): Change => ({
  what,
  a: [what],
  b: [what],
  kind,
  difference,
  u: U / 2,
  U,
});

const CHANGES = [change("cell", -9.1, 0.2), change("frame", 1.4, 0.3), change("chamber", 0.8, 0.2, "added")];
const EXPLAINED: Explained = {
  name: "mass",
  unit: "g",
  total: { a: 172.9, b: 180.2, difference: -7.3, u: 0.1, U: 0.2, text: "-7.30 ± 0.20 g", told: true },
  changes: CHANGES,
  rest: { count: 7, difference: -0.4, u: 0.3, U: 0.6 },
  all: CHANGES,
};

const budget = (residual: number, U: number, closes: boolean): BudgetPicture => ({
  unit: "g",
  whole: { name: "The device", value: 172.9, words: "172.90 ± 0.20 g" },
  pieces: [
    { part: "cell", name: "Cell", value: 61.3, words: "61.3 ± 1.2 g" },
    { part: "back", name: "Back", value: 52.4, words: "52.4 g" },
    { name: "stated", value: 59.2 - residual, words: "stated", stated: true },
  ],
  residual: { value: residual, U, words: `${residual} ± ${U} g unaccounted for` },
  closes,
});

const CLAIMS: readonly StripClaim[] = [
  { value: 7.3, interval: [7.1, 7.5], threshold: 0, holds: "above", unit: "g", text: "lighter", verdict: "supported" },
  {
    value: 0.268,
    interval: [0.264, 0.272],
    threshold: [0.3, 0.333],
    holds: "within",
    unit: "",
    text: "almost a third",
    verdict: "not-supported",
  },
  {
    value: 0.03,
    interval: [-0.05, 0.11],
    threshold: 0,
    holds: "above",
    unit: "g",
    text: "a touch heavier",
    verdict: "cannot-tell",
  },
];

export function FigurePictures() {
  return (
    <>
      <Section title="Waterfall">
        <Picture
          most={700}
          draw={(width) =>
            drawWaterfall(EXPLAINED, { width, device: "A device", sibling: "The one before", quantity: "Mass" })!
          }
        />
      </Section>
      <Section title="Budget: it closes, and it does not">
        <div className="two">
          <Picture
            most={520}
            draw={(width) => drawBudget(budget(0.2, 0.5, true), { width, quantity: "Mass", chosen: "cell" })}
          />
          <Picture most={520} draw={(width) => drawBudget(budget(1.4, 0.5, false), { width, quantity: "Mass" })} />
        </div>
      </Section>
      <Section title="A claim's strip: supported, not supported, cannot tell">
        {CLAIMS.map((claim) => (
          <Picture key={claim.text} most={340} draw={(width) => drawClaimStrip(claim, width)!} />
        ))}
      </Section>
    </>
  );
}
