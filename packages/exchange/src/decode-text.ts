import { type Finding, shownName, structureFinding, type Where } from "@alcedo-dosimetry/campaign";
import { fromUtf8 } from "@alcedo-dosimetry/tabular";
import { firstInvalidByte } from "./utf8-fault.ts";

/**
 * The text of a file that should be UTF-8: byte-order mark dropped, line ends (CRLF, CR) made `\n`. What is no such text is
 * told apart, because the remedies differ: a workbook, other binary data, UTF-16, an older one-byte encoding.
 */
export function decodeText(bytes: Uint8Array, where: Where & { readonly file: string }): string | Finding {
  const file = shownName(where.file);
  const utf16 = looksLikeUtf16(bytes);
  if (utf16 !== undefined) {
    const remedy =
      "Save the file as UTF-8 (in a spreadsheet program: CSV UTF-8; in an editor: choose the encoding UTF-8).";
    return structureFinding("text-utf16", `${file}: the text is UTF-16 (${utf16}), not UTF-8.`, { where, remedy });
  }
  const workbook = workbookKind(bytes);
  if (workbook !== undefined) {
    const remedy = "Open it in a spreadsheet program and save the sheet as CSV UTF-8.";
    return structureFinding("text-binary", `${file}: this is ${workbook}, not a text file.`, { where, remedy });
  }
  const nul = bytes.indexOf(0);
  if (nul >= 0) {
    const message = `${file}: this is binary data, not a text file: byte ${nul} is zero.`;
    return structureFinding("text-binary", message, { where, facts: { byte: nul } });
  }
  const invalid = firstInvalidByte(bytes);
  if (invalid === undefined) return fromUtf8(bytes).replace(/\r\n?/g, "\n");
  const line = lineOfByte(bytes, invalid);
  const value = `0x${bytes[invalid]!.toString(16).padStart(2, "0").toUpperCase()}`;
  const message = `${file}, line ${line}: byte ${invalid} (${value}) is not valid UTF-8.`;
  const remedy =
    "Save the file as UTF-8; it was probably saved in an older one-byte encoding (in a spreadsheet program choose CSV UTF-8).";
  return structureFinding("text-not-utf8", message, { where: { ...where, line }, remedy, facts: { byte: invalid } });
}

/** By byte-order mark, or by every other byte of the first hundred being zero. */
function looksLikeUtf16(bytes: Uint8Array): string | undefined {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "little-endian";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "big-endian";
  const pairs = Math.floor(Math.min(bytes.length, 100) / 2);
  if (pairs < 4) return undefined;
  const allZero = (first: number) => {
    for (let i = 0; i < pairs; i++) if (bytes[2 * i + first] !== 0 || bytes[2 * i + 1 - first] === 0) return false;
    return true;
  };
  return allZero(1) ? "little-endian" : allZero(0) ? "big-endian" : undefined;
}

/** By the first bytes of the two container formats that workbooks come in. */
function workbookKind(bytes: Uint8Array): string | undefined {
  const startsWith = (...first: number[]) => first.every((byte, i) => bytes[i] === byte);
  if (startsWith(0x50, 0x4b, 0x03, 0x04)) return "a workbook or another zip archive";
  if (startsWith(0xd0, 0xcf, 0x11, 0xe0)) return "a workbook or document in an older binary format";
  return undefined;
}

function lineOfByte(bytes: Uint8Array, offset: number): number {
  let line = 1;
  for (let i = 0; i < offset; i++) {
    if (bytes[i] === 0x0a || (bytes[i] === 0x0d && bytes[i + 1] !== 0x0a)) line += 1;
  }
  return line;
}
