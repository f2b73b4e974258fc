import { exitStatus, type Finding, isError } from "@alcedo-dosimetry/campaign";
import { countInWords, findingLines, findingsByFile } from "./finding-text.ts";
import { jsonText } from "./json-output.ts";
import { evaluateFolder } from "./open-campaign.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { summaryLines } from "./summary.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** Options of `alcedo evaluate`. */
export interface EvaluateCommandOptions {
  readonly json?: boolean;
  readonly asOf?: string;
}

/** `alcedo evaluate`: a summary, or with `json` the result as an object and the errors beside it. */
export function evaluateCommand(
  folder: string,
  { json = false, asOf }: EvaluateCommandOptions,
  world: World,
): 0 | 1 | 2 {
  const opened = evaluateFolder(folder, asOf === undefined ? {} : { asOf });
  if ("none" in opened) {
    if (json) world.stdout.write(jsonText(opened.none));
    refuse(folder, opened.none.findings, world.errors);
    return 2;
  }
  const { result } = opened.evaluation;
  if (json) {
    world.stdout.write(jsonText(result));
    const { width, ink } = world.errors;
    world.errors.print(result.findings.filter(isError).flatMap((finding) => findingLines(finding, width, ink)));
  } else world.page.print(summaryLines(opened, world.page));
  return exitStatus(opened.evaluation);
}

/** Says why a campaign cannot be evaluated: every finding, file by file. */
export function refuse(folder: string, findings: readonly Finding[], errors: Page): void {
  const { width, ink } = errors;
  const head = `${printable(folder)} cannot be evaluated: ${countInWords(findings)}.`;
  errors.print([...wrap(head, width).map(ink.bold), ...findingsByFile(findings, width, ink)]);
}
