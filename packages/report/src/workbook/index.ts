/** Results as a workbook. */
export { resultsWorkbook } from "./results-workbook.ts";
