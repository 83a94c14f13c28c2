/** Calibration: what the source's contact is on this bench, from a thermocouple log. It comes before every figure. */
import { useId, useState } from "react";
import exampleLog from "../../../../examples/heat/spare-glass-on-plate.csv?raw";
import { MATERIALS } from "../../../core/heat/index.ts";
import { drawFit } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import type { FitAsks, FitShown } from "../../compute/warm-tasks.ts";
import { Fault } from "../../face/fault.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";
import { readable } from "../../face/readable.ts";
import { Segmented } from "../../face/segmented.tsx";
import { useKeep } from "../../keep/index.ts";
import { contactFrom, type KeptContact } from "./bench-contact.ts";
import { FileButton, NumberField, Working } from "./fields.tsx";

export interface CalibrationProps {
  readonly zone: string;
  /** The bench's tool: its name as people know it. */
  readonly source: string;
  readonly contact: KeptContact | null;
  /** W/(m2.K) that is assumed without one; null: the face is held at the plate's temperature. */
  readonly assumed: number | null;
  readonly plate: number;
  readonly room: number;
  /** Faces of the zone on which a thermocouple can be. */
  readonly faces: readonly string[];
  readonly glass: { readonly material: string; readonly thickness: number };
  /** False: the browser kept nothing. */
  readonly keep: (contact: KeptContact | null) => boolean;
}

const digits = (x: number): string => (x >= 100 ? x.toFixed(0) : x.toPrecision(3));

export function Calibration(props: CalibrationProps) {
  const { source, contact, assumed, keep } = props;
  const [open, setOpen] = useState(false);
  return (
    <Section title="The source on this bench">
      {contact === null ? (
        <p>
          The contact of {source} has not been measured here:{" "}
          {assumed === null ? "the face is taken as held" : `${digits(assumed)} W/(m²·K)`} is an assumption, and a dry
          pad may be half or double of it. No other figure decides more.
        </p>
      ) : (
        <p>
          {source}: {digits(contact.value)} W/(m²·K), 95 % between {digits(contact.low)} and {digits(contact.high)},{" "}
          {contact.where}, {contact.on}. It is kept in this browser with the tool, not in the record: the record has no
          place for what belongs to the bench.
        </p>
      )}
      <div className="row">
        <button type="button" className="button" aria-expanded={open} onClick={() => setOpen(!open)}>
          {contact === null ? "measure it" : "measure it again"}
        </button>
        {contact === null ? null : (
          <>
            <WriteIntoZone zone={props.zone} contact={contact} />
            <button type="button" className="button" onClick={() => keep(null)}>
              forget it
            </button>
          </>
        )}
      </div>
      {open ? <FromLog {...props} done={() => setOpen(false)} /> : null}
    </Section>
  );
}

/** The zone's own programme is a place in the record: who wants the contact to travel with it writes it there. */
function WriteIntoZone({ zone, contact }: { readonly zone: string; readonly contact: KeptContact }) {
  const { record } = useBench();
  const { edit } = useKeep();
  const programme = record.zones?.find(({ id }) => id === zone)?.programme as
    | readonly { readonly hot?: { readonly temperature?: number; readonly h?: number | null } }[]
    | undefined;
  if (programme === undefined) return null;
  const hottest = programme.reduce(
    (best, stage, i) =>
      (stage.hot?.temperature ?? -Infinity) >= (programme[best]?.hot?.temperature ?? -Infinity) ? i : best,
    0,
  );
  const value = Number(contact.value.toPrecision(3));
  if (programme[hottest]?.hot?.h === value) return <span className="soft">also in the record's zone</span>;
  return (
    <button
      type="button"
      className="button"
      onClick={() =>
        void edit(
          [{ kind: "set", list: "zones", id: zone, path: ["programme", hottest, "hot", "h"], value }],
          `contact of zone ${zone}`,
        )
      }
    >
      write it into the record's zone
    </button>
  );
}

function FromLog(props: CalibrationProps & { readonly done: () => void }) {
  const { kept } = useBench();
  const [where, setWhere] = useState<"glass" | "zone">("glass");
  const [material, setMaterial] = useState(props.glass.material);
  const [thickness, setThickness] = useState(props.glass.thickness);
  const [at, setAt] = useState(props.faces[0] ?? "");
  const [plate, setPlate] = useState(props.plate);
  const [room, setRoom] = useState(props.room);
  const [bond, setBond] = useState(false);
  const [log, setLog] = useState("");
  const [asks, setAsks] = useState<FitAsks | null>(null);
  const found = useComputed(kept, "fit", asks);
  const ids = { material: useId(), at: useId(), log: useId() };
  const now: FitAsks = {
    log,
    on: where === "glass" ? { kind: "glass", material, thickness } : { kind: "zone", zone: props.zone, at },
    plate,
    start: room,
    bond: bond && where === "zone",
  };
  const { answer } = found;
  return (
    <div className="opened">
      <p>
        Tape a thin thermocouple to a face, start the log, lay the face on the source at second 0 and leave it for a
        minute and a half, one reading a second. A spare glass shows the contact best; in the device itself the outer
        face can be reached without opening anything.
      </p>
      <div className="fields">
        <Segmented
          label="Thermocouple"
          value={where}
          options={[
            { value: "glass", label: "on a spare glass" },
            { value: "zone", label: "in this device" },
          ]}
          onChange={setWhere}
        />
        {where === "glass" ? (
          <>
            <div className="field">
              <label className="soft" htmlFor={ids.material}>
                of
              </label>
              <select id={ids.material} value={material} onChange={(event) => setMaterial(event.target.value)}>
                {MATERIALS.map(({ id, name }) => (
                  <option key={id} value={id}>
                    {name}
                  </option>
                ))}
              </select>
            </div>
            <NumberField
              label="thickness"
              unit="mm"
              value={thickness}
              least={0.05}
              most={20}
              step={0.05}
              onChange={setThickness}
            />
          </>
        ) : (
          <div className="field">
            <label className="soft" htmlFor={ids.at}>
              on
            </label>
            <select id={ids.at} value={at} onChange={(event) => setAt(event.target.value)}>
              {props.faces.map((face) => (
                <option key={face}>{face}</option>
              ))}
            </select>
          </div>
        )}
        <NumberField label="source set to" unit="°C" value={plate} least={30} most={200} onChange={setPlate} />
        <NumberField label="room" unit="°C" value={room} least={-10} most={50} step={0.5} onChange={setRoom} />
        {where === "zone" ? (
          <label className="check">
            <input type="checkbox" checked={bond} onChange={(event) => setBond(event.target.checked)} /> the bond's
            conductivity too
          </label>
        ) : null}
      </div>
      <label className="soft" htmlFor={ids.log}>
        The log: seconds and °C, a row each
      </label>
      <textarea
        id={ids.log}
        rows={6}
        value={log}
        spellCheck={false}
        placeholder={"0, 22.5\n1, 31.8\n2, 40.2"}
        onChange={(event) => setLog(event.target.value)}
      />
      <div className="row">
        <button type="button" className="button" disabled={log.trim() === ""} onClick={() => setAsks(now)}>
          fit the contact
        </button>
        <FileButton label="take a file" onText={setLog} />
        <button
          type="button"
          className="quiet"
          onClick={() => {
            setWhere("glass");
            setMaterial("glass_aluminosilicate");
            setThickness(0.55);
            setPlate(80);
            setRoom(22.5);
            setLog(exampleLog);
          }}
        >
          an example log
        </button>
      </div>
      <Working answer={answer} words="Fitting." stop={found.stop} again={found.again} />
      {answer.kind === "refused" ? (
        <Fault
          title="The log could not be fitted"
          faults={answer.faults}
          action="Mend the log or the fields and fit again."
        />
      ) : null}
      {answer.kind === "here" && asks !== null ? (
        <FitResult
          shown={answer.value}
          source={props.source}
          take={() => {
            const place = asks.on.kind === "glass" ? `on a spare glass of ${asks.on.thickness} mm` : `on ${asks.on.at}`;
            const date = new Date().toISOString().slice(0, 10);
            const stays = props.keep(contactFrom(answer.value.fit, place, date));
            if (stays) props.done();
            return stays;
          }}
        />
      ) : null}
    </div>
  );
}

function FitResult(props: { readonly shown: FitShown; readonly source: string; readonly take: () => boolean }) {
  const { fit, low, high } = props.shown;
  const [refused, setRefused] = useState(false);
  return (
    <>
      <Figures>
        <Figure
          value={`${digits(fit.contact.low)} to ${digits(fit.contact.high)} W/(m²·K)`}
          note={`contact, 95 %; best ${digits(fit.contact.value)}`}
        />
        {fit.bond === undefined ? null : (
          <Figure
            value={`${fit.bond.low.toPrecision(2)} to ${fit.bond.high.toPrecision(2)} W/(m·K)`}
            note={`bond, 95 %; best ${fit.bond.value.toPrecision(2)}`}
          />
        )}
        <Figure value={`${fit.residual.toFixed(2)} K`} note={`left over, ${fit.rows} readings`} />
      </Figures>
      {fit.warnings.map((one) => (
        <p key={one}>{readable(one)}</p>
      ))}
      <Picture most={640} draw={(width) => drawFit({ width, points: fit.points, low, high })} />
      <div className="row">
        <button type="button" className="button" onClick={() => setRefused(!props.take())}>
          keep it with {props.source}
        </button>
        {refused ? (
          <span role="alert">This browser keeps nothing (private window or full): note the figures.</span>
        ) : null}
      </div>
    </>
  );
}
