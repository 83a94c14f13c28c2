import "../../shop/shop.css";
import { useId, useState } from "react";
import { PRIORITY_ROLES } from "../../../core/record/index.ts";
import type { ShelfSettings } from "../../../core/service/shelf/index.ts";
import { SHELF_DEFAULTS } from "../../../core/service/shelf/index.ts";
import { writeTable } from "../../../core/service/shelf/table.ts";
import type { KeptRecord, RecordHead } from "../../../server/api.ts";
import { useBench } from "../../bench/bench.tsx";
import { useComputed } from "../../compute/use-computed.ts";
import { ask, Failed } from "../../data/client.ts";
import { useAnswer } from "../../data/use-answer.ts";
import { Fault } from "../../face/fault.tsx";
import { PageHead, Section, Waiting } from "../../face/page-head.tsx";
import { Segmented } from "../../face/segmented.tsx";
import { TextEntry } from "../../shop/shop-settings.tsx";
import { Kept } from "./kept.tsx";
import { type ShelfSheet, shelfSettings, useShelfSheet } from "./use-shelf-sheet.ts";

interface Asked {
  readonly heads: readonly { readonly id: string; readonly revision: number }[];
  readonly forecast: string;
  readonly onHand: string;
  readonly settings: ShelfSettings;
}

export function ShelfPage() {
  const { kept } = useBench();
  const heads = useAnswer<readonly RecordHead[]>("/api/records");
  const [sheet, change] = useShelfSheet();
  const [asked, setAsked] = useState<Asked | null>(null);
  const { answer, stop, again } = useComputed(kept, "shelf", asked);
  const counted = answer.kind === "working" && answer.progress && "done" in answer.progress ? answer.progress : null;
  const known = heads.kind === "here" ? heads.value : [];
  const workOut = () =>
    setAsked({
      heads: known.map(({ id, revision }) => ({ id, revision })),
      forecast: sheet.forecast,
      onHand: sheet.onHand,
      settings: shelfSettings(sheet),
    });
  return (
    <>
      <PageHead title="Shelf">
        <p>
          What to keep for the repairs that are asked for, over all {known.length} records of this workspace: the same
          part of two models is one item, and what may break on the way is counted with its chance.
        </p>
      </PageHead>
      {heads.kind === "failed" ? (
        <Fault title="The records could not be fetched" faults={heads.error.faults} again={heads.again} />
      ) : null}
      <Forecast sheet={sheet} change={change} heads={known} />
      <Terms sheet={sheet} change={change} />
      <div className="row">
        <button
          type="button"
          className="button strong"
          disabled={sheet.forecast.trim() === "" || known.length === 0}
          onClick={workOut}
        >
          work out the shelf
        </button>
        {sheet.forecast.trim() === "" ? <span className="soft">A forecast is needed first.</span> : null}
      </div>
      {answer.kind === "working" ? (
        <Waiting stop={stop}>
          Planning the swaps{counted === null ? "" : `, ${counted.done} of ${counted.of} done`}.
        </Waiting>
      ) : null}
      {answer.kind === "stopped" ? <p>Stopped.</p> : null}
      {answer.kind === "refused" ? (
        <Fault
          title="The shelf could not be worked out"
          faults={answer.faults}
          action="Lines are counted from the heading, which is line 1."
          again={again}
        />
      ) : null}
      {answer.kind === "here" ? <Kept shelf={answer.value} /> : null}
    </>
  );
}

interface Part {
  readonly sheet: ShelfSheet;
  readonly change: (change: Partial<ShelfSheet>) => void;
}

function Forecast({ sheet, change, heads }: Part & { readonly heads: readonly RecordHead[] }) {
  const { record } = useBench();
  const [faults, setFaults] = useState<Failed["faults"]>([]);
  const blank = async () => {
    try {
      setFaults([]);
      const rows: (string | number)[][] = [];
      for (const { id } of heads) {
        const one =
          id === record.id ? record : (await ask<KeptRecord>(`/api/records/${encodeURIComponent(id)}`)).record;
        for (const part of one.parts)
          if (!part.base && (PRIORITY_ROLES as readonly string[]).includes(part.role ?? ""))
            rows.push([one.device.name, part.id, 0, 90]);
      }
      change({ forecast: writeTable(["device", "part", "count", "days"], rows).replaceAll("\r\n", "\n") });
    } catch (error) {
      if (!(error instanceof Failed)) throw error;
      setFaults(error.faults);
    }
  };
  return (
    <Section title="Forecast">
      <p className="soft">
        A table with commas: device, part, count and days (or weeks, months), or in place of the last two a column for
        each month, headed 2026-09 and so on. Count: how often the swap was asked for in that time.
      </p>
      <div className="row">
        <FileButton label="take a file" onText={(forecast) => change({ forecast })} />
        <button type="button" className="button" disabled={heads.length === 0} onClick={() => void blank()}>
          a sheet to fill in
        </button>
      </div>
      {faults.length === 0 ? null : <Fault title="The records could not be fetched" faults={faults} />}
      <TextSheet
        label="Forecast, as a table"
        value={sheet.forecast}
        placeholder={"device,part,count,days\nThrandle 5,cell,24,90"}
        onChange={(forecast) => change({ forecast })}
      />
      <details className="more">
        <summary>what is there already{sheet.onHand.trim() === "" ? "" : " (set)"}</summary>
        <div className="opened">
          <div className="row">
            <FileButton label="take a file of the stock" onText={(onHand) => change({ onHand })} />
          </div>
          <TextSheet
            label="Stock, as a table: number and count"
            value={sheet.onHand}
            placeholder={"number,count\nPW5-0501,2"}
            onChange={(onHand) => change({ onHand })}
          />
        </div>
      </details>
    </Section>
  );
}

function TextSheet(props: {
  readonly label: string;
  readonly value: string;
  readonly placeholder: string;
  readonly onChange: (value: string) => void;
}) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{props.label}</label>
      <textarea
        id={id}
        spellCheck={false}
        value={props.value}
        placeholder={props.placeholder}
        onChange={(event) => props.onChange(event.target.value)}
      />
    </div>
  );
}

/** The file's text; what is no text is refused by the reader of tables. */
function FileButton({ label, onText }: { readonly label: string; readonly onText: (text: string) => void }) {
  return (
    <label className="button file">
      {label}
      <input
        type="file"
        accept=".csv,.tsv,.txt,text/csv,text/plain"
        onChange={(event) => {
          const [file] = event.target.files ?? [];
          void file?.text().then(onText);
          event.target.value = "";
        }}
      />
    </label>
  );
}

function Terms({ sheet, change }: Part) {
  const levels = ["90", "95", "99"] as const;
  return (
    <Section title="Terms">
      <div className="row">
        <Segmented
          label="Served"
          value={sheet.service}
          options={levels.map((value) => ({ value: value as string, label: `${value} % served` }))}
          onChange={(service) => change({ service })}
        />
        <span className="soft">share of order cycles in which nothing runs out</span>
      </div>
      <fieldset className="entries">
        <legend className="unseen">Terms of ordering</legend>
        <TextEntry
          label="served"
          unit="% of cycles"
          usual="95"
          value={sheet.service}
          onChange={(service) => change({ service })}
        />
        <TextEntry
          label="between two orders"
          unit="days"
          usual={String(SHELF_DEFAULTS.review)}
          value={sheet.review}
          onChange={(review) => change({ review })}
        />
        <TextEntry
          label="lead time where none is known"
          unit="days"
          usual={String(SHELF_DEFAULTS.lead)}
          value={sheet.lead}
          onChange={(lead) => change({ lead })}
        />
        <TextEntry
          label="most cells on the shelf"
          unit="cells"
          usual="no cap"
          value={sheet.cells}
          onChange={(cells) => change({ cells })}
        />
        <TextEntry
          label="last buy, to last"
          unit="days"
          usual="none"
          value={sheet.lastBuy}
          onChange={(lastBuy) => change({ lastBuy })}
        />
        <TextEntry
          label="handled screws that get lost"
          unit="%"
          usual={String(SHELF_DEFAULTS.lost * 100)}
          value={sheet.lost}
          onChange={(lost) => change({ lost })}
        />
      </fieldset>
    </Section>
  );
}
