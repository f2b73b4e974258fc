import type { ReactNode } from "react";
import "./table.css";

/** A column of a table. */
export interface TableColumn<Row> {
  readonly id: string;
  readonly title: ReactNode;
  readonly cell: (row: Row) => ReactNode;
  /** Numbers stand to the right, in digits of equal width. */
  readonly number?: boolean;
  /** What names the row to those who listen; the first column unless one says so. */
  readonly names?: boolean;
}

/** What a table is made of. */
export interface TableProps<Row> {
  readonly label: string;
  readonly columns: readonly TableColumn<Row>[];
  readonly rows: readonly Row[];
  readonly keyOf: (row: Row) => string;
  /** Rows that ask to be looked at; a sign beside them must say so too. */
  readonly flagged?: (row: Row) => boolean;
}

/** A table to be read; where it is wider than its place it scrolls in itself, by keyboard too. */
export function Table<Row>({ label, columns, rows, keyOf, flagged }: TableProps<Row>) {
  const naming = columns.find(({ names }) => names) ?? columns[0];
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard
    <section className="table-scroll" aria-label={label} tabIndex={0}>
      <table className="table">
        <thead>
          <tr>
            {columns.map(({ id, title, number }) => (
              <th key={id} scope="col" className={number ? "table-number" : undefined}>
                {title}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={keyOf(row)} className={flagged?.(row) ? "table-flagged" : undefined}>
              {columns.map((column) => {
                const look = column.number ? "table-number number" : undefined;
                return column === naming ? (
                  <th key={column.id} scope="row" className={look}>
                    {column.cell(row)}
                  </th>
                ) : (
                  <td key={column.id} className={look}>
                    {column.cell(row)}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
