import type { Contribution } from "@alcedo-dosimetry/metrology";
import type { Finding } from "./finding.ts";
import type { Standing } from "./standing.ts";

/** Whether Monte Carlo bears the law of propagation out; `undecided` where too few trials were made to tell. */
export type LinearVerdict = "validated" | "undecided" | "not-validated";

/** One reported number. What is unknown is null, and `typeA` says so where it is for want of repeats. */
export interface Quantity {
  readonly id: string;
  readonly label: string;
  readonly symbol: string;
  readonly unit: string;
  readonly value: number;
  /** Standard uncertainty; null where the quantity has none (a χ²). */
  readonly u: number | null;
  /** Effective degrees of freedom; null for infinite, or for unknown where `typeA` says so. */
  readonly dof: number | null;
  /** Coverage factor for 95 %. */
  readonly k: number | null;
  /** Expanded uncertainty k·u. */
  readonly U: number | null;
  /** Present where no repeats tell the type A uncertainty: `u` is then of the known components alone. */
  readonly typeA?: "unknown";
  /** Of a test: the probability of a worse one by chance. */
  readonly p?: number;
  /** Of a comparison: the difference over its expanded uncertainty (E_n, ISO 13528); agreement is |E_n| ≤ 1. */
  readonly en?: number;
  /**
   * After a Monte Carlo run: the ends of the interval that holds 95 % of the trials, as many above as below; null where
   * type A is unknown.
   */
  readonly interval95?: readonly [low: number, high: number] | null;
  /** Mean of the trials; null where the distribution has none (t with one degree of freedom or less behind it). */
  readonly mcMean?: number | null;
  /** Their standard deviation; null where the distribution has none (t with two degrees of freedom or less behind it). */
  readonly mcU?: number | null;
  /** Trials that gave no value, where there were any. */
  readonly mcFailures?: number;
  /** Whether value ± U is `interval95` within the numerical tolerance (JCGM 101:2008, 8.1). */
  readonly linear?: LinearVerdict;
  /** Every input with a part in it; the shares add up to one. */
  readonly budget: readonly Contribution[];
}

/** The stages of the chain, in order. */
export const STAGES = ["background", "separation", "calibration", "output-factors"] as const;

/** A stage of the chain. */
export type StageId = (typeof STAGES)[number];

/** What a stage is worth now, and why. */
export interface Stage {
  readonly id: StageId;
  readonly standing: Standing;
  readonly reason: string;
}

/** How a Monte Carlo run was made. */
export interface MonteCarloRecord {
  /** Trials that were made: whole blocks. */
  readonly trials: number;
  readonly seed: number;
  /** The most trials without a value in any quantity. */
  readonly failures: number;
  /** Of an adaptive run: whether all figures are good to two digits of u. */
  readonly settled?: boolean;
}

/** What an evaluation gives: the object that `alcedo evaluate --json` prints. */
export interface Result {
  /** Version of the program. */
  readonly alcedo: string;
  readonly campaign: string;
  /** Digest of the canonical campaign. */
  readonly input: string;
  /** The worst of the stages'. */
  readonly standing: Standing;
  readonly stages: readonly Stage[];
  /** Present after a Monte Carlo run. */
  readonly monteCarlo?: MonteCarloRecord;
  readonly quantities: readonly Quantity[];
  readonly findings: readonly Finding[];
}
