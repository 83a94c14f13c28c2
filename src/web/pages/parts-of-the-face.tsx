/** Every component in all its states on one page: what the browser tests photograph, and where a new page begins. */
import { useState } from "react";
import type { TeardownRecord } from "../../core/record/index.ts";
import type { WayIn } from "../../core/route/ways/types.ts";
import { closedView, drawBars, drawDevice, drawLadder, drawRibbon, placeDevice, rungsTo } from "../../figures/index.ts";
import { Caution, OpenQuestion, Remarks } from "../face/caution.tsx";
import { Fault } from "../face/fault.tsx";
import { Figure, Figures } from "../face/figure.tsx";
import { PageHead, Section, Waiting } from "../face/page-head.tsx";
import { PartButton } from "../face/part-button.tsx";
import { Picture } from "../face/picture.tsx";
import { Segmented, Switches } from "../face/segmented.tsx";
import { Table } from "../face/table.tsx";
import { AppearanceChoice } from "../frame/appearance-choice.tsx";
import { type Mark, MarkSign } from "../frame/depth-list.tsx";
import { Link } from "../link.tsx";
import { FigurePictures } from "./figures/shown-pictures.tsx";
import { SHOWN, SHOWN_WAY } from "./shown-device.ts";

export function PartsOfTheFace() {
  const [aim, setAim] = useState<"seconds" | "steps" | "risk">("seconds");
  const [on, setOn] = useState<readonly string[]>(["puncture"]);
  const [part, setPart] = useState("cover");
  return (
    <div className="chooser">
      <title>Parts of the face · Unseam</title>
      <header className="heading">
        <Link className="mark" href="/">
          unseam
        </Link>
        <AppearanceChoice />
      </header>
      <main className="pad">
        <PageHead title="Parts of the face">
          <p className="soft">Everything that pages are made of, in all states.</p>
        </PageHead>
        <Section title="Figure with source">
          <Figures>
            <Figure large value="8 to 15 min" note="large: once on a page" />
            <Figure
              value="7 steps"
              note="opens to its source"
              source={<p>Counted by the rule, from the assembled device.</p>}
            />
            <Figure value="not known" note="nothing was measured" />
            <Figure value="27.32 ± 0.05 g" />
          </Figures>
        </Section>
        <Section title="Segmented choice and switches">
          <div className="row">
            <Segmented
              label="Aim"
              value={aim}
              options={[
                { value: "seconds", label: "least time" },
                { value: "steps", label: "fewest steps" },
                { value: "risk", label: "least risk", disabled: true },
              ]}
              onChange={setAim}
            />
            <button type="button" className="button">
              a button
            </button>
            <button type="button" className="button" disabled>
              not now
            </button>
            <button type="button" className="quiet">
              a quiet one
            </button>
          </div>
          <Switches
            label="Accepted"
            on={on}
            options={[
              { value: "puncture", label: "puncture of the cell" },
              { value: "short", label: "short of the cell" },
            ]}
            onChange={setOn}
          />
        </Section>
        <Section title="Marks of the drawing">
          <ul className="legend">
            {(["chosen", "way", "away", "there"] as const satisfies readonly Mark[]).map((mark) => (
              <li key={mark}>
                <MarkSign mark={mark} />{" "}
                {{ chosen: "chosen", way: "on the way in", away: "away", there: "there" }[mark]}
              </li>
            ))}
          </ul>
        </Section>
        <Section title="Table with units">
          <Table
            caption="A table"
            rows={[
              { id: "cover", name: "Cable cover", mass: "1.2 ± 0.1" },
              { id: "coil", name: "Charging coil", mass: "4.87 ± 0.02" },
            ]}
            rowKey={(row) => row.id}
            chosen={(row) => row.id === part}
            columns={[
              {
                head: "part",
                cell: (row) => <PartButton id={row.id} name={row.name} chosen={row.id === part} choose={setPart} />,
              },
              { head: "mass", unit: "g", number: true, cell: (row) => row.mass },
            ]}
          />
          <Table caption="An empty table" rows={[]} rowKey={() => ""} columns={[]} empty="Nothing was measured yet." />
        </Section>
        <Section title="Caution, open question, remarks">
          <Caution title="Heat beside a cell">
            Charge below 30 %. Stop at 60 °C at the cell. Local rules and qualified people come first.
          </Caution>
          <OpenQuestion>Two screws under the tape: a guess. Look when the coil is off.</OpenQuestion>
          <Remarks title="Assumed" lines={["pulling taken as 45 s each (common practice, no source)"]} />
        </Section>
        <Section title="Waiting and faults">
          <Waiting>Looking for the best order of work.</Waiting>
          <Waiting stop={() => {}}>Best so far 5 min 06 s, at least 4 min 50 s.</Waiting>
          <Fault
            title="The record could not be fetched"
            faults={[
              { path: "joints[3].holds[1]", found: '"batery"', expected: "the id of a part", nearest: "battery" },
              { path: "", found: "no answer from the server", expected: "it to be running" },
            ]}
            action="Start it again with npm start."
            again={() => {}}
          />
        </Section>
        <Drawings record={SHOWN} way={SHOWN_WAY} />
        <FigurePictures />
      </main>
    </div>
  );
}

function Drawings({ record, way }: { readonly record: TeardownRecord; readonly way: WayIn }) {
  const device = placeDevice(record)!;
  const rungs = rungsTo(record, "cell")!;
  return (
    <>
      <Section title="Plan and section">
        <div className="two">
          <Picture most={460} draw={(width) => drawDevice(device, closedView(device, width, 560), "closed").scene} />
          <Picture
            most={460}
            draw={(width) =>
              drawDevice(
                device,
                {
                  ...closedView(device, width, 560),
                  depth: 1,
                  chosen: new Set(["cell"]),
                  way: new Set(["cover"]),
                  wayJoints: new Set(["screws"]),
                },
                "opened",
              ).scene
            }
          />
        </div>
      </Section>
      <Section title="Ladder">
        <Picture most={520} draw={(width) => drawLadder(rungs, "cell", width)} />
      </Section>
      <Section title="Ribbon">
        <Picture most={860} draw={(width) => drawRibbon(record, way, { width, chosen: 2 })} />
      </Section>
      <Section title="Mass by part">
        <Picture
          most={640}
          draw={(width) =>
            drawBars(
              [
                {
                  part: "cell",
                  name: "Cell",
                  figure: { value: 61.3, low: 60.1, high: 62.5 },
                  sibling: { value: 58, low: 57.8, high: 58.2 },
                  words: "61.3 ± 1.2 g",
                },
                { part: "back", name: "Back", figure: { value: 22.4 }, words: "22.4 g" },
              ],
              { width, unit: "g", quantity: "Mass", sibling: "the one before", chosen: "cell" },
            )
          }
        />
      </Section>
    </>
  );
}
