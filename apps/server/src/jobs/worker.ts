import { JOBS, type JobName, type JobOrder, type JobResult } from "./jobs.ts";

/** What a thread is told to do. */
export interface Order<Name extends JobName = JobName> {
  readonly job: Name;
  readonly order: JobOrder<Name>;
}

/** A thread's work: one job. */
export default async function work<Name extends JobName>({ job, order }: Order<Name>): Promise<JobResult<Name>> {
  return (JOBS[job] as (order: JobOrder<Name>) => Promise<JobResult<Name>>)(order);
}
