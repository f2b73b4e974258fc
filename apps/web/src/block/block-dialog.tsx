import { columnsOf, isNumberText, SIGNAL_PREFIX, type Table, type TableSeriesKind } from "@alcedo-dosimetry/campaign";
import { useMemo, useState } from "react";
import { Button } from "../look/button.tsx";
import { Dialog } from "../look/dialog.tsx";
import { Select } from "../look/select.tsx";
import { TextField } from "../look/text-field.tsx";
import { blockRows, type Taking } from "./block-table.ts";
import { recall, remember } from "./mapping-memory.ts";
import { decimalOf, parseBlock } from "./parse-block.ts";
import { hasHeader, type Mapping, recognise } from "./recognise.ts";
import "./block-dialog.css";

/** What a pasted block is asked about. */
export interface BlockDialogProps {
  readonly title: string;
  readonly series: TableSeriesKind;
  readonly channels: readonly string[];
  /** The table that it goes into. */
  readonly table: Pick<Table, "columns" | "rows" | "decimal">;
  readonly withBackground: boolean;
  /** The block, where it was pasted already. */
  readonly text?: string;
  readonly onTake: (rows: { readonly added: readonly string[]; readonly rows: readonly (readonly string[])[] }) => void;
  readonly onClose: () => void;
}

/** Rows that the preview shows. */
const PREVIEW = 6;
const LEFT_OUT = "(left out)";

/** Readings from a spreadsheet: what each column is taken for, how the first rows come out, what is missing still. */
export function BlockDialog(props: BlockDialogProps) {
  const { title, series, channels, table, withBackground, onTake, onClose } = props;
  const [text, setText] = useState(props.text ?? "");
  const [chosen, setChosen] = useState<Mapping>();
  const [constants, setConstants] = useState<Readonly<Record<string, string>>>({});
  const columns = useMemo(() => columnsOf(series, channels), [series, channels]);
  const read = useMemo(() => {
    const block = parseBlock(text);
    if ("fault" in block) return block;
    const headed = hasHeader(block.cells, columns);
    const headers = headed ? block.cells[0]! : Array.from({ length: block.width }, (_, k) => `column ${k + 1}`);
    return { headers, cells: headed ? block.cells.slice(1) : block.cells, decimal: decimalOf(block) ?? table.decimal };
  }, [text, columns, table.decimal]);
  const proposed = useMemo(
    () => ("fault" in read ? [] : recognise(read.headers, series, channels, recall(series))),
    [read, series, channels],
  );
  const mapping = chosen ?? proposed;
  const taken = new Set(mapping.filter((name) => name !== null));
  const missing = columns.filter(
    ({ name, needed }) =>
      name !== "reading" &&
      !taken.has(name) &&
      (needed === "always" || (needed === "with-background" && withBackground)),
  );
  const lacking = missing.filter(({ name }) => (constants[name] ?? "").trim() === "");
  const rows = "fault" in read ? 0 : read.cells.length;
  const taking: Taking | undefined = "fault" in read ? undefined : { mapping, decimal: read.decimal, constants };
  const outcome = taking && !("fault" in read) ? blockRows(table, read.cells, taking) : undefined;
  const outColumns = [...table.columns, ...(outcome?.added ?? [])];
  const shownColumns = outColumns
    .map((name, k) => ({ name, k }))
    .filter(({ k }) => outcome?.rows.some((row) => row[k] !== "") ?? false);
  return (
    <Dialog
      title={title}
      isOpen
      wide
      onClose={onClose}
      foot={
        <>
          <Button onPress={onClose}>Cancel</Button>
          <Button
            kind="main"
            isDisabled={rows === 0 || !outcome}
            onPress={() => {
              if (!outcome || "fault" in read) return;
              remember(series, read.headers, mapping);
              onTake(outcome);
            }}
          >
            {rows === 1 ? "Take 1 reading" : `Take ${rows} readings`}
          </Button>
        </>
      }
    >
      <div className="block">
        <TextField
          label="Block from a spreadsheet"
          hint="Copy the cells with their header in the spreadsheet and paste them here. The columns may stand in any order, numbers may have a decimal point or a comma."
          lines={props.text === undefined ? 5 : 3}
          mono
          value={text}
          onChange={(value) => {
            setText(value);
            setChosen(undefined);
          }}
          error={"fault" in read ? read.fault : undefined}
          autoFocus={props.text === undefined}
        />
        {!("fault" in read) && rows > 0 && (
          <>
            <section aria-labelledby="block-columns">
              <h3 id="block-columns">What each column is taken for</h3>
              <div className="block-columns">
                {read.headers.map((header, k) => (
                  <Select
                    // biome-ignore lint/suspicious/noArrayIndexKey: columns of a block are told by their place
                    key={k}
                    label={header === "" ? `column ${k + 1}` : header}
                    chosen={mapping[k] ?? LEFT_OUT}
                    choices={[
                      { id: LEFT_OUT, name: "left out" },
                      ...columns.map(({ name, unit, meaning }) => ({
                        id: name,
                        name: unit === undefined ? named(name) : `${named(name)}, ${unit}`,
                        hint: meaning,
                      })),
                    ]}
                    onChoose={(id) => {
                      const name = id === LEFT_OUT ? null : id;
                      // a column of the table takes one column of the block
                      setChosen(mapping.map((own, m) => (m === k ? name : own === name ? null : own)));
                    }}
                  />
                ))}
              </div>
            </section>
            {missing.length > 0 && (
              <section aria-labelledby="block-missing">
                <h3 id="block-missing">The same for all these readings</h3>
                <p className="muted">
                  The block has no column for what follows, and the evaluation needs it. Enter what holds for every row,
                  or leave it empty and fill it in afterwards.
                </p>
                <div className="block-columns">
                  {missing.map(({ name, unit, meaning, choices }) => (
                    <TextField
                      key={name}
                      label={unit === undefined ? named(name) : `${named(name)}, ${unit}`}
                      hint={choices ? choices.join(" or ") : meaning}
                      value={constants[name] ?? ""}
                      onChange={(value) => setConstants({ ...constants, [name]: value })}
                    />
                  ))}
                </div>
              </section>
            )}
            <section aria-labelledby="block-preview">
              <h3 id="block-preview">How it comes out</h3>
              <p className="muted">
                {rows === 1 ? "1 reading" : `${rows} readings`}
                {rows > PREVIEW && `, the first ${PREVIEW} of them`}; decimal {read.decimal === "," ? "comma" : "point"}{" "}
                in the block.
                {lacking.length > 0 && ` Still empty: ${lacking.map(({ name }) => named(name)).join(", ")}.`}
              </p>
              {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard */}
              <section className="table-scroll" aria-label="Preview of the readings" tabIndex={0}>
                <table className="table">
                  <thead>
                    <tr>
                      {shownColumns.map(({ name }) => (
                        <th key={name} scope="col">
                          {named(name)}
                        </th>
                      ))}
                    </tr>
                  </thead>
                  <tbody>
                    {outcome?.rows.slice(0, PREVIEW).map((row, r) => (
                      // biome-ignore lint/suspicious/noArrayIndexKey: rows of a block are told by their place
                      <tr key={r}>
                        {shownColumns.map(({ name, k }) => (
                          <td
                            key={name}
                            className={isNumberText(row[k]!, table.decimal) ? "table-number number" : undefined}
                          >
                            {row[k]}
                          </td>
                        ))}
                      </tr>
                    ))}
                  </tbody>
                </table>
              </section>
            </section>
          </>
        )}
      </div>
    </Dialog>
  );
}

const named = (name: string) =>
  name.startsWith(SIGNAL_PREFIX) ? `signal ${name.slice(SIGNAL_PREFIX.length)}` : name.replaceAll("_", " ");
