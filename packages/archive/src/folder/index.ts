export { auditFolder } from "./audit-folder.ts";
export {
  type ArchiveCopy,
  type Backup,
  backUp,
  backupsIn,
  copyArchive,
  type ProveOptions,
  proveCopy,
  restoreBackup,
} from "./backup.ts";
export { type ArchiveFolder, BACKUPS, DATABASE, type OpenOptions, openArchive } from "./open-archive.ts";
export { isPassphraseOf, newPerson, type PassphraseCost, signAs, withPassphrase } from "./personal-key.ts";
