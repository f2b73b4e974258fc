/** Results as tables: plain data, and a Data Package of CSV files. */
export { formulaLikeTexts, resultsDataPackage, resultTables } from "./data-package.ts";
export type { ResultCell, ResultField, ResultTable } from "./result-table.ts";
