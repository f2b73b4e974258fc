export { type Backup, backUp, backupsIn, restoreBackup } from "./backup.ts";
export { type ArchiveFolder, BACKUPS, DATABASE, type OpenOptions, openArchive } from "./open-archive.ts";
