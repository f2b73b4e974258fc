import { type FolderReading, memoryFolder, readFolder } from "@alcedo-dosimetry/exchange";
import type { TemplateNames } from "./template-descriptor.ts";
import { templateSeries } from "./template-tables.ts";

/** The workbook of a new campaign: that of the folder with the same files, with what to deliver in front. */
export async function templateWorkbook(names: TemplateNames, files: ReadonlyMap<string, string>): Promise<Uint8Array> {
  const bytes = new Map([...files].map(([path, text]) => [path, new TextEncoder().encode(text)]));
  const { campaign, findings }: FolderReading = readFolder(memoryFolder(names.folder, bytes));
  if (campaign === undefined) throw new Error(`the template has faults: ${findings[0]?.message}`);
  const { writeCampaignWorkbook } = await import("@alcedo-dosimetry/exchange/workbook");
  return writeCampaignWorkbook(campaign, { introduction: introduction(names) });
}

function introduction(names: TemplateNames): string[] {
  const series = templateSeries(names).flatMap(({ title, deliver }) => [title, ...deliver.map((item) => `– ${item}`)]);
  return [
    names.example
      ? "The readings in this workbook are invented, so that `alcedo evaluate` shows at once what a result looks like. Delete them as you fill in your own; when none is left, empty the keywords in the sheet campaign and take the remark out of the title."
      : "The sheets have their headers and no readings yet.",
    ...(names.background
      ? []
      : [
          "This campaign has no background series: the readings that you type are net, their background already taken away.",
        ]),
    "Deliver the series in this order, one row per reading; rows of one condition are repeats:",
    ...series,
    "Alcedo is a research and quality-assurance aid, not a medical device; for use by a qualified medical physicist. Check independently before clinical use. Keep patient data out of this workbook.",
  ];
}
