import { readSheet, type SheetLimits } from "./read-sheet.ts";
import type { Workbook } from "./workbook.ts";
import { WorkbookFault } from "./workbook-fault.ts";
import { partText, readParts } from "./workbook-parts.ts";
import { openZip, type ZipArchive } from "./zip-archive.ts";

/** How much is read before a workbook is refused. */
export interface WorkbookLimits extends SheetLimits {
  /** Bytes that its parts may have together when unpacked. */
  readonly unpacked: number;
  readonly sheets: number;
}

/**
 * Reads a workbook (Office Open XML, ECMA-376, `.xlsx`): every cell as it is stored, with its number format and whether a
 * formula gave it. Nothing is evaluated, no link is followed. Workbooks with macros are refused.
 *
 * @throws WorkbookFault when the bytes are no such workbook, are damaged, protected or too large
 */
export function readWorkbook(bytes: Uint8Array, limits: WorkbookLimits): Workbook {
  const other = otherFormat(bytes);
  if (other !== undefined) throw other;
  const archive = openZip(bytes, limits.unpacked);
  refuseOtherArchives(archive);
  const parts = readParts(archive);
  if (parts.sheets.length > limits.sheets)
    throw new WorkbookFault("too-large", `it has ${parts.sheets.length} sheets; at most ${limits.sheets} are read`);
  const sheets = parts.sheets.map((sheet) => readSheet(partText(archive, sheet.part), sheet, parts, limits));
  return { sheets, from1904: parts.from1904 };
}

function startsWith(bytes: Uint8Array, ...first: readonly number[]): boolean {
  return first.every((byte, i) => bytes[i] === byte);
}

function otherFormat(bytes: Uint8Array): WorkbookFault | undefined {
  if (bytes.length === 0) return new WorkbookFault("not-a-workbook", "it is empty");
  if (startsWith(bytes, 0xd0, 0xcf, 0x11, 0xe0)) {
    return holdsUtf16(bytes, "EncryptedPackage")
      ? new WorkbookFault("encrypted", "it is protected by a password")
      : new WorkbookFault("other-format", "it is a workbook or document of the older binary format");
  }
  if (!startsWith(bytes, 0x50, 0x4b)) return new WorkbookFault("not-a-workbook", "it is no workbook");
  return undefined;
}

/** Whether a name stands in the directory of an older container, where names are UTF-16. */
function holdsUtf16(bytes: Uint8Array, name: string): boolean {
  const pattern = [...name].flatMap((character) => [character.charCodeAt(0), 0]);
  for (let at = bytes.indexOf(pattern[0]!); at >= 0; at = bytes.indexOf(pattern[0]!, at + 1))
    if (pattern.every((byte, i) => bytes[at + i] === byte)) return true;
  return false;
}

function refuseOtherArchives(archive: ZipArchive): void {
  if (archive.has("mimetype")) {
    const type = partText(archive, "mimetype").slice(0, 100);
    throw new WorkbookFault("other-format", `it is a document of another format (${type.split(".").at(-1)})`);
  }
  if (archive.names.some((name) => /(?:^|\/)vbaProject[^/]*\.bin$/i.test(name)))
    throw new WorkbookFault("macros", "it holds macros");
}
