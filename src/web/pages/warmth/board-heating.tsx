/** The second part of the page: one part of a board is heated, what happens to the parts around it. */
import { useId, useState } from "react";
import exampleBoard from "../../../../examples/heat/stacked-board.json?raw";
import { ALLOYS, type Alloy, classification, type PartHeat } from "../../../core/heat/index.ts";
import { drawBoardPlan, spokenTime } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import type { BoardAsks, BoardShown } from "../../compute/warm-tasks.ts";
import { Caution } from "../../face/caution.tsx";
import { Fault } from "../../face/fault.tsx";
import { Section } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";
import { readable } from "../../face/readable.ts";
import { Segmented } from "../../face/segmented.tsx";
import { Table } from "../../face/table.tsx";
import { FileButton, Working } from "./fields.tsx";

const ALLOY_WORDS: Readonly<Record<Alloy, string>> = {
  sac305: `lead-free, ${ALLOYS.sac305.liquidus} °C`,
  "tin-lead": `tin-lead, ${ALLOYS["tin-lead"].liquidus} °C`,
  "tin-bismuth": `tin-bismuth, ${ALLOYS["tin-bismuth"].liquidus} °C`,
};

export function BoardHeating() {
  const { kept } = useBench();
  const [text, setText] = useState("");
  const [alloy, setAlloy] = useState<Alloy | "">("");
  const [asks, setAsks] = useState<BoardAsks | null>(null);
  const found = useComputed(kept, "board", asks);
  const { answer } = found;
  const id = useId();
  return (
    <div className="second-part">
      <Section title="Board heating">
        <p>
          One part of a board under a jet, its neighbours, several layers, two boards joined by a frame. A planning aid,
          not a process qualification: the profile for a real board is found on a scrap one with a thermocouple.
        </p>
        <Caution title="The cell comes out first">
          No cell stays in a device that is heated to these figures. Fumes away from the face, hot metal stays hot for
          minutes. Local rules and qualified people come first.
        </Caution>
        <div className="fields">
          <div className="field">
            <span className="soft">
              Which solder? A low-melting joint changes everything; ask, or try it on a corner.
            </span>
            <Segmented
              label="Solder"
              value={alloy}
              options={(Object.keys(ALLOY_WORDS) as Alloy[]).map((one) => ({ value: one, label: ALLOY_WORDS[one] }))}
              onChange={(next) => setAlloy(next)}
            />
          </div>
        </div>
        <label className="soft" htmlFor={id}>
          The board (unseam-board/1): size, layers, parts, jet and heater
        </label>
        <textarea
          id={id}
          rows={7}
          spellCheck={false}
          value={text}
          placeholder={'{ "format": "unseam-board/1", "size": [60, 40], "cell": 1, … }'}
          onChange={(event) => setText(event.target.value)}
        />
        <div className="row">
          <button
            type="button"
            className="button"
            disabled={alloy === "" || text.trim() === ""}
            onClick={() => alloy !== "" && setAsks({ text, alloy })}
          >
            heat it on paper
          </button>
          <FileButton label="take a file" onText={setText} />
          <button type="button" className="quiet" onClick={() => setText(exampleBoard)}>
            an example board
          </button>
          {alloy === "" ? <span className="soft">the solder has to be chosen first</span> : null}
        </div>
        <Working answer={answer} words="Heating the board." stop={found.stop} again={found.again} />
        {answer.kind === "refused" ? (
          <Fault title="The board could not be read" faults={answer.faults} action="Mend it above and heat it again." />
        ) : null}
        {answer.kind === "here" ? <Shown shown={answer.value} /> : null}
      </Section>
    </div>
  );
}

function Shown({ shown: { board, heat, remarks, profile } }: { readonly shown: BoardShown }) {
  const { finish } = ALLOYS[board.alloy as Alloy];
  const sizeOf = new Map(board.parts.map((part) => [part.name, part.size]));
  const classified = ({ name }: PartHeat): string => {
    const [x, y, z] = sizeOf.get(name)!;
    const [c, d] = (["020C", "020D"] as const).map((revision) => classification(revision, finish, z, x * y * z));
    return c === d ? String(d) : `${d} (020C: ${c})`;
  };
  return (
    <>
      <Picture
        most={760}
        draw={(width) => drawBoardPlan(board, heat, { width })}
        caption="Shaded by the hottest that each part gets; accent outline: its own limit is reached."
      />
      <Table
        caption="Parts of the board"
        rows={heat.parts}
        rowKey={({ name }) => name}
        columns={[
          { head: "part", cell: ({ name }) => name },
          { head: "hottest", unit: "°C", number: true, cell: ({ peak }) => peak.toFixed(0) },
          { head: "at", number: true, cell: ({ at }) => spokenTime(at) },
          {
            head: "own limit",
            number: true,
            cell: ({ reached }) =>
              reached === undefined ? "" : reached === null ? "kept" : `at ${spokenTime(reached)}`,
          },
          { head: "rise", unit: "K/s", number: true, cell: ({ rampUp }) => rampUp.toFixed(1) },
          {
            head: "joints",
            unit: "°C",
            number: true,
            cell: ({ coldestJoint, joint }) => `${coldestJoint.toFixed(0)} to ${joint.toFixed(0)}`,
          },
          { head: `above ${board.liquidus} °C`, number: true, cell: ({ aboveLiquidus }) => spokenTime(aboveLiquidus) },
          { head: "classified, J-STD-020", unit: "°C", number: true, cell: classified },
        ]}
      />
      <h3>What to mind</h3>
      <ul>
        {remarks.map((one) => (
          <li key={one}>{readable(one)}</li>
        ))}
      </ul>
      <h3>A profile to begin with</h3>
      {profile.kind === "none" ? (
        <p>
          None to propose{profile.part === undefined ? "" : ` for ${profile.part}`}: {readable(profile.why)}.
        </p>
      ) : (
        <p>
          {profile.heat
            .map(({ seconds, nozzle, below }) =>
              [
                spokenTime(seconds),
                ...(below === undefined ? [] : [`${below.temperature} °C from below`]),
                ...(nozzle === undefined ? [] : [`jet of ${nozzle.temperature} °C on ${profile.part}`]),
              ].join(", "),
            )
            .join("; then ")}
          . Coldest joint {profile.coldestJoint.toFixed(0)} °C, hottest place {profile.peak.toFixed(0)} °C.
        </p>
      )}
      <p className="soft">
        {heat.cells} cells, {heat.steps} steps; heat closes to {heat.energyError.toExponential(1)} of what was
        exchanged.
      </p>
    </>
  );
}
