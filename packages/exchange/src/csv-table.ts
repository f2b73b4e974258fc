import {
  columnName,
  columnsOf,
  type Finding,
  findingList,
  isBlankRow,
  isError,
  type OutlineResource,
  ROW_LIMIT,
  SIGNAL_PREFIX,
  shown,
  shownName,
  structureFinding,
  type Table,
  type Where,
} from "@alcedo-dosimetry/campaign";
import { COLUMN_LIMIT, type CsvRecords, readRecords } from "@alcedo-dosimetry/tabular";
import { declaredDecimal, tableDecimal } from "./declared-form.ts";
import { DELIMITER_NAMES, DELIMITERS, type Delimiter, findDelimiter, headerWidth } from "./delimiter.ts";

/** A table, or the findings that stand in its way; both when there are only notices. */
export interface TableReading {
  readonly table?: Table;
  readonly findings: readonly Finding[];
}

/** Takes the text of one resource's file apart: delimiter, records, header and decimal sign, with every fault of form. */
export function readTableText(text: string, resource: OutlineResource, channels: readonly string[]): TableReading {
  const where = { series: resource.series, file: resource.path };
  const file = shownName(resource.path);
  if (text.trim() === "") {
    return {
      findings: [
        structureFinding("table-empty", `${file}: the file is empty.`, {
          where,
          remedy: "Write a header and readings.",
        }),
      ],
    };
  }
  const names = columnsOf(resource.series, channels).map((column) => column.name);
  const delimiter = chooseDelimiter(
    text,
    resource,
    (name) => names.includes(name) || name.startsWith(SIGNAL_PREFIX),
    where,
  );
  if (typeof delimiter !== "string") return { findings: [delimiter] };
  const read = readRecords(text, delimiter, { records: ROW_LIMIT + 1, fields: COLUMN_LIMIT });
  const stopped = stopFinding(read.stop, where);
  if (stopped !== undefined) return { findings: [stopped] };

  const findings = findingList(where);
  const header = read.records[0]!;
  const lines = read.lines.slice(1);
  const rows = read.records.slice(1).map((record) => (isBlankLine(record, header) ? header.map(() => "") : record));
  rows.forEach((row, i) => {
    if (row.length !== header.length) findings.add(raggedFinding(row, i, lines[i]!, header.length, delimiter, where));
  });
  if (findings.all().some(isError)) return { findings: findings.all() };

  const kept = [...header.keys()].filter((i) => header[i]!.trim() !== "" || rows.some((row) => row[i]!.trim() !== ""));
  if (kept.length < header.length) {
    const count = header.length - kept.length;
    const message = `${file}: ${count === 1 ? "1 column has" : `${count} columns have`} neither name nor content; left out.`;
    findings.add(structureFinding("column-empty", message, { where, facts: { columns: count } }));
  }
  const columns = kept.map((i) => header[i]!);
  const cells = kept.length === header.length ? rows : rows.map((row) => kept.map((i) => row[i]!));
  const table = { path: resource.path, columns, rows: cells, lines };
  const declared = declaredDecimal(resource, where);
  const sign = declared ?? tableDecimal(table, resource, channels, delimiter, (name) => columnName(name, names), where);
  if (typeof sign !== "string") return { findings: [sign, ...findings.all()] };
  return { table: { ...table, decimal: sign }, findings: findings.all() };
}

function chooseDelimiter(
  text: string,
  resource: OutlineResource,
  isKnown: (name: string) => boolean,
  where: Where & { file: string },
): Delimiter | Finding {
  const file = shownName(where.file);
  const found = findDelimiter(text, isKnown);
  const declared = resource.resource.dialect?.delimiter;
  if (declared !== undefined) {
    if (headerWidth(text, declared) > 1 || typeof found !== "string") return declared;
    const message = `${file}: the resource states the delimiter ${DELIMITER_NAMES[declared]}, but the header is divided by ${DELIMITER_NAMES[found]}s.`;
    return structureFinding("delimiter-unclear", message, {
      where,
      remedy: "Correct the resource's dialect, or the file.",
    });
  }
  if (typeof found === "string") return found;
  if (found.length > 0) {
    const list = found.map((delimiter) => DELIMITER_NAMES[delimiter]).join(" and ");
    return structureFinding("delimiter-unclear", `${file}: ${list} fit the header equally well as delimiters.`, {
      where,
    });
  }
  const { records, stop } = readRecords(text, ",", { records: 1, fields: COLUMN_LIMIT });
  const stopped = records.length === 0 ? stopFinding(stop, where) : undefined;
  if (stopped !== undefined) return stopped;
  const header = shown(text.slice(0, 200).split("\n")[0]!, 60);
  const known = DELIMITERS.map((delimiter) => DELIMITER_NAMES[delimiter]).join(", ");
  const message = `${file}, line 1: the header ${header} holds none of the delimiters (${known}).`;
  const remedy = "Save the table with commas, semicolons or tabs between the cells, its first line naming the columns.";
  return structureFinding("delimiter-unclear", message, { where: { ...where, line: 1 }, remedy });
}

/** A line without delimiters and content stands for a row of empty cells; in a table of one column it is one already. */
function isBlankLine(record: readonly string[], header: readonly string[]): boolean {
  return record.length === 1 && header.length > 1 && isBlankRow(record);
}

function stopFinding(stop: CsvRecords["stop"], where: Where & { file: string }): Finding | undefined {
  const file = shownName(where.file);
  switch (stop.why) {
    case "end":
      return undefined;
    case "too-many-records":
      return structureFinding("table-too-long", `${file}: the table has more than ${ROW_LIMIT} rows.`, {
        where,
        facts: { limit: ROW_LIMIT },
      });
    case "too-many-fields": {
      const message = `${file}, line ${stop.line}: more than ${COLUMN_LIMIT} cells in one row.`;
      return structureFinding("csv-too-wide", message, { where: { ...where, line: stop.line } });
    }
    case "quotes":
      return structureFinding("csv-quotes", `${file}, line ${stop.line}: ${stop.message}.`, {
        where: { ...where, line: stop.line },
      });
  }
}

function raggedFinding(
  row: readonly string[],
  index: number,
  line: number,
  expected: number,
  delimiter: Delimiter,
  where: Where & { file: string },
): Finding {
  const message = `${shownName(where.file)}, row ${index + 1} (line ${line}): ${row.length} cells where the header has ${expected}.`;
  const details = { where: { ...where, row: index + 1, line }, facts: { found: row.length, expected } };
  if (row.length > expected && row.slice(expected).every((cell) => cell.trim() === "")) {
    return structureFinding("row-ragged", message, {
      ...details,
      remedy: `Remove the ${DELIMITER_NAMES[delimiter]}s at the row's end.`,
    });
  }
  if (row.length > expected && delimiter === ",") {
    const remedy = 'Put cells that hold a comma (a decimal comma, say) in "quotes", or divide the cells by semicolons.';
    return structureFinding("row-ragged", message, { ...details, remedy });
  }
  return structureFinding("row-ragged", message, details);
}
