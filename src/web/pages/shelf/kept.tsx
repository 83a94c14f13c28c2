/** What to keep, what to order, what to buy a last time, and which tools open how many of the swaps. */
import { useEffect, useMemo } from "react";
import type { Money } from "../../../core/record/index.ts";
import type { Shelf, ShelfItem } from "../../../core/service/shelf/index.ts";
import { writeTable } from "../../../core/service/shelf/table.ts";
import { drawBars } from "../../../figures/index.ts";
import { Caution, Remarks } from "../../face/caution.tsx";
import { Figure, Figures } from "../../face/figure.tsx";
import { Section } from "../../face/page-head.tsx";
import { Picture } from "../../face/picture.tsx";
import { type Column, Table } from "../../face/table.tsx";

const money = (value: Money | null): string => (value === null ? "not known" : `${value.amount} ${value.currency}`);
const amount = (value: number): string => String(Number(value.toPrecision(4)));
const rough = (value: number): string => (value < 0.05 ? "0.0" : value.toFixed(value < 10 ? 1 : 0));
const withUnit = (value: number, unit: string): string =>
  unit === "1" ? amount(value) : value === 0 ? "0" : `${amount(value)} ${unit}`;

export function Kept({ shelf }: { readonly shelf: Shelf }) {
  const kept = shelf.items.filter(({ keep, order }) => keep > 0 || order > 0);
  const none = shelf.items.filter((item) => !kept.includes(item));
  const energy = shelf.items.reduce((sum, { wattHours = 0, keep }) => sum + wattHours * keep, 0);
  const cells = shelf.items.filter(({ kind }) => kind === "cell").reduce((sum, { keep }) => sum + keep, 0);
  return (
    <>
      <Figures>
        <Figure
          large
          value={shelf.value.length === 0 ? "no prices" : shelf.value.map(money).join(" and ")}
          note={`worth of what is kept, ${Math.round(shelf.service * 1000) / 10} % of cycles served`}
        />
        <Figure value={`${kept.length} of ${shelf.items.length}`} note="kinds of part, screw and consumable to keep" />
        <Figure value={`${shelf.order.length} lines`} note="to order now" />
        {cells === 0 ? null : (
          <Figure
            value={`${cells} ${cells === 1 ? "cell" : "cells"}`}
            note={energy > 0 ? `${amount(energy)} Wh on the shelf` : "energy not recorded"}
          />
        )}
      </Figures>
      {shelf.warnings.map((text) => (
        <Caution key={text} title={/fire load/.test(text) ? "Cells on a shelf" : "Said of this forecast"}>
          {text}
        </Caution>
      ))}
      <Section title="What to keep">
        <Items rows={kept} caption="What to keep" empty="Nothing is kept on the strength of this forecast." />
        {none.length === 0 ? null : (
          <details className="remarks">
            <summary>
              of {none.length} kinds none is kept <span className="soft">(rarely or never needed)</span>
            </summary>
            <Items rows={none} caption="What is not kept" empty="" />
          </details>
        )}
      </Section>
      <Order shelf={shelf} />
      <Tools shelf={shelf} />
      <Remarks title="Assumed" lines={shelf.assumptions} />
    </>
  );
}

function Items(props: { readonly rows: readonly ShelfItem[]; readonly caption: string; readonly empty: string }) {
  const { rows, caption, empty } = props;
  const last = rows.some(({ lastBuy }) => lastBuy !== undefined);
  const columns: Column<ShelfItem>[] = [
    {
      head: "what",
      cell: (row) => (
        <>
          {row.name}{" "}
          <span className="soft">
            {[...row.numbers, ...new Set(row.for.map(({ device }) => device))].join(" · ")}
            {row.words.length === 0 ? "" : `. ${row.words.join(" ")}`}
          </span>
        </>
      ),
    },
    { head: "keep", number: true, cell: (row) => <b>{withUnit(row.keep, row.unit)}</b> },
    { head: "there", number: true, cell: (row) => withUnit(row.onHand, row.unit) },
    {
      head: "order",
      number: true,
      cell: (row) =>
        row.packs === undefined || row.packs === 0
          ? withUnit(row.order, row.unit)
          : `${row.packs} ${row.packs === 1 ? "pack" : "packs"}`,
    },
    ...(last
      ? [
          {
            head: "last buy",
            number: true,
            cell: (row: ShelfItem) => (row.lastBuy === undefined ? "" : withUnit(row.lastBuy, row.unit)),
          },
        ]
      : []),
    { head: "lead", unit: "days", number: true, cell: (row) => `${row.leadDays}${row.leadKnown ? "" : " ?"}` },
    {
      head: "asked for",
      number: true,
      cell: (row) => `${rough(row.demand.mean)} ± ${rough(row.demand.sd)}`,
    },
    { head: "each", number: true, cell: (row) => money(row.price) },
  ];
  return (
    <Table caption={caption} rows={rows} rowKey={(row) => `${row.kind} ${row.id}`} empty={empty} columns={columns} />
  );
}

function Order({ shelf }: { readonly shelf: Shelf }) {
  const csv = useMemo(
    () =>
      writeTable(
        ["id", "name", "numbers", "amount", "unit", "price", "currency"],
        shelf.order.map((row) => [
          row.id,
          row.name,
          row.numbers.join(" "),
          row.amount,
          row.unit === "1" ? "piece" : row.unit,
          row.price?.amount,
          row.price?.currency,
        ]),
      ),
    [shelf],
  );
  const address = useMemo(() => URL.createObjectURL(new Blob([csv], { type: "text/csv" })), [csv]);
  useEffect(() => () => URL.revokeObjectURL(address), [address]);
  // Parts of several devices share a name: what they go into tells them apart.
  const goesInto = (id: string): string =>
    [...new Set(shelf.items.find((one) => one.id === id)?.for.map(({ device }) => device))].join(" · ");
  return (
    <Section title="To order">
      <Table
        caption="The list to order"
        rows={shelf.order}
        rowKey={(row) => `${row.id} ${row.unit}`}
        empty="Nothing has to be ordered."
        columns={[
          {
            head: "what",
            cell: (row) => (
              <>
                {row.name} <span className="soft">{goesInto(row.id)}</span>
              </>
            ),
          },
          { head: "number", cell: (row) => row.numbers.join(", ") },
          {
            head: "amount",
            number: true,
            cell: (row) => (row.unit === "pack" ? `${row.amount} × pack` : withUnit(row.amount, row.unit)),
          },
          { head: "each", number: true, cell: (row) => money(row.price) },
        ]}
      />
      {shelf.order.length === 0 ? null : (
        <p>
          <a className="button" href={address} download="order.csv">
            the list as a table (CSV)
          </a>
        </p>
      )}
    </Section>
  );
}

function Tools({ shelf }: { readonly shelf: Shelf }) {
  const kinds = Math.max(0, ...shelf.tools.map(({ opens }) => opens));
  return (
    <Section title="Tools to own">
      {shelf.tools.length === 0 ? (
        <p className="soft">No swap of the forecast needs a tool.</p>
      ) : (
        <>
          <Picture
            most={680}
            caption="From above: with each tool and all above it so many kinds of swap of the forecast can be done."
            draw={(width) =>
              drawBars(
                shelf.tools.map(({ name, opens, jobs }) => ({
                  name,
                  figure: { value: opens },
                  words: `${opens} of ${kinds}; ${jobs} ${jobs === 1 ? "job" : "jobs"} use it`,
                })),
                { width, unit: "swaps", quantity: "Kinds of swap opened" },
              )
            }
          />
          <details className="remarks">
            <summary>which tool for which swap</summary>
            <Table
              caption="Tools by what they open"
              rows={shelf.tools}
              rowKey={(row) => row.name}
              columns={[
                { head: "tool", cell: (row) => row.name },
                { head: "kind", cell: (row) => row.kind.replaceAll("-", " ") },
                { head: "swaps", number: true, cell: (row) => row.swaps },
                { head: "jobs", number: true, cell: (row) => row.jobs },
                { head: "for", cell: (row) => <span className="soft">{row.for.join("; ")}</span> },
              ]}
            />
          </details>
        </>
      )}
    </Section>
  );
}
