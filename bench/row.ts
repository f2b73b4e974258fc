/** One line of a workload's table. */
export interface Row {
  /** What was done, in a few words. */
  readonly what: string;
  /** How long it took, in milliseconds: a median. */
  readonly ms: number;
  /** Its limit, its target, or anything that the reader should know. */
  readonly note?: string;
}

/** What a file `NAME.bench.ts` exports. */
export interface Workload {
  /** What is done, with its sizes. */
  readonly name: string;
  /** The `what` of the row that the others are compared with. */
  readonly baseline: string;
  /** Does the work and returns its rows, the baseline's among them. */
  readonly run: () => readonly Row[] | Promise<readonly Row[]>;
}
