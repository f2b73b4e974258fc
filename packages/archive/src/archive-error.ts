/** What can go wrong with an archive, for programs: the text is for people and may change. */
export type ArchiveFault =
  | "in-use"
  | "network-share"
  | "not-an-archive"
  | "damaged"
  | "newer"
  | "missing"
  | "full"
  | "read-only"
  | "disk"
  | "unknown"
  | "conflict"
  | "exists"
  | "invalid"
  | "append-only"
  | "backup-failed"
  | "key-reused"
  | "not-allowed"
  | "wrong-passphrase";

/** What an error says beside its words. */
export interface ArchiveErrorDetails {
  readonly cause?: unknown;
  /** Of a conflict: the latest revision. */
  readonly revision?: number;
  /** Readings that were entered again and are not as they are kept: where, not what. */
  readonly places?: readonly { readonly table: string; readonly reading: string; readonly column: string }[];
}

/** An archive refused, and left as it was: what is wrong, and what to do. */
export class ArchiveError extends Error {
  override readonly name = "ArchiveError";
  readonly fault: ArchiveFault;
  readonly remedy: string;

  readonly revision: number | undefined;
  readonly places: ArchiveErrorDetails["places"];

  constructor(fault: ArchiveFault, message: string, remedy: string, details: ArchiveErrorDetails = {}) {
    super(`${message} ${remedy}`, "cause" in details ? { cause: details.cause } : {});
    this.fault = fault;
    this.remedy = remedy;
    this.revision = details.revision;
    this.places = details.places;
  }
}

/** What the database's own codes mean for whoever keeps an archive; the longest fitting beginning counts. */
const FAULTS: readonly (readonly [code: string, fault: ArchiveFault, message: string, remedy: string])[] = [
  [
    "SQLITE_FULL",
    "full",
    "The disk is full; nothing was kept.",
    "Make room and do it again: what was acknowledged before is safe.",
  ],
  [
    "SQLITE_READONLY",
    "read-only",
    "The archive cannot be written to; nothing was kept.",
    "Give the account that runs the program the right to write to the folder and the files in it.",
  ],
  ["SQLITE_CORRUPT", "damaged", "The archive is damaged.", "Leave the folder as it is and restore the newest backup."],
  [
    "SQLITE_NOTADB",
    "not-an-archive",
    "The file archive.sqlite is not a database.",
    "Leave the folder as it is and restore the newest backup.",
  ],
  [
    "SQLITE_IOERR",
    "disk",
    "The disk could not be read or written; nothing was kept.",
    "Look after the disk, then open the archive again: what was acknowledged before is safe.",
  ],
  [
    "SQLITE_BUSY",
    "in-use",
    "The archive is open in another process.",
    "Close that one first: an archive belongs to one process at a time.",
  ],
  [
    "SQLITE_CONSTRAINT_TRIGGER",
    "append-only",
    "The archive refuses to change or delete what is kept.",
    "Make a new revision in its place.",
  ],
];

/** An error of the database in words, with what to do; anything else as it came. */
export function inWords(error: unknown): unknown {
  if (error instanceof ArchiveError || !(error instanceof Error)) return error;
  const code = "code" in error && typeof error.code === "string" ? error.code : "";
  const known = FAULTS.find(([beginning]) => code.startsWith(beginning));
  if (known === undefined) return error;
  const [, fault, message, remedy] = known;
  return new ArchiveError(fault, message, remedy, { cause: error });
}
