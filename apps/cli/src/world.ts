import { type Environment, type Page, pageOn, type Stream } from "./page.ts";

/** What the commands write to. */
export interface World {
  readonly stdout: Stream;
  readonly stderr: Stream;
  /** Standard output as a page of text. */
  readonly page: Page;
  /** Standard error as a page of text. */
  readonly errors: Page;
}

/** The world around the program, from two streams and an environment. */
export function worldOf(stdout: Stream, stderr: Stream, env: Environment): World {
  return { stdout, stderr, page: pageOn(stdout, env), errors: pageOn(stderr, env) };
}
