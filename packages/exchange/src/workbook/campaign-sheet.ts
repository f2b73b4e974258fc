import {
  type Finding,
  jsonPointer,
  SERIES_KINDS,
  type StructureCode,
  type StructureDetails,
  shown,
  structureFinding,
} from "@alcedo-dosimetry/campaign";
import { shiftedDecimal } from "@alcedo-dosimetry/tabular";
import type { Cell, Row, Sheet } from "@alcedo-dosimetry/tabular/workbook";
import { keyUnit } from "./key-meanings.ts";
import { descriptorPath, isSeriesKey, keySchema, keyType } from "./key-paths.ts";
import { keyValue } from "./key-value.ts";
import { spelledUnit, unitPower, unitRemedy } from "./unit-power.ts";

/** The sheet that says what a campaign is. */
export const CAMPAIGN_SHEET = "campaign";

/** What the sheet `campaign` says: the descriptor without its resources, and properties of these by series. */
export interface CampaignSheet {
  readonly descriptor: Readonly<Record<string, unknown>>;
  readonly series: ReadonlyMap<string, Readonly<Record<string, unknown>>>;
  /** Row of each key, by its JSON Pointer; keys of series under `/series/<series>`. */
  readonly rows: ReadonlyMap<string, number>;
  readonly findings: readonly Finding[];
}

type Tree = Record<string, unknown>;

/** Reads the rows key, value, unit, whatever. A row without a value says nothing; other columns are for people. */
export function readCampaignSheet(sheet: Sheet): CampaignSheet {
  const findings: Finding[] = [];
  const rows = new Map<string, number>();
  const tree: Tree = {};
  const report = (line: number, code: StructureCode, message: string, details: StructureDetails = {}) =>
    findings.push(
      structureFinding(code, `sheet ${sheet.name}, row ${line}: ${message}.`, {
        ...details,
        where: { sheet: sheet.name, line, ...details.where },
      }),
    );
  for (const row of sheet.rows) {
    const key = textOf(cellAt(row, 0));
    const value = cellAt(row, 1);
    if (value === undefined || (row === sheet.rows[0] && key.toLowerCase() === "key")) continue;
    if (key === "") {
      report(row.number, "key-unnamed", "the value has no key");
      continue;
    }
    const path = descriptorPath(key);
    const pointer = jsonPointer(path);
    const earlier = rows.get(pointer);
    if (earlier !== undefined)
      report(row.number, "key-duplicate", `the key ${shown(key)} is in row ${earlier} already`);
    else {
      rows.set(pointer, row.number);
      place(tree, path, rowValue(row, key, path, value, report));
    }
  }
  const { series = {}, ...descriptor } = tree;
  const known = Object.entries(series as Tree).filter(([kind]) => SERIES_KINDS.some((own) => own === kind));
  return { descriptor, series: new Map(known as [string, Tree][]), rows, findings };
}

type RowReport = (line: number, code: StructureCode, message: string, details?: StructureDetails) => void;

/** The value of one row in the key's own type and unit. */
function rowValue(row: Row, key: string, path: readonly string[], cell: Cell, report: RowReport): unknown {
  const type = keyType(path, keySchema());
  if (path[0] === "series" && !isSeriesKey(path))
    report(row.number, "key-unknown", `${shown(key)} is no key of a series`, {
      remedy: `Write series.<series>.<key>; series are ${SERIES_KINDS.slice(0, -1).join(", ")}.`,
    });
  const found = keyValue(cell, type);
  if (found === "error") {
    report(row.number, "cell-error", `the value of ${key} is an error, or was never computed`);
    return undefined;
  }
  if (found === "date") {
    report(row.number, "cell-date", `the value of ${key} is stored as a date or time`);
    return undefined;
  }
  if (cell.formula)
    report(row.number, "formula-value", `the value of ${key} comes from a formula; its stored value is taken`);
  if (found.conversion !== undefined)
    report(row.number, "value-converted", `the value of ${key} is ${found.conversion}`);
  const stated = textOf(cellAt(row, 2));
  const wanted = keyUnit(key);
  if (stated === "" || wanted === undefined || typeof found.value !== "number") return found.value;
  return inUnit(found.value, spelledUnit(stated), spelledUnit(wanted), row.number, key, report);
}

function inUnit(value: number, unit: string, wanted: string, line: number, key: string, report: RowReport): number {
  const power = unitPower(unit, wanted);
  if (power === undefined)
    report(line, "unit-unsupported", `${key} is in ${shown(unit)}, which is not converted to ${wanted}`, {
      remedy: unitRemedy(unit, wanted),
      facts: { unit, wanted },
    });
  const shifted = power ? shiftedDecimal(String(value), power) : undefined;
  if (shifted === undefined) return value;
  report(line, "unit-converted", `${key} is in ${unit}: ${value} ${unit} are ${shifted} ${wanted}`, {
    facts: { unit, wanted, factor: `1e${power}` },
  });
  return Number(shifted);
}

/** Puts a value at a path; where another key has put a value in its way, the way is kept and the reading of it refuses. */
function place(tree: Tree, path: readonly string[], value: unknown): void {
  if (value === undefined) return;
  let node = tree;
  for (const part of path.slice(0, -1)) {
    const next = Object.hasOwn(node, part) ? node[part] : undefined;
    const inner: Tree = typeof next === "object" && next !== null && !Array.isArray(next) ? (next as Tree) : {};
    define(node, part, inner);
    node = inner;
  }
  define(node, path.at(-1)!, value);
}

/** As an own property, whatever its name. */
function define(node: Tree, key: string, value: unknown): void {
  Object.defineProperty(node, key, { value, enumerable: true, configurable: true, writable: true });
}

function cellAt(row: Row, column: number): Cell | undefined {
  return row.cells.find((cell) => cell.column === column);
}

function textOf(cell: Cell | undefined): string {
  return cell !== undefined && "text" in cell.content ? cell.content.text.trim() : "";
}
