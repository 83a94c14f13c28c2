/** Which part corresponds to which, what is new, gone, merged and split; a person can correct the matching. */
import type { ComparedPart, RecordComparison } from "../../../core/measure/index.ts";
import type { TeardownRecord } from "../../../core/record/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Section } from "../../face/page-head.tsx";
import { PartButton } from "../../face/part-button.tsx";
import { Table } from "../../face/table.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { nameIn, unitWords } from "./figure-words.ts";
import { corrected, readCorrections, writeCorrections } from "./match.ts";
import { Opening } from "./opening.tsx";

interface Row {
  readonly a: string;
  readonly b: string | null;
  readonly by: string;
  readonly part: ComparedPart | undefined;
}

interface PartsProps {
  readonly comparison: RecordComparison;
  readonly there: TeardownRecord;
}

const NONE = "-";

export function MatchedParts({ comparison, there }: PartsProps) {
  const { record } = useBench();
  const { search } = usePlace();
  const match = readCorrections(search.get("match"));
  const [here, other] = [nameIn(record), nameIn(there)];
  const { merged, split, added, dropped, parts } = comparison;
  const guessed = parts.filter((one) => one.by === "role and order");
  const rows: Row[] = [
    ...parts.map((part) => ({ a: part.a, b: part.b, by: BY_WORDS[part.by], part })),
    ...added.map((a) => ({ a, b: null, by: match[a] === null ? BY_WORDS.person : "new", part: undefined })),
  ];
  const corrections = Object.keys(match).length;
  return (
    <Section title="Parts">
      <ul>
        <li>{parts.length} parts correspond, by role and name.</li>
        {added.length === 0 ? null : <li>New: {added.map(here).join(", ")}.</li>}
        {dropped.length === 0 ? null : <li>Gone: {dropped.map(other).join(", ")}.</li>}
        {merged.map(({ a, from }) => (
          <li key={`merged ${a}`}>
            {from.map(other).join(" and ")} became one: {here(a)}.
          </li>
        ))}
        {split.map(({ b, into }) => (
          <li key={`split ${b}`}>
            {other(b)} became {into.map(here).join(" and ")}.
          </li>
        ))}
      </ul>
      {guessed.length === 0 ? null : (
        <>
          <p className="soft">Matched by their order alone, because several have the same role: look at these.</p>
          <PartsTable
            rows={rows.filter((one) => one.by === BY_WORDS["role and order"])}
            there={there}
            caption="Matched by order alone"
          />
        </>
      )}
      {corrections === 0 ? null : (
        <p>
          Corrected by you: {corrections}. The address of this page holds the corrections.{" "}
          <button type="button" className="button" onClick={() => setSearch({ match: null })}>
            take the corrections back
          </button>
        </p>
      )}
      <Opening title={`Every part beside its counterpart (${rows.length}); correct what is wrong`}>
        <PartsTable rows={rows} there={there} caption="Parts beside their counterparts" />
      </Opening>
    </Section>
  );
}

const BY_WORDS = {
  person: "you said so",
  role: "role",
  name: "name",
  "role and order": "order alone",
} as const satisfies Record<ComparedPart["by"], string>;

function PartsTable(props: {
  readonly rows: readonly Row[];
  readonly there: TeardownRecord;
  readonly caption: string;
}) {
  const { rows, there, caption } = props;
  const { record, part, choose } = useBench();
  const { search } = usePlace();
  const match = readCorrections(search.get("match"));
  const here = nameIn(record);
  const change = (one: ComparedPart | undefined, quantity: "mass" | "thickness" | "area") => {
    const found = one?.[quantity];
    return found === undefined ? "" : `${unitWords(found.text)}${found.told ? "" : " (cannot be told)"}`;
  };
  return (
    <Table<Row>
      caption={caption}
      rows={rows}
      rowKey={(one) => one.a}
      chosen={(one) => one.a === part?.id}
      columns={[
        {
          head: "here",
          cell: (one) => <PartButton id={one.a} name={here(one.a)} choose={choose} chosen={one.a === part?.id} />,
        },
        {
          head: "there",
          cell: (one) => (
            <select
              aria-label={`Counterpart of ${here(one.a)}`}
              value={one.b ?? NONE}
              onChange={(event) =>
                setSearch({
                  match: writeCorrections(
                    corrected(match, one.a, event.target.value === NONE ? null : event.target.value),
                  ),
                })
              }
            >
              <option value={NONE}>none: it is new</option>
              {there.parts.map((other) => (
                <option key={other.id} value={other.id}>
                  {other.name}
                </option>
              ))}
            </select>
          ),
        },
        { head: "by", cell: (one) => one.by },
        { head: "mass", number: true, cell: (one) => change(one.part, "mass") },
        { head: "thickness", number: true, cell: (one) => change(one.part, "thickness") },
        { head: "area", number: true, cell: (one) => change(one.part, "area") },
      ]}
    />
  );
}
