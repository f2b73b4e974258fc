import { inflateSync } from "fflate";
import { fromUtf8 } from "../text-codec.ts";
import { crc32 } from "./crc32.ts";
import { WorkbookFault } from "./workbook-fault.ts";

const MIB = 1_048_576;

/** One part of an archive, as the directory at the end describes it. */
interface Entry {
  readonly flags: number;
  readonly method: number;
  readonly crc: number;
  readonly packed: number;
  readonly size: number;
  readonly offset: number;
  /** What a Unix system says of the file: kind and permissions. */
  readonly mode: number;
}

/** A zip archive, its parts unpacked on demand. */
export interface ZipArchive {
  /** Names of all parts, in the directory's order. */
  readonly names: readonly string[];
  has(name: string): boolean;
  /** Size of one part when unpacked, by its own account. */
  size(name: string): number;
  /** Whether a part is a link to something else, and no content of its own. */
  isLink(name: string): boolean;
  /**
   * The bytes of a part.
   *
   * @throws WorkbookFault when the part is absent, damaged, encrypted, or larger than it says
   */
  read(name: string): Uint8Array;
}

const END = 0x06054b50;
const ENTRY = 0x02014b50;
const LOCAL = 0x04034b50;
const END_SIZE = 22;
/** A comment behind the directory has at most so many bytes. */
const COMMENT = 0xffff;
const ZIP64 = 0xffffffff;
const ENCRYPTED = 1;
/** The bits of a Unix mode that tell the kind of a file, and those of a symbolic link. */
const [KIND, LINK] = [0o170000, 0o120000];
const STORED = 0;
const DEFLATED = 8;

const damaged = (what: string) => new WorkbookFault("damaged", `the file is damaged: ${what}`);

/**
 * Opens a zip archive (APPNOTE 6.3, without zip64 and spanning, which files of this size do not need). Nothing is unpacked
 * before its size is known; the sizes together may not pass the limit, and no part may unpack to more than it says. Every part
 * is held to its check sum, so that a damaged file cannot pass for other numbers.
 *
 * Our own hundred lines about the directory, over a library's inflate: the library knows neither check sums nor limits.
 *
 * @param limit bytes that all parts together may have when unpacked
 * @throws WorkbookFault
 */
export function openZip(bytes: Uint8Array, limit: number): ZipArchive {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const entries = directory(bytes, view);
  let total = 0;
  for (const { size } of entries.values()) total += size;
  if (total > limit) {
    const [mib, most] = [Math.ceil(total / MIB), Math.floor(limit / MIB)];
    throw new WorkbookFault("too-large", `unpacked it has ${mib} MiB; at most ${most} MiB are read`);
  }
  return {
    names: [...entries.keys()],
    has: (name) => entries.has(name),
    size: (name) => entries.get(name)?.size ?? 0,
    isLink: (name) => ((entries.get(name)?.mode ?? 0) & KIND) === LINK,
    read(name) {
      const entry = entries.get(name);
      if (entry === undefined) throw damaged(`its part ${name} is missing`);
      return unpacked(bytes, view, name, entry);
    },
  };
}

function directory(bytes: Uint8Array, view: DataView): Map<string, Entry> {
  const end = endOfDirectory(view);
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if (count === 0xffff || at === ZIP64) throw damaged("its directory is of a kind that is not read here (zip64)");
  const entries = new Map<string, Entry>();
  for (let i = 0; i < count; i++) {
    if (at + 46 > end || view.getUint32(at, true) !== ENTRY) throw damaged("its directory of parts cannot be read");
    const nameLength = view.getUint16(at + 28, true);
    const next = at + 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (next > end) throw damaged("its directory of parts cannot be read");
    const name = partName(bytes.subarray(at + 46, at + 46 + nameLength));
    if (entries.has(name)) throw new WorkbookFault("twice", `it has the part ${name} twice`);
    entries.set(name, {
      flags: view.getUint16(at + 8, true),
      method: view.getUint16(at + 10, true),
      crc: view.getUint32(at + 16, true),
      packed: view.getUint32(at + 20, true),
      size: view.getUint32(at + 24, true),
      offset: view.getUint32(at + 42, true),
      mode: view.getUint16(at + 40, true),
    });
    at = next;
  }
  return entries;
}

/** Where the record that ends the directory begins: it is sought from the end, since a comment may follow it. */
function endOfDirectory(view: DataView): number {
  const last = view.byteLength - END_SIZE;
  for (let at = last; at >= Math.max(0, last - COMMENT); at--) {
    if (view.getUint32(at, true) === END && at + END_SIZE + view.getUint16(at + 20, true) === view.byteLength)
      return at;
  }
  throw damaged("its end is missing, or something follows it");
}

function partName(bytes: Uint8Array): string {
  try {
    return fromUtf8(bytes);
  } catch {
    // An older encoding: such parts are none that a workbook needs, and still have to be told apart.
    return [...bytes].map((byte) => String.fromCharCode(byte)).join("");
  }
}

function unpacked(bytes: Uint8Array, view: DataView, name: string, entry: Entry): Uint8Array {
  const { flags, method, crc, packed, size, offset } = entry;
  if (flags & ENCRYPTED) throw new WorkbookFault("encrypted", "it is protected by a password");
  if (offset + 30 > bytes.length || view.getUint32(offset, true) !== LOCAL) throw damaged(`${name} cannot be found`);
  const start = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  if (start + packed > bytes.length) throw damaged(`${name} ends too early`);
  const content = bytes.subarray(start, start + packed);
  const out = method === STORED ? content : method === DEFLATED ? inflated(content, size, name) : undefined;
  if (out === undefined) throw damaged(`${name} is packed in a way that is not read here (${method})`);
  if (out.length !== size || crc32(out) !== crc) throw damaged(`${name} does not have its check sum`);
  return out;
}

/** Unpacks into a space of the stated size and one byte more: a part that unpacks to more than it says is refused there. */
function inflated(content: Uint8Array, size: number, name: string): Uint8Array {
  try {
    return inflateSync(content, { out: new Uint8Array(size + 1) });
  } catch {
    throw damaged(`${name} cannot be unpacked`);
  }
}
