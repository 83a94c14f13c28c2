import type { ReactNode } from "react";

export interface Column<Row> {
  readonly head: string;
  /** Unit of the whole column, set behind its head. */
  readonly unit?: string;
  readonly cell: (row: Row) => ReactNode;
  readonly number?: boolean;
}

export interface TableProps<Row> {
  readonly caption: string;
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
  readonly chosen?: (row: Row) => boolean;
  readonly empty?: string;
}

/** A table whose head says the units. The first column names the row. */
export function Table<Row>({ caption, columns, rows, rowKey, chosen, empty }: TableProps<Row>) {
  if (rows.length === 0) return <p className="soft">{empty ?? "Nothing to list."}</p>;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by keyboard
    <section className="table" aria-label={caption} tabIndex={0}>
      <table>
        <caption>{caption}</caption>
        <thead>
          <tr>
            {columns.map((column) => (
              <th key={column.head} scope="col" className={column.number ? "number" : undefined}>
                {column.head}
                {column.unit === undefined ? null : <span className="soft"> {column.unit}</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={rowKey(row)} className={chosen?.(row) ? "chosen" : undefined}>
              {columns.map((column, i) =>
                i === 0 ? (
                  <th key={column.head} scope="row">
                    {column.cell(row)}
                  </th>
                ) : (
                  <td key={column.head} className={column.number ? "number" : undefined}>
                    {column.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
