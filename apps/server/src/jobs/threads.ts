import { availableParallelism } from "node:os";
import { Piscina } from "piscina";
import { ProblemError } from "../problem-error.ts";
import type { JobName, JobOrder, JobResult } from "./jobs.ts";

/** Does jobs beside the server. */
export interface Work {
  /**
   * Has a job done.
   *
   * @param gone aborts it: nobody waits for the result any more
   * @throws ProblemError (`unavailable`) where too many wait already
   */
  readonly run: <Name extends JobName>(
    job: Name,
    order: JobOrder<Name>,
    gone?: AbortSignal,
  ) => Promise<JobResult<Name>>;
  readonly close: () => Promise<void>;
}

/** Jobs that take minutes have threads of their own, so that the short ones never wait behind them. */
const LONG: readonly JobName[] = ["monteCarlo", "document", "proveBackup"];
/** Jobs that may wait before more are refused. */
const MOST_WAITING = 64;

/**
 * Threads for jobs, started when there is work.
 *
 * @param worker the file that a thread runs: the built `worker.ts`
 */
export function threads(worker: URL): Work {
  const pool = (most: number) =>
    new Piscina({
      ...{ filename: worker.href, minThreads: 0, maxThreads: most, maxQueue: MOST_WAITING, idleTimeout: 60_000 },
      // a campaign of 100,000 readings fits; a job that grows without end stops its own thread alone
      resourceLimits: { maxOldGenerationSizeMb: 2048 },
    });
  const short = pool(2);
  const long = pool(Math.max(1, Math.min(4, availableParallelism() - 1)));
  return {
    run: async (job, order, gone) => {
      const pool = LONG.includes(job) ? long : short;
      if (pool.queueSize >= MOST_WAITING) {
        throw new ProblemError("unavailable", "Too much work waits already.", "Try again in a minute.", { wait_s: 60 });
      }
      return (await pool.run({ job, order }, gone === undefined ? {} : { signal: gone })) as never;
    },
    close: async () => {
      await Promise.all([short.destroy(), long.destroy()]);
    },
  };
}
