import type { Check } from "../../../core/record/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { Section } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { useKeep } from "../../keep/index.ts";

/** Functions and how they came out when tried; each choice is a check of the record. */
export function Tries(props: {
  readonly title: string;
  readonly note: string;
  readonly functions: readonly string[];
  readonly when: Check["when"];
  readonly session: string | null;
}) {
  const { record } = useBench();
  const { edit } = useKeep();
  const checks = record.checks ?? [];
  const last = (what: string) => checks.findLast((one) => one.what === what && one.when === props.when);
  const set = (what: string, result: Check["result"]) => {
    const known = last(what);
    const parts = record.parts.filter((part) => part.gives?.includes(what)).map((part) => part.id);
    const item: Check = known
      ? { ...known, result }
      : {
          id: `${props.when}-${crypto.randomUUID().slice(0, 8)}`,
          ...(props.session === null ? {} : { session: props.session }),
          what,
          when: props.when,
          result,
          parts,
        };
    void edit([{ kind: "put", list: "checks", item: item as never }], `${what}: ${result.replaceAll("-", " ")}`);
  };
  const open = props.functions.filter((what) => (last(what)?.result ?? "not-tried") === "not-tried");
  return (
    <Section title={props.title}>
      <p className="soft">
        {props.functions.length === 0
          ? "No part says yet what it gives."
          : `${props.functions.length - open.length} of ${props.functions.length} tried. ${props.note}`}
      </p>
      <details className="more" open={props.functions.length > 0 && props.functions.length <= 8}>
        <summary>the functions, one by one</summary>
        <ul className="tries">
          {props.functions.map((what) => (
            <li key={what}>
              <span>{what}</span>
              <Segmented<Check["result"]>
                label={what}
                value={last(what)?.result ?? "not-tried"}
                options={[
                  { value: "works", label: "works" },
                  { value: "fails", label: "fails" },
                  { value: "not-tried", label: "not tried" },
                ]}
                onChange={(result) => set(what, result)}
              />
            </li>
          ))}
        </ul>
      </details>
    </Section>
  );
}
