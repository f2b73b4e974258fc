/** Tables and bytes: CSV records, UTF-8 and decimal text. Workbooks have an index of their own, to be loaded when needed. */
export { COLUMN_LIMIT, type CsvLimits, type CsvRecords, readRecords, recordText } from "./csv-records.ts";
export { paddedDecimal, shiftedDecimal } from "./decimal-text.ts";
export { fromUtf8, toUtf8 } from "./text-codec.ts";
