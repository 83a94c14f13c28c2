/** What if: points switched by hand and the index computed at once, beside the picture of how the weights make it. */
import { useMemo, useState } from "react";
import {
  CURRENT,
  decimal,
  indexOf,
  type LawReport,
  type PartPoints,
  type ProductPoints,
} from "../../../core/law/index.ts";
import type { PriorityRole } from "../../../core/record/index.ts";
import { drawWeights, weighedScores } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Section } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { ROLE_WORDS } from "../../ways/words.ts";
import { rolesIn } from "./law-words.ts";

type Score = keyof PartPoints;
const AS_FOUND = "found";
const POINTS: Readonly<Record<Score, readonly (readonly [number, string])[]>> = {
  depth: [
    [5, "to 2 steps"],
    [4, "to 5"],
    [3, "to 10"],
    [2, "to 15"],
    [1, "more"],
  ],
  fastener: [
    [5, "reusable"],
    [3, "resupplied"],
    [1, "removable"],
  ],
  tool: [
    [5, "none"],
    [4, "basic"],
    [3, "with the spare part"],
    [2, "with the product"],
    [1, "to be bought"],
  ],
};
const SCORE_NAMES: Readonly<Record<Score, string>> = { depth: "Steps", fastener: "Worst fastener", tool: "Worst tool" };
const PRODUCT = {
  spareParts: {
    label: "Spare parts",
    options: [
      [5, "all to end users"],
      [4, "with cameras"],
      [3, "with back cover"],
      [2, "battery, display"],
      [1, "display"],
    ],
  },
  updates: {
    label: "Updates",
    options: [
      [5, "7 years"],
      [3, "6 years"],
      [1, "5 years"],
    ],
  },
  information: {
    label: "Information",
    options: [
      [5, "free for all"],
      [3, "free for professionals"],
      [1, "for a fee"],
    ],
  },
} as const;

interface Switched {
  readonly product: Partial<Record<keyof ProductPoints, number>>;
  /** "battery depth": 4 */
  readonly parts: Readonly<Record<string, number>>;
}
const NOTHING: Switched = { product: {}, parts: {} };

export function WhatIf({ report }: { readonly report: LawReport }) {
  const { record, part, choose } = useBench();
  const [switched, setSwitched] = useState<Switched>(NOTHING);
  const roles = rolesIn(report);
  const { foldable } = record.device;
  const chosenRole = roles.find((role) => (report.evidence[role] ?? []).some((one) => one.part === part?.id));
  const [role, setRole] = useState<PriorityRole>("battery");
  const shown = chosenRole ?? role;
  const found = useMemo(() => pointsOf(report), [report]);
  const now = useMemo(() => withSwitched(found, switched), [found, switched]);
  const before = indexOf(CURRENT, foldable, found.parts, found.product);
  const then = indexOf(CURRENT, foldable, now.parts, now.product);
  const touched = Object.keys(switched.parts).length + Object.keys(switched.product).length > 0;
  const words = (index: typeof then, what: string) =>
    index.rounded === null ? null : { value: index.rounded / 100, words: `${what} ${decimal(index.rounded, 2)}` };
  const scores = weighedScores({
    foldable,
    ...now,
    nameOf: (one) => ROLE_WORDS[one],
    partOf: (one) => report.evidence[one]?.[0]?.part,
  });
  const setPart = (score: Score, value: string) =>
    setSwitched(({ product, parts }) => {
      const { [`${shown} ${score}`]: _gone, ...rest } = parts;
      return { product, parts: value === AS_FOUND ? rest : { ...rest, [`${shown} ${score}`]: Number(value) } };
    });
  const setProduct = (name: keyof ProductPoints, value: string) =>
    setSwitched(({ product, parts }) => {
      const { [name]: _gone, ...rest } = product;
      return { parts, product: value === AS_FOUND ? rest : { ...rest, [name]: Number(value) } };
    });
  return (
    <Section title="What if">
      <p className="sentence" role="status">
        {then.rounded === null || then.letter === null
          ? "No index: some score has no points."
          : touched
            ? `Then the index would be ${decimal(then.rounded, 2)}, class ${then.letter}; as found it is ${before.rounded === null ? "none" : `${decimal(before.rounded, 2)}, class ${before.letter}`}.`
            : `As found: ${decimal(then.rounded, 2)}, class ${then.letter}. Switch something and the index follows at once.`}
      </p>
      <Picture
        most={760}
        caption="As high as a score weighs, as long as its points: the index stands where the filled area would end if all rows were equally long. Ticks: the limits of the classes."
        draw={(width) => {
          const mark = words(then, "index");
          const old = touched ? words(before, "as found") : null;
          return drawWeights(scores, {
            width,
            index: mark,
            ...(old === null ? {} : { before: old }),
            limits: CURRENT.classLimits.map(({ from }) => from / 100),
            ...(part === null ? {} : { chosen: part.id }),
          });
        }}
      />
      <div className="switchboard">
        {(Object.keys(PRODUCT) as (keyof ProductPoints)[]).map((name) => (
          <Choice
            key={name}
            label={PRODUCT[name].label}
            value={switched.product[name]}
            options={PRODUCT[name].options}
            onChange={(value) => setProduct(name, value)}
          />
        ))}
        <label>
          <span className="soft">Part </span>
          <select
            value={shown}
            onChange={(event) => {
              const next = event.target.value as PriorityRole;
              setRole(next);
              const id = report.evidence[next]?.[0]?.part;
              if (id !== undefined) choose(id);
            }}
          >
            {roles
              .filter((one) => report.parts[one] !== null)
              .map((one) => (
                <option key={one} value={one}>
                  {ROLE_WORDS[one]}
                </option>
              ))}
          </select>
        </label>
        {(["depth", "fastener", "tool"] as const).map((score) => (
          <Choice
            key={score}
            label={SCORE_NAMES[score]}
            value={switched.parts[`${shown} ${score}`]}
            options={POINTS[score]}
            onChange={(value) => setPart(score, value)}
          />
        ))}
        <div className="row">
          <button type="button" className="button" disabled={!touched} onClick={() => setSwitched(NOTHING)}>
            all as found
          </button>
        </div>
      </div>
    </Section>
  );
}

function Choice(props: {
  readonly label: string;
  readonly value: number | undefined;
  readonly options: readonly (readonly [number, string])[];
  readonly onChange: (value: string) => void;
}) {
  const { label, value, options, onChange } = props;
  return (
    <div className="choice">
      <span className="soft">{label}</span>
      <Segmented
        label={label}
        value={value === undefined ? AS_FOUND : String(value)}
        options={[
          { value: AS_FOUND, label: "as found" },
          ...options.map(([points, words]) => ({ value: String(points), label: words })),
        ]}
        onChange={onChange}
      />
    </div>
  );
}

interface Points {
  readonly parts: ReadonlyMap<PriorityRole, PartPoints>;
  readonly product: ProductPoints;
}

function pointsOf(report: LawReport): Points {
  const parts = new Map<PriorityRole, PartPoints>();
  for (const role of rolesIn(report)) {
    const answer = report.parts[role];
    if (answer != null) parts.set(role, { depth: answer.depth, fastener: answer.fastener, tool: answer.tool });
  }
  const { SSP, SSU, SRI } = report.scores;
  return { parts, product: { spareParts: SSP, updates: SSU, information: SRI } };
}

function withSwitched(found: Points, { parts, product }: Switched): Points {
  const changed = new Map(
    [...found.parts].map(([role, points]) => {
      const own = (score: Score): number | null => parts[`${role} ${score}`] ?? points[score];
      return [role, { depth: own("depth"), fastener: own("fastener"), tool: own("tool") }];
    }),
  );
  return { parts: changed, product: { ...found.product, ...product } };
}
