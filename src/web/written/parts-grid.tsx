import { memo } from "react";
import type { Fault } from "../../core/errors.ts";
import { type Edit, fieldEdit } from "../../core/record/edits.ts";
import { BASES, type Part, ROLES, type TeardownRecord } from "../../core/record/index.ts";
import {
  groupsText,
  levelText,
  listText,
  NameList,
  readGroups,
  readLevel,
  readList,
  removal,
} from "../../core/record/written/index.ts";
import { asHighAs, Cell, Choice, NewRow } from "./cell.tsx";
import { readPart } from "./part-line.ts";

export interface GridProps {
  /** What stands when something is typed, not when the row was drawn: rows are drawn again only when they change. */
  readonly latest: { readonly current: TeardownRecord };
  readonly edit: (edits: readonly Edit[], label: string) => Promise<readonly Fault[]>;
}

/** Parts as a table to fill in. */
export function PartsGrid({ parts, ...grid }: GridProps & { readonly parts: readonly Part[] }) {
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard */}
      <section className="table grid" style={asHighAs(parts.length)} aria-label="Parts to fill in" tabIndex={0}>
        <table>
          <caption>Parts. Leave a field or press Enter to keep it; Escape brings back what stood there.</caption>
          <thead>
            <tr>
              <th scope="col">part</th>
              <th scope="col">role</th>
              <th scope="col">lies under</th>
              <th scope="col">
                level <span className="soft">mm</span>
              </th>
              <th scope="col">material</th>
              <th scope="col">comes out within</th>
              <th scope="col">tilts to free</th>
              <th scope="col">known</th>
              <th scope="col">
                <span className="unseen">take away</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {parts.map((part) => (
              <Row key={part.id} part={part} {...grid} />
            ))}
          </tbody>
        </table>
      </section>
      <NewRow
        label="a part more"
        placeholder="Battery; battery; under graphite or display; 1.2 to 4.55; of li_pouch"
        make={(text) => {
          const part = readPart(text, grid.latest.current);
          return grid.edit(
            [{ kind: "put", list: "parts", item: { ...part, basis: "seen" } as never }],
            `part ${part.name}`,
          );
        }}
      />
    </>
  );
}

const Row = memo(function Row({ part, latest, edit }: GridProps & { readonly part: Part }) {
  const names = () => new NameList("part", latest.current.parts);
  const set = (field: keyof Part, value: unknown, what: string) =>
    edit([fieldEdit("parts", part.id, field, value)], `${what} of ${part.name}`);
  const groups = (text: string) => {
    const read = readGroups(text, names());
    return read.length === 0 ? undefined : read;
  };
  return (
    <tr>
      <th scope="row">
        <Cell label={`name of ${part.id}`} value={part.name} take={(text) => set("name", text.trim(), "name")} />
        <span className="soft grid-id">{part.id}</span>
      </th>
      <td>
        <Choice
          label={`role of ${part.id}`}
          value={part.role ?? ""}
          options={ROLES}
          none="not said"
          take={(role) => void set("role", role === "" ? undefined : role, "role")}
        />
      </td>
      <td>
        {part.base ? (
          <span className="soft">the base</span>
        ) : (
          <Cell
            width="list"
            label={`what ${part.id} lies under`}
            placeholder="back + coil or display"
            list="part-ids"
            value={groupsText(part.under)}
            take={(text) => set("under", groups(text), "what lies over it")}
          />
        )}
      </td>
      <td>
        <Cell
          label={`level of ${part.id}`}
          placeholder="0.7 to 1.9"
          value={levelText(part.level)}
          take={(text) => set("level", readLevel(text), "level")}
        />
      </td>
      <td>
        <Cell
          label={`material of ${part.id}`}
          value={part.material ?? ""}
          take={(text) => set("material", text.trim() || undefined, "material")}
        />
      </td>
      <td>
        <Cell
          label={`what ${part.id} comes out within`}
          list="part-ids"
          value={part.within ?? ""}
          take={(text) => set("within", text.trim() === "" ? undefined : names().need(text), "assembly")}
        />
      </td>
      <td>
        <Cell
          label={`what is free when ${part.id} is tilted`}
          list="part-ids"
          value={listText(part.shift?.freeing ?? [])}
          take={(text) => {
            const freeing = readList(text, names());
            return set("shift", freeing.length === 0 ? undefined : { ...part.shift, freeing }, "tilt");
          }}
        />
      </td>
      <td>
        <Choice
          label={`how the place of ${part.id} is known`}
          value={part.basis ?? ""}
          options={BASES}
          none="not said"
          take={(basis) => void set("basis", basis === "" ? undefined : basis, "basis")}
        />
      </td>
      <td>
        {part.base ? null : (
          <button
            type="button"
            className="quiet"
            onClick={() => void edit(removal(latest.current, part.id), `${part.name} taken away`)}
          >
            take away<span className="unseen"> {part.name}</span>
          </button>
        )}
      </td>
    </tr>
  );
});
