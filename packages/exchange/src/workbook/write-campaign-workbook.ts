import { type Campaign, digest, isError, outlineOf } from "@alcedo-dosimetry/campaign";
import { writeWorkbook } from "@alcedo-dosimetry/tabular/workbook";
import { campaignRows } from "./campaign-rows.ts";
import { readCampaignWorkbook } from "./read-campaign-workbook.ts";
import { readMeSheet } from "./read-me-sheet.ts";
import { tableSheet } from "./table-sheet.ts";

/** What a campaign's workbook says besides. */
export interface WorkbookOptions {
  /** Paragraphs that the sheet `read me` begins with. */
  readonly introduction?: readonly string[];
}

/**
 * Writes a campaign as a workbook: the sheet `campaign` with its keys, one sheet per series, and a sheet `read me` that explains
 * the columns. Numbers are numbers, with a format that shows the decimals as typed; what a number cannot keep is a text. The
 * same campaign gives the same bytes, and reading them gives the same campaign, with the same digest.
 *
 * @throws Error when tables and resources do not match, or a workbook cannot hold a text so that it is read back as it was
 */
export function writeCampaignWorkbook(campaign: Campaign, options: WorkbookOptions = {}): Uint8Array {
  if (campaign.characterisation !== undefined)
    throw new Error(
      "it has a characterisation from another day, for which a workbook has no sheet; keep it as a folder",
    );
  const { descriptor, tables } = campaign;
  const outline = outlineOf(descriptor);
  if (outline === undefined) throw new Error("only a campaign with a valid descriptor can be written");
  const strangers = Object.keys(tables).filter((name) => !outline.resources.some((resource) => resource.name === name));
  if (strangers.length > 0) throw new Error(`no resource describes the table ${strangers[0]}`);
  const sheets = outline.resources.map((resource) => {
    const table = Object.hasOwn(tables, resource.name) ? tables[resource.name] : undefined;
    if (table === undefined) throw new Error(`the resource ${resource.name} has no table`);
    return tableSheet(resource.series, table, outline.channels);
  });
  const bytes = writeWorkbook([readMeSheet(outline, options.introduction ?? []), campaignRows(descriptor), ...sheets]);
  checkReadBack(bytes, campaign);
  return bytes;
}

/** A workbook that would be read as anything but this campaign is not handed out. */
function checkReadBack(bytes: Uint8Array, campaign: Campaign): void {
  const again = readCampaignWorkbook(bytes, "the workbook");
  if (again.campaign === undefined)
    throw new Error(`a workbook cannot hold this: ${again.findings.find(isError)?.message}`);
  if (digest(again.campaign) !== digest(campaign))
    throw new Error("a workbook cannot hold this campaign: some text in it would be read as something else");
}
