import { changed, fixed, type Row } from "../sheet.ts";
import { pick } from "./among-shots.ts";
import { type Circumstances, catalogue, type Mistake, type Papers } from "./mistake.ts";
import {
  inTurn,
  pickRow,
  rewrite,
  rewriteColumn,
  scaledSignals,
  sheetOf,
  signalColumns,
  withSheet,
} from "./on-paper.ts";

const OUTPUTS = "output-factors";
const isRow =
  ({ reading }: Row) =>
  (row: Row) =>
    row["reading"] === reading;

/** Mistakes in readings as they are written down. */
export const AT_THE_KEYBOARD = catalogue({
  "channels-swapped": {
    what: "The two channels stand in each other's columns, throughout.",
    mistype: (papers) =>
      inTurn(
        papers,
        papers.sheets.map(({ series }) => (own) => ({
          ...rewrite(own, series, () => true, swapped),
          places: [{ series }],
        })),
      ),
  },
  "channels-swapped-in-row": {
    what: "In one reading of the output factors the channels stand in each other's columns.",
    mistype: inOneRow((row, papers) => swapped(row, sheetOf(papers, OUTPUTS))),
  },
  "rows-pasted-twice": {
    what: "Readings of one field were pasted a second time, under new ids.",
    size: { meaning: "rows", usual: 2 },
    mistype: (papers, circumstances) => {
      const sheet = sheetOf(papers, OUTPUTS);
      const { condition } = pickRow(papers, OUTPUTS, circumstances);
      const own = sheet.rows.filter((row) => row["condition"] === condition).slice(0, circumstances.size);
      const again = own.map((row, i) => ({
        ...row,
        reading: `r${String(sheet.rows.length + i + 1).padStart(3, "0")}`,
      }));
      const after = sheet.rows.indexOf(own.at(-1)!) + 1;
      const rows = [...sheet.rows.slice(0, after), ...again, ...sheet.rows.slice(after)];
      const places = again.map(({ reading }) => ({ series: OUTPUTS, condition: condition!, reading }) as const);
      return withSheet(papers, { ...sheet, rows }, places);
    },
  },
  "signals-copied-down": {
    what: "The signals of one reading were copied into the next one of the same field.",
    mistype: (papers, circumstances) => {
      const sheet = sheetOf(papers, OUTPUTS);
      const repeats = sheet.rows.filter((row, i) => sheet.rows[i - 1]?.["condition"] === row["condition"]);
      const row = pick(repeats, circumstances, "repeats among the output factors");
      const before = sheet.rows[sheet.rows.indexOf(row) - 1]!;
      const copied = Object.fromEntries(signalColumns(sheet).map((column) => [column, before[column]!]));
      return rewrite(papers, OUTPUTS, isRow(row), () => copied);
    },
  },
  "decimal-slipped": {
    what: "In one signal of one reading the decimal point slipped.",
    size: { meaning: "times the value", usual: 10 },
    mistype: inOneCell((cell, { size }) => changed(cell, (value) => value * size)),
  },
  "digits-transposed": {
    what: "In one signal of one reading two neighbouring digits changed places.",
    size: { meaning: "which decimal changes places with the next", usual: 1 },
    mistype: (papers, circumstances) => {
      const sheet = sheetOf(papers, OUTPUTS);
      const cells = sheet.rows.flatMap((row) => signalColumns(sheet).map((column) => ({ row, column })));
      const transposed = (cell: string) => {
        const at = cell.indexOf(".") + circumstances.size;
        return cell.slice(0, at) + (cell[at + 1] ?? "") + (cell[at] ?? "") + cell.slice(at + 2);
      };
      // two like digits change places unseen
      const unlike = cells.filter(({ row, column }) => transposed(row[column]!) !== row[column]);
      const { row, column } = pick(unlike, circumstances, "a signal with two unlike digits there");
      return rewrite(papers, OUTPUTS, isRow(row), () => ({ [column]: transposed(row[column]!) }), column);
    },
  },
  "unit-slipped": {
    what: "One reading was written down in another unit, both channels: pC for nC.",
    size: { meaning: "times the value", usual: 1000 },
    mistype: inOneRow((row, papers, { size }) => scaledSignals(row, sheetOf(papers, OUTPUTS), size)),
  },
  "sign-flipped": {
    what: "The second channel was written down with the other sign, throughout.",
    mistype: (papers) =>
      inTurn(
        papers,
        papers.sheets.map((sheet) => (own) => rewriteColumn(own, sheet.series, signalColumns(sheet)[1]!, (q) => -q)),
      ),
  },
  "digits-lost": {
    what: "The readings of one field were written down with fewer digits.",
    size: { meaning: "decimals kept", usual: 1 },
    mistype: (papers, circumstances) => {
      const { condition } = pickRow(papers, OUTPUTS, circumstances);
      return rewrite(
        papers,
        OUTPUTS,
        (row) => row["condition"] === condition,
        (row, sheet) =>
          Object.fromEntries(
            signalColumns(sheet).map((column) => [column, fixed(Number(row[column]), circumstances.size)]),
          ),
      );
    },
  },
  "reading-misnamed": {
    what: "One reading stands under the condition of another field.",
    mistype: (papers, circumstances) => {
      const fields = sheetOf(papers, OUTPUTS).rows.filter((row) => row["role"] === "field");
      const row = pick(fields, circumstances, "fields among the output factors");
      const others = fields.filter((other) => other["condition"] !== row["condition"]);
      const other = pick(others, circumstances, "a second field");
      return rewrite(papers, OUTPUTS, isRow(row), () => described(other));
    },
  },
  "conditions-swapped": {
    what: "Two neighbouring fields stand under each other's names and sizes.",
    mistype: (papers, circumstances) => {
      const fields = sheetOf(papers, OUTPUTS).rows.filter((row) => row["role"] === "field");
      const names = [...new Set(fields.map((row) => row["condition"]!))];
      const at = pick(names.slice(1), circumstances, "two fields");
      const pair = [names[names.indexOf(at) - 1]!, at];
      const first = (name: string) => fields.find((row) => row["condition"] === name)!;
      return rewrite(
        papers,
        OUTPUTS,
        (row) => pair.includes(row["condition"]!),
        (row) => described(first(row["condition"] === at ? pair[0]! : at)),
      );
    },
  },
  "separation-conditions-swapped": {
    what: "The conditions with least and with most fibre stand under each other's names.",
    mistype: (papers, { laboratory }) => {
      const fit = laboratory.physicist.plan.separation.filter(({ role }) => role === "fit");
      const [least, most] = [...fit]
        .sort((a, b) => a.fibre_mm - b.fibre_mm)
        .filter((_, i, all) => i === 0 || i === all.length - 1);
      if (!least || !most) throw new Error("this mistake needs two fit conditions in the separation");
      return rewrite(
        papers,
        "separation",
        (row) => row["condition"] === least.name || row["condition"] === most.name,
        (row) => {
          const other = row["condition"] === least.name ? most : least;
          return { condition: other.name, fibre_mm: String(other.fibre_mm) };
        },
      );
    },
  },
});

/** What a row says of its field. */
function described({ condition, shape, x_mm, y_mm, diameter_mm, fwhm_x_mm, fwhm_y_mm }: Row): Row {
  const cells = { condition, shape, x_mm, y_mm, diameter_mm, fwhm_x_mm, fwhm_y_mm };
  return Object.fromEntries(Object.entries(cells).map(([column, text]) => [column, text ?? ""]));
}

function swapped(row: Row, sheet: { readonly columns: readonly string[] }): Row {
  const [first, second] = sheet.columns.filter((column) => column.startsWith("signal_")) as [string, string];
  return { [first]: row[second]!, [second]: row[first]! };
}

function inOneRow(
  change: (row: Row, papers: Papers, circumstances: Circumstances) => Row,
): NonNullable<Mistake["mistype"]> {
  return (papers, circumstances) => {
    const row = pickRow(papers, OUTPUTS, circumstances);
    return rewrite(papers, OUTPUTS, isRow(row), () => change(row, papers, circumstances));
  };
}

function inOneCell(change: (cell: string, circumstances: Circumstances) => string): NonNullable<Mistake["mistype"]> {
  return (papers, circumstances) => {
    const row = pickRow(papers, OUTPUTS, circumstances);
    const column = pick(signalColumns(sheetOf(papers, OUTPUTS)), circumstances, "signals");
    return rewrite(papers, OUTPUTS, isRow(row), () => ({ [column]: change(row[column]!, circumstances) }), column);
  };
}
