import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import { type Refused, refusalOf } from "./refused.ts";

/** The campaign's folder in a zip file; the campaign as a workbook; its results as a workbook. */
export type ExportKind = "zip" | "xlsx" | "results";

/** A campaign, or its results, as the bytes of a file. */
export async function exported(campaign: Campaign, as: ExportKind): Promise<Uint8Array | Refused> {
  switch (as) {
    case "zip": {
      const { writeZippedFolder } = await import("@alcedo-dosimetry/exchange/zip");
      return writeZippedFolder(campaign);
    }
    case "xlsx": {
      const { writeCampaignWorkbook } = await import("@alcedo-dosimetry/exchange/workbook");
      return orRefused(() => writeCampaignWorkbook(campaign));
    }
    case "results": {
      const evaluation = evaluate(campaign);
      const refusal = refusalOf(evaluation);
      if (refusal !== undefined) return refusal;
      const { resultsWorkbook } = await import("@alcedo-dosimetry/report/workbook");
      return orRefused(() => resultsWorkbook(campaign, evaluation));
    }
  }
}

/** A writer refuses what its format cannot hold with a plain Error; whatever else is thrown is a fault of the program. */
function orRefused(write: () => Uint8Array): Uint8Array | Refused {
  try {
    return write();
  } catch (error) {
    if (!(error instanceof Error) || error.constructor !== Error) throw error;
    const remedy = "Take the campaign out as a zip file.";
    return { refused: [{ level: "error", code: "workbook-cannot-hold", message: error.message, remedy }] };
  }
}
