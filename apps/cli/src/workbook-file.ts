import { closeSync, constants, fstatSync, openSync, readFileSync } from "node:fs";
import { basename } from "node:path";
import { structureFinding } from "@alcedo-dosimetry/campaign";
import { FILE_LIMIT, type FolderReading } from "@alcedo-dosimetry/exchange";
import { printable } from "./printable.ts";
import { errorCode, reasonOf } from "./system-error.ts";

/** True for a path that names a workbook rather than a folder, those among them that are of another format and refused. */
export function isWorkbookPath(path: string): boolean {
  return /\.(?:xlsx|xlsm|xlsb|xls|ods)$/i.test(path);
}

/** Reads the campaign in a workbook. What reads workbooks is loaded here and not before. */
export async function openWorkbook(path: string): Promise<FolderReading> {
  const bytes = bytesOf(path);
  if (typeof bytes === "string")
    return {
      findings: [structureFinding("file-unreadable", `${printable(path)}: the workbook cannot be read: ${bytes}.`)],
    };
  const { readCampaignWorkbook } = await import("@alcedo-dosimetry/exchange/workbook");
  return readCampaignWorkbook(bytes, basename(path));
}

/** The bytes of a plain file, or why there are none; a pipe is not waited for, and a file beyond the limit not read. */
function bytesOf(path: string): Uint8Array | string {
  let handle: number;
  try {
    handle = openSync(path, constants.O_RDONLY | constants.O_NONBLOCK);
  } catch (error) {
    if (errorCode(error) === undefined) throw error;
    return errorCode(error) === "ENOENT" ? "there is no such file" : reasonOf(error);
  }
  try {
    const stat = fstatSync(handle);
    if (stat.isDirectory()) return "it is a folder";
    if (!stat.isFile()) return "it is no plain file but a device, pipe or socket";
    if (stat.size > FILE_LIMIT)
      return `it has ${Math.ceil(stat.size / 2 ** 20)} MiB; at most ${FILE_LIMIT / 2 ** 20} MiB are read`;
    return readFileSync(handle);
  } catch (error) {
    if (errorCode(error) === undefined) throw error;
    return reasonOf(error);
  } finally {
    closeSync(handle);
  }
}
