import { memo } from "react";
import { InputError } from "../../core/errors.ts";
import { fieldEdit } from "../../core/record/edits.ts";
import { BASES, JOINT_KINDS, type Joint } from "../../core/record/index.ts";
import {
  groupsText,
  listText,
  NameList,
  readGroups,
  readList,
  readReleases,
  readScrews,
  releasesText,
  screwsText,
} from "../../core/record/written/index.ts";
import { asHighAs, Cell, Choice, NewRow } from "./cell.tsx";
import { readJoint } from "./joint-line.ts";
import type { GridProps } from "./parts-grid.tsx";

/** Joints as a table to fill in. */
export function JointsGrid({ joints, ...grid }: GridProps & { readonly joints: readonly Joint[] }) {
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard */}
      <section className="table grid" style={asHighAs(joints.length)} aria-label="Joints to fill in" tabIndex={0}>
        <table>
          <caption>Joints: what holds what, what must be away to reach it, and how it is undone.</caption>
          <thead>
            <tr>
              <th scope="col">holds</th>
              <th scope="col">kind</th>
              <th scope="col">count</th>
              <th scope="col">reached after</th>
              <th scope="col">undone by</th>
              <th scope="col">fastener</th>
              <th scope="col">known</th>
              <th scope="col">isolates the cell</th>
              <th scope="col">
                <span className="unseen">take away</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {joints.map((joint) => (
              <Row key={joint.id} joint={joint} {...grid} />
            ))}
          </tbody>
        </table>
      </section>
      <NewRow
        label="a joint more"
        placeholder="6 screw: cover + frame; Phillips #000, 2.4 mm; after back; unscrew with ph000"
        make={(text) => {
          const joint = readJoint(text, grid.latest.current);
          return grid.edit(
            [{ kind: "put", list: "joints", item: { ...joint, basis: "seen" } as never }],
            `${joint.kind} of ${joint.holds.join(" and ")}`,
          );
        }}
      />
    </>
  );
}

const Row = memo(function Row({ joint, latest, edit }: GridProps & { readonly joint: Joint }) {
  const parts = () => new NameList("part", latest.current.parts);
  const set = (field: keyof Joint, value: unknown, what: string) =>
    edit([fieldEdit("joints", joint.id, field, value)], `${what} of ${joint.id}`);
  return (
    <tr>
      <th scope="row">
        <Cell
          width="list"
          label={`what ${joint.id} holds`}
          list="part-ids"
          value={listText(joint.holds)}
          take={(text) => set("holds", readList(text, parts()), "parts")}
        />
        <span className="soft grid-id">{joint.id}</span>
      </th>
      <td>
        <Choice
          label={`kind of ${joint.id}`}
          value={joint.kind}
          options={JOINT_KINDS}
          take={(kind) => void set("kind", kind, "kind")}
        />
      </td>
      <td>
        <Cell
          width="short"
          label={`count of ${joint.id}`}
          value={joint.count === undefined ? "" : String(joint.count)}
          take={(text) => {
            if (text.trim() === "") return set("count", undefined, "count");
            if (!/^\s*\d{1,4}\s*$/.test(text))
              throw new InputError({ path: "", found: `"${text}"`, expected: "a whole number from 1" });
            return set("count", Number(text), "count");
          }}
        />
      </td>
      <td>
        <Cell
          width="list"
          label={`what must be away to reach ${joint.id}`}
          list="part-ids"
          placeholder="back + coil or display"
          value={groupsText(joint.reach)}
          take={(text) => {
            const reach = readGroups(text, parts());
            return set("reach", reach.length === 0 ? undefined : reach, "reach");
          }}
        />
      </td>
      <td>
        <Cell
          width="wide"
          label={`how ${joint.id} is undone`}
          placeholder="unscrew with ph000"
          value={releasesText(joint.releases)}
          take={(text) =>
            set("releases", readReleases(text, new NameList("tool", latest.current.tools), joint.releases), "release")
          }
        />
      </td>
      <td>
        <Cell
          width="list"
          label={`fastener of ${joint.id}`}
          placeholder="Phillips #000, M1.2, 2.4 mm"
          value={screwsText(joint.screws)}
          take={(text) => set("screws", readScrews(text, joint.screws), "fastener")}
        />
      </td>
      <td>
        <Choice
          label={`how ${joint.id} is known`}
          value={joint.basis ?? ""}
          options={BASES}
          none="not said"
          take={(basis) => void set("basis", basis === "" ? undefined : basis, "basis")}
        />
      </td>
      <td>
        <label className="grid-switch">
          <input
            type="checkbox"
            checked={joint.power === true}
            onChange={(event) => void set("power", event.target.checked ? true : undefined, "isolation")}
          />
          <span className="unseen">{joint.id} isolates the cell</span>
        </label>
      </td>
      <td>
        <button
          type="button"
          className="quiet"
          onClick={() => void edit([{ kind: "remove", list: "joints", id: joint.id }], `${joint.id} taken away`)}
        >
          take away<span className="unseen"> {joint.id}</span>
        </button>
      </td>
    </tr>
  );
});
