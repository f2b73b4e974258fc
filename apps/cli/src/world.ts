import { homedir } from "node:os";
import { join } from "node:path";
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
  /** The folder of the archive where no other is named: ALCEDO_HOME, or `alcedo` in the home folder. */
  readonly home: string;
  /** Starts a thread for blocks of trials; absent where there are none to be had. */
  readonly startWorker?: StartWorker;
  /** Runs the workbench's server until it ends; absent where there is none to be had. */
  readonly startServer?: StartServer;
}

/** Runs the workbench's server with these settings in its environment; gives its exit status, or undefined where it is not built. */
export type StartServer = (settings: Readonly<Record<string, string>>) => Promise<number | undefined>;

/** What can be started beside the program. */
export type Startable = Pick<World, "startWorker" | "startServer">;

/** The world around the program, from two streams, an environment and what can be started. */
export function worldOf(stdout: Stream, stderr: Stream, env: Environment, startable: Startable = {}): World {
  const named = env["ALCEDO_HOME"]?.trim() ?? "";
  const home = named === "" ? join(homedir(), "alcedo") : named;
  return { stdout, stderr, home, page: pageOn(stdout, env), errors: pageOn(stderr, env), ...startable };
}
