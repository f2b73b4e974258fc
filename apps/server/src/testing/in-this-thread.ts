import { JOBS } from "../jobs/jobs.ts";
import type { Work } from "../jobs/threads.ts";

/** Jobs done in this thread: the same functions, without a build. */
export const inThisThread: Work = {
  run: async (job, order) => (JOBS[job] as unknown as (order: unknown) => Promise<never>)(order),
  close: async () => Promise.resolve(),
};
