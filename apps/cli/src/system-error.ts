const WORDS: Readonly<Record<string, string>> = {
  EACCES: "permission is denied",
  EPERM: "permission is denied",
  EROFS: "the disk is read-only",
  ENOSPC: "the disk is full",
  EDQUOT: "the disk quota is used up",
  ENOENT: "it is not there",
  ENOTDIR: "a part of its path is no folder",
  EISDIR: "it is a folder",
  EEXIST: "it is there already",
  ELOOP: "its links go round in a circle",
  ENAMETOOLONG: "its name is too long",
  EMFILE: "too many files are open",
  EIO: "the disk reports a read or write error",
  EBUSY: "another program uses it",
};

/** The code of an error that the operating system reported (`ENOENT`); undefined for every other error. */
export function errorCode(error: unknown): string | undefined {
  const { code, syscall } = (error ?? {}) as { code?: unknown; syscall?: unknown };
  return error instanceof Error && typeof code === "string" && typeof syscall === "string" ? code : undefined;
}

/** What the operating system reported, in words: `permission is denied`. */
export function reasonOf(error: unknown): string {
  const code = errorCode(error) ?? "unknown";
  return WORDS[code] ?? `the system reports ${code}`;
}
