/**
 * A folder as this package sees it: names and bytes, nothing else. The command line implements it over a disk (and refuses
 * what leads out of the folder through links), a browser over dropped files.
 */
export interface FolderSource {
  /** The folder's name, for messages. */
  readonly name: string;
  /** The relative POSIX paths of all files. */
  list(): readonly string[];
  /** A file's size in bytes; `undefined` when there is no such file. */
  size(path: string): number | undefined;
  /**
   * A file's bytes.
   *
   * @throws an Error whose message says why the file cannot be read
   */
  read(path: string): Uint8Array;
}

/** A folder held in memory: what `writeFolder` returns, or files dropped into a browser. */
export function memoryFolder(name: string, files: ReadonlyMap<string, Uint8Array>): FolderSource {
  return {
    name,
    list: () => [...files.keys()],
    size: (path) => files.get(path)?.length,
    read(path) {
      const bytes = files.get(path);
      if (bytes === undefined) throw new Error("there is no such file");
      return bytes;
    },
  };
}
