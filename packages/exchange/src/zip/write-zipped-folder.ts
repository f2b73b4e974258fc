import type { Campaign } from "@alcedo-dosimetry/campaign";
import { packZip } from "@alcedo-dosimetry/tabular/workbook";
import { writeFolder } from "../write-folder.ts";

/**
 * Writes a campaign as a zipped folder: the files of {@link writeFolder}, in the order of their paths, at a fixed time. The
 * same campaign gives the same bytes, and {@link readZippedFolder} gives the same campaign.
 *
 * @throws Error as {@link writeFolder} does
 */
export function writeZippedFolder(campaign: Campaign): Uint8Array {
  const files = [...writeFolder(campaign)].sort(([a], [b]) => (a < b ? -1 : 1));
  return packZip(new Map(files));
}
