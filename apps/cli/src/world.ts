import { type Environment, type Page, pageOn, type Stream } from "./page.ts";
import type { StartWorker } from "./worker-pool.ts";

/** What the commands write to. */
export interface World {
  readonly stdout: Stream;
  readonly stderr: Stream;
  /** Standard output as a page of text. */
  readonly page: Page;
  /** Standard error as a page of text. */
  readonly errors: Page;
  /** Starts a thread for blocks of trials; absent where there are none to be had. */
  readonly startWorker?: StartWorker;
}

/** The world around the program, from two streams, an environment and a way to start threads. */
export function worldOf(stdout: Stream, stderr: Stream, env: Environment, startWorker?: StartWorker): World {
  const streams = { stdout, stderr, page: pageOn(stdout, env), errors: pageOn(stderr, env) };
  return startWorker ? { ...streams, startWorker } : streams;
}
