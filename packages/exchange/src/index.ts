/** Bytes to campaign and back, without a file system. */
export { type FolderSource, memoryFolder } from "./folder-source.ts";
export { FILE_LIMIT } from "./open-file.ts";
export { type FolderReading, readFolder } from "./read-folder.ts";
export { writeFolder } from "./write-folder.ts";
