/** The report's figures: what the whole is made of, what changed from the sibling, what the claims rest on, the readings. */
import type { Figures } from "../core/measure/index.ts";
import type { TeardownRecord } from "../core/record/index.ts";
import {
  drawBars,
  drawBudget,
  drawClaimStrip,
  drawDimensions,
  drawWaterfall,
  massPicture,
  massRows,
  type Scene,
  thicknessPicture,
} from "../figures/index.ts";
import { html, type Markup } from "./html.ts";
import type { ReportAnswers } from "./report-answers.ts";
import { type Draw, notTold, table } from "./report-table.ts";

const WIDTH = 760;
const STRIP = 260;

/** A picture of what was measured, with its words. */
export interface MeasuredPicture {
  readonly scene: Scene;
  readonly caption: string;
}

/** What the whole is made of: mass and thickness as budgets, layers in section, mass by part beside the sibling. */
export function wholePictures({ record, sibling, figures, siblingFigures }: ReportAnswers): readonly MeasuredPicture[] {
  if (figures.kind === "not-told") return [];
  const { readings, mass } = figures.value;
  const beside =
    siblingFigures?.kind === "told" && sibling ? { record: sibling, readings: siblingFigures.value.readings } : null;
  const bars = massRows(record, readings, beside);
  return [
    ...(mass.lines.length === 0
      ? []
      : [
          {
            scene: drawBudget(massPicture(record, mass), { width: WIDTH, quantity: "Mass" }),
            caption:
              "The device above, its parts laid end to end below, and what is left over drawn larger. The band is its 95 % interval.",
          },
        ]),
    ...thickness(record, figures.value),
    ...(bars.length === 0
      ? []
      : [
          {
            scene: drawBars(bars, {
              width: WIDTH,
              unit: "g",
              quantity: "Mass",
              ...(beside ? { sibling: beside.record.device.name } : {}),
            }),
            caption: "Mass by part. Whiskers: expanded uncertainty.",
          },
        ]),
  ];
}

function thickness(record: TeardownRecord, { thickness }: Figures): readonly MeasuredPicture[] {
  return thickness.flatMap((stack) => {
    const section = drawDimensions(record, stack, { width: WIDTH });
    return [
      ...(section === null
        ? []
        : [
            { scene: section, caption: `Section ${stack.name}: what was measured of each layer, and the stated gaps.` },
          ]),
      ...(stack.lines.length === 0
        ? []
        : [
            {
              scene: drawBudget(thicknessPicture(record, stack), { width: WIDTH, quantity: "Thickness" }),
              caption: `Thickness ${stack.name}: this unit's layers against this unit's body.`,
            },
          ]),
    ];
  });
}

/** From the sibling to the device, where both were measured whole. */
export function changePictures({ record, sibling, comparison }: ReportAnswers): readonly MeasuredPicture[] {
  if (sibling === undefined || comparison?.kind !== "told") return [];
  return (
    [
      [comparison.value.mass, "Mass"],
      ...comparison.value.thickness.map((one) => [one, `Thickness ${one.name}`] as const),
    ] as const
  ).flatMap(([explained, quantity]): readonly MeasuredPicture[] => {
    const scene = drawWaterfall(explained, {
      width: WIDTH,
      device: record.device.name,
      sibling: sibling.device.name,
      quantity,
    });
    const caption = `${quantity}: the few changes that explain most, the rest as one. Bars point the way the figure goes.`;
    return scene === null ? [] : [{ scene, caption }];
  });
}

/** Said with every picture of a change. */
export const MATCHED =
  "Parts matched by role and name. These are units: a claim about the models needs more than one of each.";

export function figuresPart(answers: ReportAnswers, picture: Draw): readonly Markup[] {
  const { record, sibling, figures } = answers;
  if (figures.kind === "not-told") return [notTold(figures.why)];
  const { readings, battery } = figures.value;
  const nameOf = (id: string) => record.parts.find((part) => part.id === id)?.name ?? id;
  const instrument = (id: string | undefined) => {
    const one = record.instruments.find((other) => other.id === id);
    return one === undefined ? "" : (one.name ?? one.kind);
  };
  const changed = changePictures(answers);
  return [
    ...wholePictures(answers).map(({ scene, caption }) => picture(scene, caption)),
    ...(changed.length === 0 || sibling === undefined
      ? []
      : [
          html`<h3>From ${sibling.device.name} to ${record.device.name}</h3>`,
          ...changed.map(({ scene, caption }) => picture(scene, caption)),
          html`<p class="soft">${MATCHED}</p>`,
        ]),
    ...claimsPart(record, figures.value, picture),
    battery.transport.length === 0
      ? html``
      : html`<p>Transport of the cell, as information: ${battery.transport.join("; ")}. The carrier's current rules decide.</p>`,
    html`<h3>Readings</h3>${table(
      ["of", "quantity", "value", "instrument", "said about it"],
      readings.map((one) => [
        one.of.map(nameOf).join(", "),
        one.quantity,
        one.text,
        instrument(one.instrument),
        one.warnings.join("; "),
      ]),
    )}`,
  ];
}

function claimsPart(record: TeardownRecord, { claims }: Figures, picture: Draw): readonly Markup[] {
  if (claims.length === 0) return [];
  return [
    html`<h3>Claims</h3>`,
    table(
      ["claim", "verdict", "measured against what it takes", "to say instead", "rests on"],
      claims.map((one) => {
        const strip = drawClaimStrip(one, STRIP);
        return [
          record.claims.find((claim) => claim.id === one.id)?.text ?? one.id,
          one.verdict.replaceAll("-", " "),
          strip === null ? "" : picture(strip, ""),
          one.wording,
          one.restsOn.length > 6 ? `${one.restsOn.length} readings` : one.restsOn.join(", "),
        ];
      }),
    ),
  ];
}
