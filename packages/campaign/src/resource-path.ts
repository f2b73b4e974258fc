/**
 * Why a path cannot be one inside a campaign folder; `undefined` when it can. Paths are relative and POSIX: they mean the
 * same on every system, and never lead out of the folder by their text. (Links on disk are the file system's matter:
 * whoever opens files resolves them and checks again.)
 */
export function pathFault(path: string): string | undefined {
  if (path === "" || path.trim() !== path) return "is empty or has blanks at its ends";
  if (/^[a-z][a-z0-9+.-]*:\/\//i.test(path)) return "is a URL";
  if (/^[a-z]:/i.test(path)) return "names a drive";
  if (path.includes("\\")) return "has backslashes";
  if (path.startsWith("/")) return "is absolute";
  if (path.startsWith("~")) return "starts in a home folder";
  // biome-ignore lint/suspicious/noControlCharactersInRegex: such characters are what is looked for
  if (/[\u0000-\u001f\u007f:*?"<>|]/.test(path)) return "has characters that file names cannot have everywhere";
  const parts = path.split("/");
  if (parts.includes("..")) return "leads out of the folder";
  if (parts.includes(".") || parts.includes("")) return "has empty parts or single points";
  if (path.toLowerCase() === "datapackage.json") return "is the descriptor itself";
  return undefined;
}
