/** An assessment as the rows of the picture of weights: words for each contribution, strips for each part. */
import { CURRENT, decimal, type PartPoints, type ProductPoints, rolesOf, weightOf } from "../../core/law/index.ts";
import type { PriorityRole } from "../../core/record/index.ts";
import type { WeighedScore } from "./weights.ts";

export interface Weighed {
  readonly foldable: boolean;
  /** Roles that are left out are absent. */
  readonly parts: ReadonlyMap<PriorityRole, PartPoints>;
  readonly product: ProductPoints;
  /** A part of the record for each role, so that a strip can be chosen. */
  readonly partOf: (role: PriorityRole) => string | undefined;
  readonly nameOf: (role: PriorityRole) => string;
}

export function weighedScores({ foldable, parts, product, partOf, nameOf }: Weighed): WeighedScore[] {
  const { indexWeights, absentPoints } = CURRENT;
  const ofParts = (name: string, weight: number, points: (one: PartPoints) => number | null): WeighedScore => {
    const strips = rolesOf(foldable).map((role) => {
      const one = parts.get(role);
      const id = partOf(role);
      return {
        ...(id === undefined ? {} : { part: id }),
        name: nameOf(role),
        weight: weightOf(CURRENT, foldable, role),
        points: one === undefined ? absentPoints : points(one),
      };
    });
    const sum = strips.reduce<number | null>(
      (total, { weight: each, points: own }) => (total === null || own === null ? null : total + each * own),
      0,
    );
    return { name, weight, points: sum === null ? null : sum / 100, words: words(weight, sum), parts: strips };
  };
  const ofProduct = (name: string, weight: number, points: number | null): WeighedScore => ({
    name,
    weight,
    points,
    words: words(weight, points === null ? null : points * 100),
  });
  return [
    ofParts("depth", indexWeights.SDD, ({ depth }) => depth),
    ofParts("fasteners", indexWeights.SF, ({ fastener }) => fastener),
    ofParts("tools", indexWeights.ST, ({ tool }) => tool),
    ofProduct("spare parts", indexWeights.SSP, product.spareParts),
    ofProduct("updates", indexWeights.SSU, product.updates),
    ofProduct("information", indexWeights.SRI, product.information),
  ];
}

/** "25 % of 2.45" */
function words(weight: number, hundredths: number | null): string {
  return hundredths === null ? "no points" : `${weight} % of ${decimal(hundredths, 2)}`;
}
