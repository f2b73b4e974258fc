import type { StructureElement } from "pdfkit";
import type { Cell, Column, Row, TableBlock, Text } from "../document/document.ts";
import { line, plainText, runsOf } from "../document/text.ts";
import type { Canvas } from "./canvas.ts";
import { type ColumnNeed, columnGroups, columnWidths } from "./column-widths.ts";
import { INK, PAGE, WIDTH } from "./page-geometry.ts";
import { extent, type Line, paragraph, setLines, type TextStyle } from "./paragraph.ts";

/** Sizes of type that are tried, the first that fits is taken. */
const SIZES = [7.6, 7, 6.4] as const;
const PADDING = 3;
const ROW_PADDING = 2;
const BAR = 42;
/** Where words are too long for their columns, these are no narrower: names and times stay whole as long as may be. */
const NARROWEST = { text: 60, code: 112, bar: BAR + 2 * PADDING } as const;
/** A table of less height is not parted. */
const SMALL = 230;
const CAPTION: TextStyle = { face: "sansBold", size: 8.6, colour: INK.text };
const LEGEND: TextStyle = { face: "sans", size: 7.4, colour: INK.muted };

/** A table laid out: widths of columns, and every row in lines. */
interface Layout {
  readonly columns: readonly Column[];
  readonly widths: readonly number[];
  readonly size: number;
  readonly head: LaidRow;
  readonly rows: readonly LaidRow[];
}

interface LaidRow {
  readonly cells: readonly { readonly lines: readonly Line[]; readonly bar?: number }[];
  /** Lines of its tallest cell. */
  readonly height: number;
  readonly tone?: Row["tone"];
}

/** Draws a table over as many pages as it needs; one that is too wide for the page is parted by columns. */
export function drawTable(canvas: Canvas, parent: StructureElement, table: TableBlock): void {
  const parts = partsOf(canvas, table);
  parts.forEach((part, i) => {
    const caption =
      parts.length === 1 ? table.caption : line(runsOf(table.caption), ` (columns, part ${i + 1} of ${parts.length})`);
    drawPart(canvas, parent, layout(canvas, part.columns, part.rows, part.size, part.widths), caption);
  });
  if (table.legend !== undefined && plainText(table.legend) !== "") {
    const lines = setLines(paragraph(table.legend, LEGEND, canvas.book), WIDTH, canvas.book);
    const owner = canvas.element("P", parent);
    for (const own of lines) {
      canvas.need(10);
      canvas.content("P", owner, () => canvas.line(own, PAGE.left, canvas.y + 8));
      canvas.y += 9.6;
    }
  }
}

/** The least height that a table needs with what stands before it: the whole of a small one, caption, head and two rows of others. */
export function tableStart(canvas: Canvas, table: TableBlock): number {
  const [part] = partsOf(canvas, { ...table, rows: table.rows.slice(0, 40) });
  const { head, rows, size } = layout(canvas, part!.columns, part!.rows, part!.size, part!.widths);
  const height = (some: readonly LaidRow[]) => 20 + [head, ...some].reduce((sum, row) => sum + rowHeight(row, size), 0);
  return height(rows) < SMALL ? height(rows) : height(rows.slice(0, 2));
}

function partsOf(canvas: Canvas, { columns, rows }: TableBlock) {
  for (const size of SIZES) {
    const needs = needsOf(canvas, columns, rows, size);
    const widths = columnWidths(needs, WIDTH);
    if (widths) return [{ columns, rows, size, widths }];
  }
  const size = SIZES.at(-1)!;
  const needs = needsOf(canvas, columns, rows, size).map((need, c) => {
    const { kind } = columns[c]!;
    return kind === "number" ? need : { ...need, least: Math.min(need.least, NARROWEST[kind]) };
  });
  const widths = columnWidths(needs, WIDTH);
  if (widths) return [{ columns, rows, size, widths }];
  // a number that is wider than a page is broken too: whole, if not pretty
  const capped = needs.map((need) => ({ natural: need.natural, least: Math.min(need.least, WIDTH / 2) }));
  return columnGroups(capped, WIDTH).map((group) => ({
    columns: group.map((c) => columns[c]!),
    rows: rows.map((row): Row => ({ ...row, cells: group.map((c) => row.cells[c]!) })),
    size,
    widths: columnWidths(
      group.map((c) => capped[c]!),
      WIDTH,
    )!,
  }));
}

function needsOf(canvas: Canvas, columns: readonly Column[], rows: readonly Row[], size: number): ColumnNeed[] {
  const known = new Map<string, ColumnNeed>();
  const need = (text: Text, style: TextStyle): ColumnNeed => {
    const key = `${style.face}|${plainText(text)}`;
    const seen = known.get(key) ?? extent(paragraph(text, style, canvas.book));
    known.set(key, seen);
    return seen;
  };
  return columns.map((column, c) => {
    const own = [need(column.head, headStyle(size))];
    for (const { cells } of rows) {
      const cell = cells[c]!;
      if (isBar(cell)) own.push({ natural: BAR, least: BAR });
      else {
        const found = need(cell, cellStyle(column, size));
        own.push(column.kind === "number" ? { natural: found.natural, least: found.natural } : found);
      }
    }
    return {
      natural: Math.max(...own.map(({ natural }) => natural)) + 2 * PADDING + 0.1,
      least: Math.max(...own.map(({ least }) => least)) + 2 * PADDING + 0.1,
    };
  });
}

const isBar = (cell: Cell): cell is { readonly bar: number } => typeof cell === "object" && "bar" in cell;
const isRight = ({ kind }: Column) => kind === "number";

function headStyle(size: number): TextStyle {
  return { face: "sansBold", size: size - 0.3, colour: INK.muted };
}

function cellStyle({ kind, channel }: Column, size: number): TextStyle {
  const face = kind === "number" || kind === "code" ? "mono" : "sans";
  return { face, size, colour: channel === undefined ? INK.text : INK.channels[channel - 1]! };
}

function layout(
  canvas: Canvas,
  columns: readonly Column[],
  rows: readonly Row[],
  size: number,
  widths: readonly number[],
): Layout {
  const { book } = canvas;
  const lines = (text: Text, style: TextStyle, c: number) =>
    setLines(paragraph(text, style, book), widths[c]! - 2 * PADDING, book);
  const laid = (cells: LaidRow["cells"], tone?: Row["tone"]): LaidRow => ({
    cells,
    height: Math.max(1, ...cells.map((cell) => cell.lines.length)),
    ...(tone !== undefined && { tone }),
  });
  return {
    columns,
    widths,
    size,
    head: laid(columns.map((column, c) => ({ lines: lines(column.head, headStyle(size), c) }))),
    rows: rows.map(({ cells, tone }) =>
      laid(
        cells.map((cell, c) =>
          isBar(cell) ? { lines: [], bar: cell.bar } : { lines: lines(cell, cellStyle(columns[c]!, size), c) },
        ),
        tone,
      ),
    ),
  };
}

const leading = (size: number) => size * 1.28;
const rowHeight = ({ height }: Pick<LaidRow, "height">, size: number) => height * leading(size) + 2 * ROW_PADDING;

function drawPart(canvas: Canvas, parent: StructureElement, own: Layout, caption: Text): void {
  const { rows, head, size } = own;
  canvas.gap(6);
  const height = (some: readonly LaidRow[]) => 20 + [head, ...some].reduce((sum, row) => sum + rowHeight(row, size), 0);
  // a small table stays whole, of a large one the beginning stays together
  canvas.need(height(rows) < SMALL ? height(rows) : height(rows.slice(0, 2)));
  const table = canvas.element("Table", parent);
  const owner = canvas.element("Caption", table);
  for (const text of setLines(paragraph(caption, CAPTION, canvas.book), WIDTH, canvas.book)) {
    canvas.content("Caption", owner, () => canvas.line(text, PAGE.left, canvas.y + 9));
    canvas.y += 12;
  }
  canvas.y += 2;
  drawHead(canvas, own, canvas.element("THead", table));
  const body = canvas.element("TBody", table);
  const again = () => {
    canvas.turn();
    drawHead(canvas, own, undefined);
  };
  for (const row of rows) drawRow(canvas, own, row, canvas.element("TR", body), again);
  canvas.y += 3;
}

/** The head of a table: an element where it comes first, of no meaning where a page repeats it. */
function drawHead(canvas: Canvas, own: Layout, owner: StructureElement | undefined): void {
  const { head, columns, widths, size } = own;
  const height = rowHeight(head, size);
  const row = owner && canvas.element("TR", owner);
  let x = PAGE.left;
  head.cells.forEach(({ lines }, c) => {
    // heads stand at the foot of their row
    const top = canvas.y + ROW_PADDING + (head.height - lines.length) * leading(size);
    const draw = () => drawLines(canvas, lines, x, top, widths[c]!, size, isRight(columns[c]!));
    if (!row) canvas.artifact("Pagination", draw);
    else if (plainText(columns[c]!.head) === "") canvas.element("TD", row);
    else canvas.content("TH", canvas.element("TH", row, { scope: "Column" }), draw);
    x += widths[c]!;
  });
  canvas.y += height;
  canvas.rule(PAGE.left, canvas.y, x, canvas.y, INK.text, 0.8);
}

/** One row; a row that is taller than what is left goes over to the next page whole, or in parts where it must. */
function drawRow(canvas: Canvas, own: Layout, row: LaidRow, owner: StructureElement, again: () => void): void {
  const { size, widths } = own;
  const full = rowHeight(row, size);
  const page = canvas.room;
  if (full > page && (full <= 500 || page < 60)) again();
  const elements = row.cells.map((cell, c) =>
    c === 0 && cell.lines.length > 0 && cell.lines[0]!.parts.length > 0
      ? canvas.element("TH", owner, { scope: "Row" })
      : canvas.element("TD", owner),
  );
  let done = 0;
  while (done < row.height) {
    const fits = Math.max(1, Math.floor((canvas.room - 2 * ROW_PADDING) / leading(size)));
    const now = Math.min(row.height - done, fits);
    const height = rowHeight({ height: now }, size);
    drawSlice(canvas, own, row, elements, done, now);
    canvas.y += height;
    const right = PAGE.left + widths.reduce((sum, width) => sum + width, 0);
    const strong = row.tone === "reference";
    canvas.rule(PAGE.left, canvas.y, right, canvas.y, strong ? INK.text : INK.rule, strong ? 0.6 : 0.4);
    done += now;
    if (done < row.height) again();
  }
}

function drawSlice(
  canvas: Canvas,
  { columns, widths, size }: Layout,
  row: LaidRow,
  elements: readonly StructureElement[],
  from: number,
  count: number,
): void {
  const total = widths.reduce((sum, width) => sum + width, 0);
  if (row.tone === "left-out") canvas.ground(PAGE.left, canvas.y, total, rowHeight({ height: count }, size), INK.tint);
  let x = PAGE.left;
  row.cells.forEach(({ lines, bar }, c) => {
    const top = canvas.y + ROW_PADDING;
    const width = widths[c]!;
    if (bar !== undefined && from === 0) drawBar(canvas, bar, x + PADDING, top + 1.5, size - 2);
    const slice = lines.slice(from, from + count);
    if (slice.some(({ parts }) => parts.length > 0))
      canvas.content(c === 0 ? "TH" : "TD", elements[c]!, () =>
        drawLines(canvas, slice, x, top, width, size, isRight(columns[c]!)),
      );
    if (row.tone === "left-out" && isRight(columns[c]!)) strike(canvas, slice, x, top, width, size);
    x += width;
  });
}

function drawLines(
  canvas: Canvas,
  lines: readonly Line[],
  x: number,
  top: number,
  width: number,
  size: number,
  right: boolean,
): void {
  lines.forEach((own, i) => {
    const left = right ? x + width - PADDING - own.width : x + PADDING;
    canvas.line(own, left, top + i * leading(size) + size * 0.98);
  });
}

/** A share as a bar; the figure beside it says the same. */
function drawBar(canvas: Canvas, share: number, x: number, y: number, height: number): void {
  const width = (BAR - 2) * Math.min(1, Math.abs(share));
  if (width > 0.05) canvas.ground(x, y, width, height, INK.attention);
}

/** Numbers that are not evaluated are struck through; their words stay. */
function strike(canvas: Canvas, lines: readonly Line[], x: number, top: number, width: number, size: number): void {
  lines.forEach((own, i) => {
    if (own.width === 0) return;
    const right = x + width - PADDING;
    const y = top + i * leading(size) + size * 0.7;
    canvas.rule(right - own.width, y, right, y, INK.muted, 0.5);
  });
}
