import { countInWords, exitStatus, type Finding, isError } from "@alcedo-dosimetry/campaign";
import { findingLines, findingsByFile } from "./finding-text.ts";
import { jsonText } from "./json-output.ts";
import { monteCarloRun } from "./monte-carlo-run.ts";
import { evaluateFolder } from "./open-campaign.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { summaryLines } from "./summary.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** Options of `alcedo evaluate`. */
export interface EvaluateOptions {
  readonly json?: boolean;
  /** Trials; none where absent. */
  readonly monteCarlo?: number | "adaptive";
  readonly seed?: number;
  readonly threads?: number;
  /** Day against which a characterisation may be stale. */
  readonly asOf?: string;
}

/** The seed where none is given. */
const SEED = 1;

/** `alcedo evaluate`: a summary, or with `json` the result as an object and the errors beside it. */
export async function evaluateCommand(
  folder: string,
  { json = false, monteCarlo, seed, threads, asOf }: EvaluateOptions,
  world: World,
): Promise<0 | 1 | 2> {
  if (monteCarlo === undefined && (seed !== undefined || threads !== undefined)) {
    const lone = seed !== undefined ? "--seed" : "--threads";
    world.errors.print([`alcedo: ${lone} belongs to a Monte Carlo run: add --monte-carlo N, the number of trials.`]);
    return 2;
  }
  const opened = await evaluateFolder(folder, asOf === undefined ? {} : { asOf });
  if ("none" in opened) {
    if (json) world.stdout.write(jsonText(opened.none));
    refuse(folder, opened.none.findings, world.errors);
    return 2;
  }
  const evaluation =
    monteCarlo === undefined
      ? opened.evaluation
      : await monteCarloRun(
          opened.campaign,
          opened.evaluation,
          { trials: monteCarlo, seed: seed ?? SEED, ...(threads !== undefined && { threads }) },
          world.stderr,
          world.startWorker,
        );
  const { result } = evaluation;
  if (json) {
    world.stdout.write(jsonText(result));
    const { width, ink } = world.errors;
    world.errors.print(result.findings.filter(isError).flatMap((finding) => findingLines(finding, width, ink)));
  } else world.page.print(summaryLines({ ...opened, evaluation }, world.page));
  return exitStatus(evaluation);
}

/** Says why a campaign cannot be evaluated: every finding, file by file. */
export function refuse(folder: string, findings: readonly Finding[], errors: Page): void {
  const { width, ink } = errors;
  const head = `${printable(folder)} cannot be evaluated: ${countInWords(findings)}.`;
  errors.print([...wrap(head, width).map(ink.bold), ...findingsByFile(findings, width, ink)]);
}
