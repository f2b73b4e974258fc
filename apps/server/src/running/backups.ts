import { type ArchiveFolder, copyArchive } from "@alcedo-dosimetry/archive/folder";
import type { Work } from "../jobs/threads.ts";

/** Backups that are kept: two weeks of days. */
const KEPT = 14;
const DAY_ms = 24 * 3_600_000;
/** A backup waits for a moment in which nobody has asked anything for so long ... */
const QUIET_ms = 60_000;
/** ... but no longer than this. */
const PATIENCE_ms = 6 * 3_600_000;
/** The first one leaves the page so long to come up. */
const FIRST_ms = 5_000;
/** How often it looks whether one is due. */
const LOOK_ms = 30_000;

/** What backups need to know. */
export interface BackupOptions {
  readonly work: Work;
  readonly now: () => number;
  /** When somebody last asked the server for something. */
  readonly lastAsked: () => number;
  /** Hears of a backup that failed. */
  readonly failed: (error: unknown) => void;
}

/**
 * Backs the archive up soon after the start, and once a day from then on, when nobody works: the copy takes the database for a moment, so it
 * waits for a quiet minute. That a copy is what it should be is proven in a thread of its own; only then is it a backup.
 *
 * @returns stops it; a copy that is not proven yet is no backup
 */
export function dailyBackups(archive: ArchiveFolder, options: BackupOptions): () => Promise<void> {
  const { work, now, lastAsked, failed } = options;
  const stopping = new AbortController();
  let last = now();
  const backUp = async () => {
    try {
      const copy = await copyArchive(archive);
      await work.run("proveBackup", { copy, keep: KEPT, at: archive.clock() }, stopping.signal);
    } catch (error) {
      // what is left of a copy that nobody waits for is replaced by the next
      if (!stopping.signal.aborted) failed(error);
    }
  };
  let running: Promise<unknown> = Promise.resolve();
  const first = setTimeout(() => {
    running = backUp();
  }, FIRST_ms).unref();
  const look = () => {
    if (!isDue({ now: now(), last, lastAsked: lastAsked() })) return;
    last = now();
    running = running.then(backUp);
  };
  const timer = setInterval(look, LOOK_ms).unref();
  return async () => {
    clearTimeout(first);
    clearInterval(timer);
    stopping.abort();
    await running;
  };
}

/** Whether it is time: a day has gone by, and nobody works, or has for hours. All in milliseconds. */
export function isDue({ now, last, lastAsked }: { now: number; last: number; lastAsked: number }): boolean {
  const over = now - last - DAY_ms;
  return over >= 0 && (now - lastAsked >= QUIET_ms || over >= PATIENCE_ms);
}
