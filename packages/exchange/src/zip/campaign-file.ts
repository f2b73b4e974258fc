import { shownName, structureFinding } from "@alcedo-dosimetry/campaign";
import type { FolderReading } from "../read-folder.ts";
import { readCampaignWorkbook } from "../workbook/index.ts";
import { readZippedFolder } from "./read-zipped-folder.ts";

/** The part that every workbook has and no campaign folder needs, as its name stands in the directory of a zip file. */
const CONTENT_TYPES = [..."[Content_Types].xml"].map((letter) => letter.charCodeAt(0));

/**
 * Reads a campaign from a file of one's own or a stranger's: a workbook, or a zipped folder. Which of the two it is, its bytes
 * say, not its name.
 *
 * @param name of the file, for messages
 */
export function readCampaignFile(bytes: Uint8Array, name: string): FolderReading {
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  if (isZip && !holds(bytes, CONTENT_TYPES)) return readZippedFolder(bytes, name);
  if (isZip || /\.xls[a-z]?$/i.test(name)) return readCampaignWorkbook(bytes, name);
  const message = `${shownName(name)}: the file is neither a zipped folder nor a workbook.`;
  const remedy = "Zip the campaign's folder, or save the workbook as .xlsx.";
  return { findings: [structureFinding("zip-unreadable", message, { remedy })] };
}

function holds(bytes: Uint8Array, text: readonly number[]): boolean {
  for (let at = bytes.indexOf(text[0]!); at >= 0; at = bytes.indexOf(text[0]!, at + 1)) {
    if (text.every((byte, i) => bytes[at + i] === byte)) return true;
  }
  return false;
}
