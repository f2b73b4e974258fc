import { type Campaign, type Finding, isError } from "@alcedo-dosimetry/campaign";

/** What a file held: a campaign, unless errors stand in the way. */
export interface Imported {
  readonly campaign?: Campaign;
  readonly findings: readonly Finding[];
}

/**
 * Reads a zipped folder or a workbook; which of the two it is, is seen in the bytes.
 *
 * @param name of the file, for the findings
 */
export async function imported(name: string, bytes: Uint8Array): Promise<Imported> {
  const { readCampaignFile } = await import("@alcedo-dosimetry/exchange/zip");
  const { campaign, findings } = readCampaignFile(bytes, name);
  return campaign === undefined || findings.some(isError) ? { findings } : { campaign, findings };
}
