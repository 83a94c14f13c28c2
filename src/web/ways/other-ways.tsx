/** Other orders of work to the same part: those that really differ, and those with another aim. */

import { useState } from "react";
import type { Question, WayIn } from "../../core/route/ways/types.ts";
import { drawRibbon, spokenTime } from "../../figures/index.ts";
import { useBench } from "../bench/bench.tsx";
import { useComputed } from "../compute/use-computed.ts";
import { Section } from "../face/page-head.tsx";
import { Picture } from "../face/picture.tsx";
import { Table } from "../face/table.tsx";
import { setSearch } from "../router.ts";
import { LEASTS } from "./question.ts";
import { differenceWords, money } from "./words.ts";

const AIM_WORDS = { seconds: "least time", steps: "fewest steps", risk: "least risk" } as const;
const MOST = 4;

const setOf = (way: WayIn): ReadonlySet<string> =>
  new Set(way.operations.flatMap((one) => (one.kind === "heat" ? [] : [one.joint ?? "", one.part ?? ""])));

/** What the other way in does and this one does not, in names. */
function differenceOf(way: WayIn, from: WayIn, nameOf: (id: string) => string): string {
  const [mine, theirs] = [setOf(way), setOf(from)];
  const more = [...mine].filter((id) => id !== "" && !theirs.has(id)).map(nameOf);
  const less = [...theirs].filter((id) => id !== "" && !mine.has(id)).map(nameOf);
  return [
    ...(more.length > 0 ? [`through ${more.join(", ")}`] : []),
    ...(less.length > 0 ? [`without ${less.join(", ")}`] : []),
  ].join("; ");
}

export function OtherWays({ question, way }: { readonly question: Question; readonly way: WayIn }) {
  const { kept, record } = useBench();
  const others = useComputed(kept, "others", { question, most: MOST, seconds: 20 }).answer;
  const aims = [false, true].flatMap((damage) =>
    LEASTS.flatMap((least): Question[] => {
      const { damage: own = false, ...rest } = question;
      if (least === question.least && damage === own) return [];
      return [{ ...rest, least, ...(damage ? { damage } : {}) }];
    }),
  );
  const compared = useComputed(kept, "ways", { questions: aims, seconds: 2 }).answer;
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;

  const differing = others.kind === "here" && "alternatives" in others.value ? others.value : null;
  const [beside, setBeside] = useState<WayIn | null>(null);
  const rest = (differing?.alternatives ?? []).filter((_, i) => i > 0);
  const seen = new Set([costOf(way)]);
  const rows =
    compared.kind !== "here"
      ? []
      : compared.value.flatMap((answer, i) => {
          if (!("operations" in answer) || seen.has(costOf(answer))) return [];
          seen.add(costOf(answer));
          const { least, damage = false } = aims[i]!;
          return [{ key: `${least} ${damage}`, least, damage, way: answer }];
        });
  return (
    <>
      <Section title="Other ways that really differ">
        {others.kind === "working" ? <p className="soft">Looking for them.</p> : null}
        {differing === null ? null : (
          <>
            <Table
              caption="Other ways in"
              rows={rest}
              rowKey={(one) => JSON.stringify([...setOf(one)])}
              empty={
                differing.complete
                  ? "There is none under these terms: every way in undoes the same things."
                  : "None was found in the time given."
              }
              columns={[
                { head: "how it differs", cell: (one) => differenceOf(one, way, nameOf) },
                { head: "time", number: true, cell: (one) => spokenTime(one.seconds) },
                { head: "steps", number: true, cell: (one) => one.steps },
                { head: "expected damage", number: true, cell: (one) => money(one.risk) },
                {
                  head: "compare",
                  cell: (one) => (
                    <button
                      type="button"
                      className="quiet"
                      aria-pressed={beside === one}
                      aria-label={`Lay beside: ${differenceOf(one, way, nameOf)}`}
                      onClick={() => setBeside(beside === one ? null : one)}
                    >
                      lay beside
                    </button>
                  ),
                },
              ]}
            />
            {beside !== null && rest.includes(beside) ? <Beside way={way} other={beside} /> : null}
            {rest.length > 0 ? (
              <p className="soft">
                {differing.complete ? "There are no others." : `The best ${rest.length}; there may be more.`}
              </p>
            ) : null}
          </>
        )}
      </Section>
      {compared.kind === "here" ? (
        <Section title="With another aim">
          <Table
            caption="Orders of work with another aim"
            rows={rows}
            rowKey={(row) => row.key}
            empty="The other aims, with or without damage, come to the same cost."
            columns={[
              {
                head: "aim",
                cell: (row) => (
                  <button
                    type="button"
                    className="part-button"
                    onClick={() =>
                      setSearch({
                        least: row.least === "seconds" ? null : row.least,
                        damage: row.damage ? "allowed" : null,
                      })
                    }
                  >
                    {AIM_WORDS[row.least]}
                    {row.damage ? ", damage allowed" : ""}
                  </button>
                ),
              },
              { head: "time", number: true, cell: (row) => spokenTime(row.way.seconds) },
              { head: "steps", number: true, cell: (row) => row.way.steps },
              { head: "expected damage", number: true, cell: (row) => money(row.way.risk) },
              { head: "proved", cell: (row) => (row.way.proved ? "yes" : "not in the time given") },
            ]}
          />
        </Section>
      ) : null}
    </>
  );
}

const endOf = (way: WayIn): number => Math.max(0, ...way.operations.map((one) => one.at + one.seconds));

/** Both orders on one scale of time. */
function Beside({ way, other }: { readonly way: WayIn; readonly other: WayIn }) {
  const { record } = useBench();
  const until = Math.max(endOf(way), endOf(other));
  return (
    <div className="stacked">
      <Picture
        most={900}
        caption={`This way in: ${spokenTime(way.seconds)}, ${way.steps} steps`}
        draw={(width) => drawRibbon(record, way, { width, until })}
      />
      <Picture
        most={900}
        caption={`The other: ${differenceWords(way, other)}`}
        draw={(width) => drawRibbon(record, other, { width, until })}
      />
    </div>
  );
}

const costOf = (way: WayIn): string => `${way.seconds} ${way.steps} ${way.risk?.amount ?? ""}`;
