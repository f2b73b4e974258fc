import { columnAt, EditError, type Table, type TableSeriesKind } from "@alcedo-dosimetry/campaign";
import { memo, type Ref, useCallback, useContext, useImperativeHandle, useMemo, useRef, useState } from "react";
import { type Column, DataGrid, type DataGridHandle, type RenderEditCellProps } from "react-data-grid";
import "react-data-grid/lib/styles.css";
import { decimalOf, parseBlock } from "../block/parse-block.ts";
import { hasHeader } from "../block/recognise.ts";
import { useSteady } from "../book/use-book.ts";
import { Decimal } from "../look/decimal.tsx";
import { withDecimal } from "../look/decimal-sign.ts";
import { type GridColumn, gridColumns, isOfOneDay, shownCell } from "./grid-columns.ts";
import { blockChange, type Change, cellChange, fillChange, isWhole, typedText } from "./grid-edits.ts";
import "./readings-grid.css";

/** A row of the grid: the cells of the table's row; the empty row behind the last has none. */
type Row = readonly string[];

/** The row behind the last, in which a new reading begins. */
const BEHIND: Row = [];

/** What the grid of a table's readings is made of. */
export interface ReadingsGridProps {
  readonly name: string;
  readonly table: Table;
  readonly series: TableSeriesKind;
  readonly channels: readonly string[];
  readonly signalUnit: string;
  /** Findings of cells, by {@link cellKey}, with the level; of a whole row under the column "". */
  readonly marks: ReadonlyMap<string, "error" | "warning" | "notice">;
  readonly onChange: (change: Change) => void;
  /** What would be so if what is being typed were entered; undefined when nothing is. */
  readonly onDraft: (change: Change | undefined) => void;
  /** A block with a header was pasted: its text. */
  readonly onBlock: (text: string) => void;
  readonly onLeaveOut: (row: number) => void;
  /** Jumps to a cell from outside. */
  readonly way?: Ref<GridWay>;
}

/** How others lead to a cell. */
export interface GridWay {
  readonly goTo: (row: number, column: string | undefined) => void;
  /** The row that is in focus, or the last. */
  readonly row: () => number | undefined;
}

/** Names a cell among findings. */
export const cellKey = (row: number, column: string) => `${row} ${column}`;

const ROW = 30;
const HEAD = 46;
/** So many rows are seen at once. */
const SEEN = 14;

/** The readings of one table, as a grid that takes typing, pasting and filling by mouse and by keys. */
export const ReadingsGrid = memo(function ReadingsGrid(props: ReadingsGridProps) {
  const { name, table, series, channels, signalUnit, marks, way } = props;
  const { onChange, onDraft, onBlock, onLeaveOut } = props;
  const sign = useContext(Decimal);
  const decimal = useCallback((text: string) => withDecimal(text, sign), [sign]);
  const grid = useRef<DataGridHandle>(null);
  const focus = useRef<number | undefined>(undefined);
  const [fault, setFault] = useState<string>();
  const oneDay = isOfOneDay(table);
  const header = table.columns.join("\n");
  const described = useMemo(
    // the columns alone decide: a changed cell must not make the grid anew
    () => gridColumns({ columns: header.split("\n") }, series, channels, signalUnit),
    [header, series, channels, signalUnit],
  );
  const latest = useRef(table);
  latest.current = table;
  const excludeAt = columnAt(table.columns, "exclude");

  const enter = useSteady((row: number, column: GridColumn, text: string) => {
    onDraft(undefined);
    const change = cellChange(name, table, { row, column }, typedText(text, column, table.decimal));
    if (change) onChange(change);
  });
  const draft = useSteady((row: number, column: GridColumn, text: string) => {
    const typed = typedText(text, column, table.decimal);
    onDraft(isWhole(typed, column, table.decimal) ? cellChange(name, table, { row, column }, typed) : undefined);
  });
  const paste = (row: number, column: GridColumn, text: string) => {
    const block = parseBlock(text);
    setFault(undefined);
    if ("fault" in block) {
      setFault(block.fault);
      return;
    }
    if (block.cells.length === 0) return;
    const known = described.flatMap((own) => own.known ?? []);
    if (block.cells.length > 1 && hasHeader(block.cells, known)) {
      onBlock(text);
      return;
    }
    try {
      const sign = decimalOf(block) ?? table.decimal;
      const change = blockChange(name, table, described, { row, column }, block.cells, sign);
      if (change) onChange(change);
    } catch (error) {
      if (!(error instanceof EditError)) throw error;
      setFault(error.message);
    }
  };
  const fill = (row: number, column: GridColumn, to: number) => {
    const change = fillChange(name, table, column, row, to);
    if (change) onChange(change);
  };

  const columns = useMemo(
    () =>
      described.map((own): Column<Row> => {
        const k = own.at;
        const look = [
          own.channel === undefined ? "" : `channel-${own.channel}`,
          own.known?.kind === "number" ? "readings-number" : "",
          own.known ? "" : "readings-unknown",
        ].join(" ");
        return {
          key: `${k}`,
          name: own.unit === "" ? own.title : `${own.title}, ${own.unit}`,
          width: own.width,
          minWidth: 60,
          resizable: true,
          frozen: own.known?.name === "reading",
          headerCellClass: look,
          renderHeaderCell: () => <Heading column={own} />,
          cellClass: (row) => `${look} ${markOf(row, own, marks, latest.current)}`,
          renderCell: ({ row }) =>
            row === BEHIND ? (
              own === described[0] ? (
                <span className="readings-behind">new row</span>
              ) : null
            ) : (
              shownCell(row[k] ?? "", own, oneDay, decimal)
            ),
          renderEditCell: (edit) => (
            <Editor
              edit={edit}
              column={own}
              text={decimalIn(edit.row[k] ?? "", own, decimal)}
              onEnter={enter}
              onDraft={draft}
              onLeave={() => onDraft(undefined)}
            />
          ),
          editorOptions: { closeOnExternalRowChange: false },
        };
      }),
    [described, marks, oneDay, decimal, enter, draft, onDraft],
  );
  const rows = useMemo(() => [...table.rows, BEHIND], [table.rows]);
  const at = (key: string) => described.find((own) => own.at === Number(key))!;

  useImperativeHandle(way, () => ({
    goTo: (row, column) => {
      const found = column === undefined ? -1 : columnAt(table.columns, column);
      const idx = Math.max(
        0,
        described.findIndex((own) => own.at === found),
      );
      grid.current?.scrollToCell({ rowIdx: row, idx });
      grid.current?.selectCell({ rowIdx: row, idx }, { shouldFocusCell: true });
      grid.current?.element?.scrollIntoView({ block: "nearest" });
    },
    row: () => focus.current,
  }));

  return (
    <div className="readings">
      <DataGrid<Row>
        ref={grid}
        className="readings-grid"
        aria-label={`Readings: ${name}`}
        columns={columns}
        rows={rows}
        rowHeight={ROW}
        headerRowHeight={HEAD}
        style={{ blockSize: "auto", maxBlockSize: HEAD + SEEN * ROW + ROW / 2 }}
        rowClass={(row) => (excludeAt >= 0 && (row[excludeAt] ?? "").trim() !== "" ? "readings-out" : undefined)}
        onSelectedCellChange={({ rowIdx }) => {
          focus.current = rowIdx >= 0 && rowIdx < table.rows.length ? rowIdx : undefined;
        }}
        onFill={({ columnKey, sourceRow, targetRow }) =>
          targetRow === BEHIND ? targetRow : targetRow.with(Number(columnKey), sourceRow[Number(columnKey)] ?? "")
        }
        onRowsChange={(changed, { indexes, column }) => {
          const own = at(column.key);
          const k = Number(column.key);
          const edits = indexes.flatMap((row) => {
            const text = changed[row]?.[k] ?? "";
            return row < table.rows.length && table.rows[row]![k] !== text
              ? [{ cell: { table: name, row, column: own.typed, text } }]
              : [];
          });
          if (edits.length > 0) onChange({ edits, why: `${name}: ${own.title} filled down` });
        }}
        onCellCopy={({ row, column }, event) => {
          event.clipboardData.setData("text/plain", row[Number(column.key)] ?? "");
          event.preventDefault();
        }}
        onCellPaste={({ row, column }, event) => {
          event.preventDefault();
          paste(rows.indexOf(row), at(column.key), event.clipboardData.getData("text/plain"));
          return row;
        }}
        onCellKeyDown={(args, event) => {
          if (args.mode === "EDIT") {
            // what was typed is entered by the editor as it closes; Esc takes it back
            if (event.key !== "Enter") return;
            event.preventGridDefault();
            args.onClose(false, false);
            const next = args.rowIdx + (event.shiftKey ? -1 : 1);
            grid.current?.selectCell(
              { idx: args.column.idx, rowIdx: Math.min(Math.max(next, 0), rows.length - 1) },
              { shouldFocusCell: true },
            );
            return;
          }
          const { rowIdx, column } = args;
          if ((event.key === "Delete" || event.key === "Backspace") && rowIdx < table.rows.length) {
            enter(rowIdx, at(column.key), "");
            event.preventGridDefault();
          } else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "d") {
            fill(rowIdx - 1, at(column.key), rowIdx);
            event.preventDefault();
            event.preventGridDefault();
          } else if (event.altKey && event.key.toLowerCase() === "x" && rowIdx < table.rows.length) {
            onLeaveOut(rowIdx);
            event.preventDefault();
            event.preventGridDefault();
          } else if (event.ctrlKey || event.metaKey || event.altKey) {
            event.preventGridDefault(); // the page's own keys are not typed into a cell
          }
        }}
      />
      {fault !== undefined && (
        <p className="field-error" role="alert">
          {fault}
        </p>
      )}
    </div>
  );
});

function Heading({ column: { title, unit, known, typed } }: { readonly column: GridColumn }) {
  return (
    <span className="readings-heading" title={known ? `${typed}: ${known.meaning}` : `${typed}: kept, not evaluated`}>
      <span className="readings-title">{title}</span>
      <span className="readings-unit">{unit}</span>
    </span>
  );
}

interface EditorProps {
  readonly edit: RenderEditCellProps<Row>;
  readonly column: GridColumn;
  readonly text: string;
  readonly onEnter: (row: number, column: GridColumn, text: string) => void;
  readonly onDraft: (row: number, column: GridColumn, text: string) => void;
  readonly onLeave: () => void;
}

/** The field in a cell; results follow while it is typed in, Esc takes everything back. */
function Editor({ edit, column, text, onEnter, onDraft, onLeave }: EditorProps) {
  const { rowIdx, onClose } = edit;
  const entered = useRef(false);
  const leave = (value: string) => {
    if (entered.current) return;
    entered.current = true;
    onEnter(rowIdx, column, value);
  };
  const choices = column.known?.choices;
  const list = `choices-${column.typed}`;
  return (
    <>
      <input
        className={`readings-editor${column.known?.kind === "number" ? " readings-number" : ""}`}
        defaultValue={text}
        aria-label={`${column.title}, row ${rowIdx + 1}`}
        // biome-ignore lint/a11y/noAutofocus: it opens because somebody typed into the cell
        autoFocus
        {...(choices && { list })}
        inputMode={column.known?.kind === "number" ? "decimal" : "text"}
        onFocus={(event) => event.currentTarget.select()}
        onChange={(event) => onDraft(rowIdx, column, event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === "Escape") {
            entered.current = true;
            onLeave();
          } else if (event.key === "Enter" || event.key === "Tab") leave(event.currentTarget.value);
        }}
        onBlur={(event) => {
          leave(event.currentTarget.value);
          onClose(false, false);
        }}
      />
      {choices && (
        <datalist id={list}>
          {choices.map((choice) => (
            <option key={choice} value={choice} />
          ))}
        </datalist>
      )}
    </>
  );
}

const decimalIn = (text: string, { known }: GridColumn, decimal: (text: string) => string) =>
  known?.kind === "number" ? decimal(text.replace(",", ".")) : text;

function markOf(row: Row, { typed }: GridColumn, marks: ReadingsGridProps["marks"], table: Table): string {
  if (marks.size === 0) return "";
  const at = table.rows.indexOf(row);
  const level = marks.get(cellKey(at, typed.trim())) ?? marks.get(cellKey(at, ""));
  return level === undefined ? "" : `readings-marked readings-${level}`;
}
