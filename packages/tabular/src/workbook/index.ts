/** Spreadsheet workbooks: bytes to sheets of cells and back; and the zip archives that they, and folders, come in. */
export { cellReference, columnLetters, readReference } from "./cell-reference.ts";
export { decimalCell } from "./decimal-cell.ts";
export { packZip } from "./pack-zip.ts";
export { readWorkbook, type WorkbookLimits } from "./read-workbook.ts";
export { serialToIso } from "./serial-date.ts";
export { CELL_LIMIT } from "./sheet-xml.ts";
export type { Cell, CellContent, Row, Sheet, Workbook } from "./workbook.ts";
export { WorkbookFault, type WorkbookFaultKind } from "./workbook-fault.ts";
export { SHEET_NAME_LIMIT, writeWorkbook } from "./write-workbook.ts";
export type { CellStyle, StyledCell, WrittenCell, WrittenSheet } from "./written-workbook.ts";
export { openZip, type ZipArchive } from "./zip-archive.ts";
