/** A set of sheets: its edition and what it replaces, what to recall, its pages to look at, its files to take. */
import { useState } from "react";
import type { LaidOut } from "../../../server/api.ts";
import { Caution, Remarks } from "../../face/caution.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { Table } from "../../face/table.tsx";

const size = (bytes: number): string =>
  bytes < 100_000 ? `${Math.ceil(bytes / 1000)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;

interface Props {
  readonly set: LaidOut;
  /** Of the sheets of this record. */
  readonly address: string;
  readonly issue: () => void;
}

export function LaidOutSheets({ set, address, issue }: Props) {
  const { edition, issued, editions } = set;
  const before = editions.filter((one) => one.edition < edition.edition).at(-1);
  const pages = set.sheets.reduce((sum, one) => sum + one.pages, 0);
  const of = `set=${encodeURIComponent(set.set)}`;
  return (
    <>
      <Figures>
        <Figure
          large
          value={`Edition ${edition.edition}`}
          note={`${edition.date}, record ${edition.revision}; ${before === undefined ? "replaces none" : `replaces edition ${before.edition} of ${before.date}`}`}
        />
        <Figure value={`${pages} pages`} note={`on ${set.sheets.length} sheets`} />
        <Figure value={`${set.files.length} files`} note={size(set.files.reduce((sum, one) => sum + one.bytes, 0))} />
      </Figures>
      {[...bySheet(set.recalls)].map(([title, recalls]) => (
        <Caution
          key={title}
          title={`Take back edition ${recalls[0]!.editions.join(", ")} of ${titleOf(set, recalls[0]!.sheet)}`}
        >
          {recalls.map((one) => `Screw ${one.number} ${changed(one.before, one.now)}.`).join(" ")} A long screw in a
          short hole damages the board or the cell below it.
        </Caution>
      ))}
      <Remarks title="Said about these sheets" lines={set.notes} />
      <div className="row">
        {issued ? (
          <>
            <span>Issued.</span>
            <a className="button" href={`${address}/zip?${of}`}>
              all files (ZIP)
            </a>
          </>
        ) : (
          <>
            <button type="button" className="button strong" onClick={issue}>
              issue as edition {edition.edition}
            </button>
            <span className="soft">Files are given out once the edition is on the list.</span>
          </>
        )}
      </div>
      <Preview set={set} address={address} />
      {issued ? <Files set={set} address={address} /> : null}
      <Section title="Editions issued">
        <Table
          caption="Editions of this record's sheets"
          rows={[...editions].reverse()}
          rowKey={(row) => String(row.edition)}
          chosen={(row) => row.edition === edition.edition}
          empty="None yet."
          columns={[
            { head: "edition", cell: (row) => row.edition },
            { head: "date", cell: (row) => row.date },
            { head: "record", cell: (row) => <code>{row.revision}</code> },
            { head: "now", cell: (row) => standing(row.edition, set) },
          ]}
        />
      </Section>
    </>
  );
}

/** One caution for each sheet and the same editions, however many of its screws have changed. */
function bySheet(recalls: LaidOut["recalls"]): Map<string, LaidOut["recalls"][number][]> {
  const groups = new Map<string, LaidOut["recalls"][number][]>();
  for (const one of recalls) {
    const key = `${one.sheet} ${one.editions.join()}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return groups;
}

function changed(before: number | null, now: number | null): string {
  if (before === null) return `was not on it and is ${now} mm`;
  return now === null ? `was ${before} mm and is gone` : `was ${before} mm and is ${now} mm`;
}

const titleOf = (set: LaidOut, sheet: string): string =>
  set.sheets.find(({ name }) => name.includes(`/${sheet}.`))?.title ?? sheet;

function standing(edition: number, set: LaidOut): string {
  if (set.recalls.some(({ editions }) => editions.includes(edition))) return "take it back: a screw has another length";
  const newest = Math.max(set.edition.edition, ...set.editions.map((one) => one.edition));
  return edition === newest
    ? "in force"
    : set.issued || edition !== set.editions.at(-1)?.edition
      ? "replaced"
      : "in force";
}

function Preview({ set, address }: { readonly set: LaidOut; readonly address: string }) {
  const [shown, show] = useState(set.sheets[0]?.name ?? "");
  const sheet = set.sheets.find(({ name }) => name === shown) ?? set.sheets[0];
  if (sheet === undefined) return null;
  const page = (n: number) =>
    `${address}/page?set=${encodeURIComponent(set.set)}&sheet=${encodeURIComponent(sheet.name)}&page=${n}`;
  return (
    <Section title="As it will be printed">
      <div className="row">
        <label>
          <span className="unseen">Sheet</span>
          <select value={sheet.name} onChange={(event) => show(event.target.value)}>
            {set.sheets.map((one) => (
              <option key={one.name} value={one.name}>
                {one.title} ({kindOf(one.name)}, {one.pages} {one.pages === 1 ? "page" : "pages"})
              </option>
            ))}
          </select>
        </label>
      </div>
      <div className="previews">
        {Array.from({ length: sheet.pages }, (_, i) => page(i + 1)).map((source, i) => (
          <figure className="preview" key={source}>
            <img src={source} alt={`${sheet.title}, page ${i + 1} of ${sheet.pages}`} loading="lazy" />
          </figure>
        ))}
      </div>
    </Section>
  );
}

const KINDS: Readonly<Record<string, string>> = {
  work: "work sheet",
  screws: "screw sheet",
  tables: "table",
};
const kindOf = (name: string): string =>
  name.includes("/") ? (KINDS[name.split("/")[0]!] ?? "file") : name.startsWith("report") ? "report" : "data";

interface Files {
  readonly name: string;
  readonly what: string;
  readonly files: LaidOut["files"];
}

/** Files that differ in their ending alone are one sheet in several forms. */
function sheetsOf(set: LaidOut): Files[] {
  const stems = new Map<string, LaidOut["files"][number][]>();
  for (const file of set.files) {
    const stem = file.name.replace(/\.\w+$/, "");
    stems.set(stem, [...(stems.get(stem) ?? []), file]);
  }
  return [...stems].map(([name, files]) => {
    const sheet = set.sheets.find((one) => one.name.replace(/\.\w+$/, "") === name);
    const what = sheet === undefined ? name.split("/").at(-1)! : sheet.title;
    return { name, what, files };
  });
}

function Files({ set, address }: { readonly set: LaidOut; readonly address: string }) {
  return (
    <Section title="Files">
      <Table
        caption="Files of this edition"
        rows={sheetsOf(set)}
        rowKey={(row) => row.name}
        columns={[
          { head: "sheet", cell: (row) => row.what },
          { head: "kind", cell: (row) => <span className="soft">{kindOf(row.name)}</span> },
          {
            head: "take it",
            cell: (row) => (
              <span className="run">
                {row.files.map((file) => (
                  <a
                    key={file.name}
                    className="file-link"
                    aria-label={`${row.what}, ${kindOf(row.name)}, ${endingOf(file.name)}`}
                    href={`${address}/file?set=${encodeURIComponent(set.set)}&file=${encodeURIComponent(file.name)}`}
                  >
                    {endingOf(file.name)}, {size(file.bytes)}
                  </a>
                ))}
              </span>
            ),
          },
        ]}
      />
    </Section>
  );
}

const endingOf = (name: string): string => name.split(".").at(-1)!.toUpperCase();
