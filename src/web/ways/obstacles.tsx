/** What stands in the way, part by part, and what would be saved if one of them were not there. */
import type { Question, WayIn } from "../../core/route/ways/types.ts";
import { jointDetail, obstaclesOf, spokenTime } from "../../figures/index.ts";
import { useBench } from "../bench/bench.tsx";
import { useComputed } from "../compute/use-computed.ts";
import { PartButton } from "../face/part-button.tsx";
import { Table } from "../face/table.tsx";
import { setSearch } from "../router.ts";
import { listWord } from "./question.ts";
import { differenceWords } from "./words.ts";

export function Obstacles({ way, question }: { readonly way: WayIn; readonly question: Question }) {
  const { record, kept, choose } = useBench();
  const gone = question.gone ?? [];
  const { gone: _, ...asIs } = question;
  const compared = useComputed(kept, "ways", gone.length === 0 ? null : { questions: [asIs], seconds: 5 }).answer;
  const before = compared.kind === "here" ? compared.value[0] : undefined;
  const nameOf = (id: string) => record.parts.find((one) => one.id === id)?.name ?? id;
  return (
    <>
      {gone.length === 0 ? null : (
        <div className="what-if">
          <p>
            <b>What if {gone.map(nameOf).join(" and ")} were not there:</b>{" "}
            {before && "operations" in before
              ? differenceWords(before, way)
              : before
                ? "without this there is no way in at all."
                : "comparing."}{" "}
            <span className="soft">Nothing of this is kept.</span>
          </p>
          <p className="run">
            {gone.map((id) => (
              <button
                key={id}
                type="button"
                className="button"
                onClick={() => setSearch({ gone: listWord(gone.filter((one) => one !== id)) })}
              >
                put {nameOf(id)} back
              </button>
            ))}
          </p>
        </div>
      )}
      <Table
        caption="What stands in the way"
        rows={obstaclesOf(record, way)}
        rowKey={(one) => one.part.id}
        columns={[
          {
            head: "part",
            cell: (one) => (
              <>
                <PartButton id={one.part.id} name={one.part.name} choose={choose} />
                <span className="soft">
                  {" "}
                  {[...one.joints.map(jointDetail), ...(one.guess ? ["a guess: look when it lies bare"] : [])].join(
                    " · ",
                  )}
                </span>
              </>
            ),
          },
          { head: "time", number: true, cell: (one) => spokenTime(one.seconds) },
          {
            head: "what if",
            cell: (one) =>
              one.target ? (
                ""
              ) : (
                <button
                  type="button"
                  className="quiet"
                  aria-label={`Take ${one.part.name} as not there`}
                  onClick={() => setSearch({ gone: listWord([...gone, one.part.id]) })}
                >
                  not there
                </button>
              ),
          },
        ]}
      />
    </>
  );
}
