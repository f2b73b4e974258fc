/** Campaigns in workbooks. */
export { readCampaignWorkbook } from "./read-campaign-workbook.ts";
export { type WorkbookOptions, writeCampaignWorkbook } from "./write-campaign-workbook.ts";
