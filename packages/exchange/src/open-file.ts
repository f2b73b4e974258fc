import { type Finding, nearestKey, shown, shownName, structureFinding, type Where } from "@alcedo-dosimetry/campaign";
import { decodeText } from "./decode-text.ts";
import type { FolderSource } from "./folder-source.ts";

/** The largest file that is opened: 64 MiB, four hundred times a rich campaign. */
export const FILE_LIMIT = 64 * 1024 * 1024;

/** The text of one file of a folder, or why there is none: absent, too large (told before it is read), unreadable, no text. */
export function openText(source: FolderSource, where: Where & { readonly file: string }): string | Finding {
  const path = where.file;
  const file = shownName(path);
  let bytes: Uint8Array;
  try {
    const size = source.size(path);
    if (size === undefined) return absent(source, where);
    if (size > FILE_LIMIT) return tooLarge(size, where);
    bytes = source.read(path);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return structureFinding("file-unreadable", `${file}: the file cannot be read: ${shown(reason, 200)}.`, { where });
  }
  return bytes.length > FILE_LIMIT ? tooLarge(bytes.length, where) : decodeText(bytes, where);
}

function absent(source: FolderSource, where: Where & { readonly file: string }): Finding {
  const nearest = nearestKey(where.file, source.list());
  const hint = nearest === undefined ? "" : `; there is ${shownName(nearest)}`;
  const message = `${shownName(where.file)}: there is no such file in ${shownName(source.name)}${hint}.`;
  return structureFinding("file-absent", message, { where, ...(nearest === undefined ? {} : { facts: { nearest } }) });
}

function tooLarge(size: number, where: Where & { readonly file: string }): Finding {
  const mib = Math.ceil(size / (1024 * 1024));
  const message = `${shownName(where.file)}: the file has ${mib} MiB; at most ${FILE_LIMIT / (1024 * 1024)} MiB are read.`;
  return structureFinding("file-too-large", message, { where, facts: { bytes: size, limit: FILE_LIMIT } });
}
