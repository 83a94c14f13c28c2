import { materialName } from "../../core/heat/index.ts";
import type { Joint, Part, TeardownRecord } from "../../core/record/index.ts";
import { drawLadder, jointDetail, rungsTo } from "../../figures/index.ts";
import { useBench } from "../bench/bench.tsx";
import { Caution, OpenQuestion } from "../face/caution.tsx";
import { Figure, Figures } from "../face/figure.tsx";
import { PageHead, Section } from "../face/page-head.tsx";
import { PartButton } from "../face/part-button.tsx";
import { Picture } from "../face/picture.tsx";
import { Segmented } from "../face/segmented.tsx";
import { Table } from "../face/table.tsx";
import { setSearch, usePlace } from "../router.ts";
import { FillIn } from "../written/fill-in.tsx";

const doubted = (one: Part | Joint): boolean => one.basis === "inferred" || one.basis === "sibling";
const BASIS_WORDS: Readonly<Record<NonNullable<Part["basis"]>, string>> = {
  tried: "tried",
  seen: "seen",
  stated: "stated by somebody",
  inferred: "a guess",
  sibling: "a guess, copied from the sibling",
};

export function StructurePage() {
  const { record, part } = useBench();
  const { search } = usePlace();
  const writing = search.get("table") === "fill-in";
  return (
    <>
      <div className="fill-in-choice">
        <Segmented
          label="Read or fill in"
          value={writing ? "fill-in" : "read"}
          options={[
            { value: "read", label: "read" },
            { value: "fill-in", label: "fill in" },
          ]}
          onChange={(next) => setSearch({ table: next === "fill-in" ? "fill-in" : null })}
        />
      </div>
      {writing ? <FillIn /> : part === null ? <Whole record={record} /> : <OnePart record={record} part={part} />}
    </>
  );
}

function nameOf(record: TeardownRecord, id: string): string {
  return record.parts.find((one) => one.id === id)?.name ?? id;
}

function Whole({ record }: { readonly record: TeardownRecord }) {
  const screws = record.joints.filter((one) => one.kind === "screw");
  const count = (list: readonly Joint[]) => list.reduce((sum, one) => sum + (one.count ?? 1), 0);
  const bonds = record.joints.filter((one) => /adhesive|tape|seal/.test(one.kind));
  const connectors = record.joints.filter((one) => one.kind === "connector");
  const drives = [...new Set(screws.map((one) => one.screws?.drive ?? "drive not recorded"))];
  return (
    <>
      <PageHead title={`${record.device.name}: what it is made of`}>
        <Figures>
          <Figure large value={`${record.parts.length} parts`} note={`${record.joints.length} joints`} />
          <Figure value={`${count(screws)} screws`} note={drives.join(", ")} />
          <Figure value={`${count(bonds)} bonds`} note="adhesive, tape, seals" />
          <Figure value={`${count(connectors)} connectors`} />
        </Figures>
        <p className="soft">Choose a part in the drawing or in the table: every page then speaks about it.</p>
      </PageHead>
      <Doubts record={record} />
      <PartsTable record={record} />
    </>
  );
}

function OnePart({ record, part }: { readonly record: TeardownRecord; readonly part: Part }) {
  const { choose } = useBench();
  const rungs = part.base ? null : rungsTo(record, part.id, { damage: true, accept: ["puncture", "short"] });
  const joints = record.joints.filter((one) => one.holds.includes(part.id));
  const mass = record.readings.find((one) => one.quantity === "mass" && one.of.length === 1 && one.of[0] === part.id);
  const over = record.parts.filter((one) => one.under?.some((group) => group.includes(part.id)));
  return (
    <>
      <PageHead title={part.name}>
        <Figures>
          <Figure
            large
            value={
              rungs === null
                ? part.base
                  ? "the base"
                  : "no way out"
                : rungs.length === 1
                  ? "comes away first"
                  : `${rungs.length - 1} before it`
            }
            note={
              rungs === null
                ? part.base
                  ? "everything else is taken off it"
                  : "as the structure is recorded"
                : "parts to get out of the way"
            }
          />
          {part.level === undefined ? null : (
            <Figure value={`${part.level[0]} to ${part.level[1]} mm`} note="below the back face" />
          )}
          {mass === undefined ? null : (
            <Figure
              value={`${mass.values[0]} ${mass.unit}`}
              note="as read"
              source={
                <p>
                  Reading {mass.id}: {mass.values.join(", ")} {mass.unit}, instrument{" "}
                  {mass.instrument ?? "not recorded"}. The figure with its uncertainty is on the page Figures.
                </p>
              }
            />
          )}
        </Figures>
        <Facts record={record} part={part} />
      </PageHead>
      {rungs === null ? null : (
        <Section title="What must be undone before it comes away">
          <Picture
            most={640}
            draw={(width) => drawLadder(rungs, part.id, width)}
            caption="From what can be done at once, at the top. A line leads from what must be away to what it frees. The rule that the cell is isolated before live work is a matter of order: see Ways in."
          />
          {rungs.some((one) => one.guess) ? (
            <OpenQuestion>
              Part of this is a guess: nobody has tried it on this unit. Look when the part beside it lies bare.
            </OpenQuestion>
          ) : null}
        </Section>
      )}
      <Section title="What holds it">
        <Table
          caption={`Joints of ${part.name}`}
          rows={joints}
          rowKey={(one) => one.id}
          empty="No joint holds it: it lies free once what covers it is away."
          columns={[
            { head: "joint", cell: (one) => jointDetail(one) },
            {
              head: "to",
              cell: (one) => (
                <span className="run">
                  {one.holds
                    .filter((id) => id !== part.id)
                    .map((id) => (
                      <PartButton key={id} id={id} name={nameOf(record, id)} choose={choose} />
                    ))}
                </span>
              ),
            },
            { head: "undone by", cell: (one) => releaseWords(record, one) },
            { head: "known", cell: (one) => BASIS_WORDS[one.basis ?? "seen"] },
          ]}
        />
      </Section>
      {over.length === 0 ? null : (
        <Section title="What it hides">
          <p className="run">
            {over.map((one) => (
              <PartButton key={one.id} id={one.id} name={one.name} choose={choose} />
            ))}
          </p>
        </Section>
      )}
      {part.role === "battery" ? (
        <Caution title="A cell">
          Swollen, hot or venting: stop, leave it alone, ventilate, follow your site's rules. Local rules and qualified
          people come first.
        </Caution>
      ) : null}
      <PartsTable record={record} />
    </>
  );
}

function releaseWords(record: TeardownRecord, joint: Joint): string {
  if (joint.releases.length === 0) return "lets go by itself";
  const tool = (id: string) => record.tools.find((one) => one.id === id)?.name ?? id;
  return joint.releases
    .map((release) => {
      const with_ = release.tools.length === 0 ? "bare hand" : release.tools.map(tool).join(" + ");
      const harm = release.leaves === "broken" || release.destroys?.length ? ", damages" : "";
      const gates = release.hazard?.length ? `, hazard: ${release.hazard.join(", ")}` : "";
      return `${release.action}, ${with_}${harm}${gates}`;
    })
    .join("; or ");
}

function Facts({ record, part }: { readonly record: TeardownRecord; readonly part: Part }) {
  const facts = [
    part.role === undefined ? null : part.role.replaceAll("-", " "),
    part.material === undefined ? null : materialName(part.material),
    part.within === undefined ? null : `part of ${nameOf(record, part.within)}`,
    part.serves?.length ? `carries ${part.serves.map((role) => role.replaceAll("-", " ")).join(", ")}` : null,
    part.live ? "powered until the cell is isolated" : null,
    part.pairing
      ? `paired with the device${part.ifUnpaired ? `: otherwise ${part.ifUnpaired.replaceAll("-", " ")}` : ""}`
      : null,
    part.esd ? "sensitive to static" : null,
    part.magnet ? "magnet" : null,
    part.laser ? "laser source" : null,
    part.basis === undefined ? null : `place in the order: ${BASIS_WORDS[part.basis]}`,
  ].filter((one) => one !== null);
  return (
    <>
      {facts.length === 0 ? null : <p>{facts.join(" · ")}</p>}
      {part.note === undefined ? null : <p className="soft">{part.note}</p>}
    </>
  );
}

function Doubts({ record }: { readonly record: TeardownRecord }) {
  const { choose } = useBench();
  const parts = record.parts.filter(doubted);
  const joints = record.joints.filter(doubted);
  if (parts.length + joints.length === 0) return null;
  return (
    <Section title="Open doubts">
      {parts.map((one) => (
        <OpenQuestion key={one.id}>
          <PartButton id={one.id} name={one.name} choose={choose} /> lies under{" "}
          {one.under?.map((group) => group.map((id) => nameOf(record, id)).join(" and ")).join(", or under ") ??
            "nothing"}
          : {BASIS_WORDS[one.basis!]}. Try it, or look when it lies bare.
        </OpenQuestion>
      ))}
      {joints.map((one) => (
        <OpenQuestion key={one.id}>
          {jointDetail(one)} between {one.holds.map((id) => nameOf(record, id)).join(" and ")}: how it is reached is{" "}
          {BASIS_WORDS[one.basis!]}.
        </OpenQuestion>
      ))}
    </Section>
  );
}

function PartsTable({ record }: { readonly record: TeardownRecord }) {
  const { choose, part } = useBench();
  return (
    <Section title="All parts">
      <Table
        caption="All parts"
        rows={record.parts}
        rowKey={(one) => one.id}
        chosen={(one) => one.id === part?.id}
        columns={[
          {
            head: "part",
            cell: (one) => <PartButton id={one.id} name={one.name} choose={choose} chosen={one.id === part?.id} />,
          },
          { head: "role", cell: (one) => one.role?.replaceAll("-", " ") ?? "" },
          { head: "material", cell: (one) => (one.material === undefined ? "" : materialName(one.material)) },
          {
            head: "level",
            unit: "mm",
            number: true,
            cell: (one) => (one.level ? `${one.level[0]} to ${one.level[1]}` : ""),
          },
          {
            head: "joints",
            number: true,
            cell: (one) => record.joints.filter((joint) => joint.holds.includes(one.id)).length,
          },
        ]}
      />
    </Section>
  );
}
