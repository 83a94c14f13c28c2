/** The structure as tables to fill in: the chosen part with its joints, or all of it. */
import { useBench } from "../bench/bench.tsx";
import { PageHead, Section } from "../face/page-head.tsx";
import { useEdit } from "../keep/index.ts";
import { Effect } from "./effect.tsx";
import { JointsGrid } from "./joints-grid.tsx";
import { PartsGrid } from "./parts-grid.tsx";
import { ToolsGrid } from "./tools-grid.tsx";
import "./written.css";

export function FillIn() {
  const { kept, record, part, choose } = useBench();
  // What is typed is laid on what stands, also while the page is drawn a moment later.
  const { edit, now: latest } = useEdit();
  const parts = part === null ? record.parts : [part];
  const joints = part === null ? record.joints : record.joints.filter((one) => one.holds.includes(part.id));
  return (
    <>
      <PageHead title={part === null ? `${record.device.name}: filled in by hand` : `${part.name}: filled in by hand`}>
        <p className="soft">
          Every field is checked and kept as you leave it, and can be taken back at the bottom. “back + coil or display”
          means: under both, or under the display.
        </p>
        {part === null ? null : (
          <button type="button" className="button" onClick={() => choose(null)}>
            all parts
          </button>
        )}
        <Effect kept={kept} part={part?.id ?? null} />
      </PageHead>
      <datalist id="part-ids">
        {record.parts.map((one) => (
          <option key={one.id} value={one.id}>
            {one.name}
          </option>
        ))}
      </datalist>
      <Section title={part === null ? "Parts" : "The part"}>
        <PartsGrid parts={parts} latest={latest} edit={edit} />
      </Section>
      <Section title={part === null ? "Joints" : "Its joints"}>
        <JointsGrid joints={joints} latest={latest} edit={edit} />
      </Section>
      {part === null ? (
        <Section title="Tools">
          <ToolsGrid tools={record.tools} latest={latest} edit={edit} />
        </Section>
      ) : null}
    </>
  );
}
