import type { Evaluated } from "../evaluated.ts";
import type { Finding, FindingLevel } from "../finding.ts";

/** A number from which a rule speaks, and where the number comes from. */
export interface Threshold {
  readonly value: number;
  /** Unit of the value; 1 for a fraction. */
  readonly unit: string;
  readonly source: string;
}

/** One thing that the tool notices: what it looks at, what follows from it, what to do. */
export interface Rule {
  readonly code: string;
  readonly level: FindingLevel;
  /** What it sees. */
  readonly sees: string;
  readonly threshold?: Threshold;
  /** The findings on one evaluation; none where all is well. */
  check(evaluated: Evaluated): readonly Finding[];
}
