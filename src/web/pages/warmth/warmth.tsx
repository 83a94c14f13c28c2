/** Warmth: when a bond is soft and how long the cell allows it; the source is calibrated first, boards come last. */
import "./warmth.css";
import { useCallback, useMemo, useState } from "react";
import { SETTINGS } from "../../../core/heat/index.ts";
import { spokenTime } from "../../../figures/index.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import { outerFace, type WarmAsks, type WarmShown } from "../../compute/warm-tasks.ts";
import { Fault } from "../../face/fault.tsx";
import { PageHead, Section, Waiting } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { Table } from "../../face/table.tsx";
import { setSearch, usePlace } from "../../router.ts";
import { keepContact, keptContact } from "./bench-contact.ts";
import { BoardHeating } from "./board-heating.tsx";
import { Calibration } from "./calibration.tsx";
import { useLast } from "./fields.tsx";
import { Heating } from "./heating.tsx";
import { chosenZone, type ZoneHere, zonesOf } from "./zones.ts";

export function WarmthPage() {
  const { record, part } = useBench();
  const { search } = usePlace();
  const zones = useMemo(() => zonesOf(record), [record]);
  const zone = chosenZone(zones, search.get("zone"), part?.id ?? null);
  const lined = zones.filter(({ layers }) => layers);
  return (
    <div className="warmth">
      <PageHead title={zone === null ? "Warmth" : `Warmth: ${zone.frees === "" ? zone.id : zone.frees}`}>
        {lined.length > 1 && zone !== null ? (
          <div className="row">
            <span className="soft">heated zone</span>
            <Segmented
              label="Heated zone"
              value={zone.id}
              options={lined.map(({ id }) => ({ value: id, label: id }))}
              onChange={(id) => setSearch({ zone: id })}
            />
          </div>
        ) : null}
      </PageHead>
      {zone === null ? <NoLayers any={zones.length > 0} /> : <OneZone key={zone.id} zone={zone} />}
      <OtherZones zones={zones.filter(({ layers }) => !layers)} />
      <BoardHeating />
    </div>
  );
}

function NoLayers({ any }: { readonly any: boolean }) {
  return (
    <p className="sentence">
      {any
        ? "No heated zone of this record says where its lines through the device are, so no warm window can be computed: "
        : "Nothing in this record is undone with heat. Where something is: "}
      give the zone its places, and the parts under them their outlines, levels and materials.
    </p>
  );
}

function OneZone({ zone }: { readonly zone: ZoneHere }) {
  const { kept } = useBench();
  const tool = zone.source?.name ?? "the heat source";
  const [contact, setContact] = useState(() => keptContact(localStorage, tool));
  const [plate, setPlate] = useState<number | null>(null);
  const [liftOff, setLiftOff] = useState<number | null>(null);
  const [used, setUsed] = useState(0);
  const asks: WarmAsks = {
    zone: zone.id,
    ...(contact === null
      ? {}
      : {
          contact: {
            value: contact.value,
            low: contact.low,
            high: contact.high,
            source: contact.source,
            ...(contact.bond === undefined ? {} : { bond: contact.bond }),
          },
        }),
    ...(plate === null ? {} : { plate }),
    ...(liftOff === null ? {} : { liftOff }),
    ...(used === 0 ? {} : { used }),
  };
  const found = useComputed(kept, "warm", asks);
  const shown: WarmShown | null = useLast(found.answer);
  const { answer } = found;
  const keep = useCallback(
    (next: typeof contact) => {
      setContact(next);
      return keepContact(localStorage, tool, next);
    },
    [tool],
  );
  if (answer.kind === "refused")
    return (
      <Fault
        title={`No warm window can be computed for ${zone.id}`}
        faults={answer.faults}
        action="The record's zone, or what lies under its places, has to be completed first."
        again={found.again}
      />
    );
  if (shown === null)
    return answer.kind === "stopped" ? (
      <Waiting>Stopped.</Waiting>
    ) : (
      <Waiting stop={found.stop}>Heating the layers of {zone.id} on paper.</Waiting>
    );
  const faces = [
    ...new Set([
      ...shown.course.lines.map(({ name }) => outerFace(name)),
      ...shown.course.faces.map(({ watch }) => watch.name),
    ]),
  ];
  const first = shown.course.lines[0]!.layers[0]!;
  return (
    <>
      <Calibration
        zone={zone.id}
        source={tool}
        contact={contact}
        assumed={shown.hot.h === null ? null : contact === null ? shown.hot.h : SETTINGS.padContact.value}
        plate={shown.hot.temperature}
        room={shown.start}
        faces={faces}
        glass={{ material: "glass_aluminosilicate", thickness: first.thickness }}
        keep={keep}
      />
      <Heating
        zone={zone}
        source={tool}
        asks={asks}
        shown={shown}
        behind={answer.kind === "working"}
        setPlate={(next) => {
          setPlate(next);
          setLiftOff(null);
        }}
        setLiftOff={setLiftOff}
        setUsed={setUsed}
        changed={plate !== null || liftOff !== null}
      />
    </>
  );
}

/** Zones without lines: what was recorded is all there is. */
function OtherZones({ zones }: { readonly zones: readonly ZoneHere[] }) {
  if (zones.length === 0) return null;
  return (
    <Section title="Zones without layers">
      <p>
        Their times are recorded, or assumed where nothing is. Heat that is moved along a rim (hot air, a warm bag) is
        not described by lines through the device: no window is computed for it.
      </p>
      <Table
        caption="Zones without layers"
        rows={zones}
        rowKey={({ id }) => id}
        columns={[
          { head: "zone", cell: ({ id }) => id },
          { head: "frees", cell: ({ frees }) => frees },
          { head: "by", cell: ({ source }) => source?.name ?? "not said" },
          { head: "bond", unit: "°C", number: true, cell: ({ bond }) => bond ?? "" },
          { head: "heated for", number: true, cell: (zone) => recorded(zone, "seconds") },
          { head: "soft for", number: true, cell: (zone) => recorded(zone, "soft") },
        ]}
      />
    </Section>
  );
}

function recorded({ uses }: ZoneHere, what: "seconds" | "soft"): string {
  const value = uses.map(({ release }) => release.heat?.[what]).find((one) => one !== undefined);
  if (value !== undefined) return spokenTime(value);
  const seconds = uses.some(({ release }) => release.heat?.seconds !== undefined);
  return what === "seconds" ? "120 s, assumed" : seconds ? "no limit" : "60 s, assumed";
}
