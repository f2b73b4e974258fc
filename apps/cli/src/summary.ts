import { countInWords, interpret, notGiven, type Result, type StageId } from "@alcedo-dosimetry/campaign";
import { campaignHeader } from "./campaign-header.ts";
import { cautionLines } from "./cautions.ts";
import { findingLines } from "./finding-text.ts";
import { monteCarloTable } from "./monte-carlo-table.ts";
import type { EvaluatedFolder } from "./open-campaign.ts";
import { outputFactorTable } from "./output-factor-table.ts";
import type { Page } from "./page.ts";
import { printable } from "./printable.ts";
import { separationTable } from "./separation-table.ts";
import { stageLines } from "./stage-lines.ts";
import { standingMark } from "./standing-mark.ts";
import type { TableLayout } from "./table.ts";
import { wrap } from "./wrap.ts";

/** An evaluated campaign on one screen or two: what it is, what each stage is worth, the figures, what to look at. */
export function summaryLines({ folder, campaign, evaluation }: EvaluatedFolder, page: Omit<Page, "print">): string[] {
  const { width, ink } = page;
  const { descriptor } = campaign;
  const { result } = evaluation;
  const block = (title: string, stage: StageId, table: TableLayout | undefined, legend: string): string[] => {
    if (!table) return [];
    const standing = result.stages.find(({ id }) => id === stage)?.standing;
    const mark = standing && standing !== "sound" ? ` ${standingMark(standing, ink)}` : "";
    const missing = table.leftOut.length > 0 ? ` No room for: ${table.leftOut.join(", ")}.` : "";
    return [
      "",
      `${ink.bold(title)}${mark}`,
      ...table.lines,
      ...wrap(legend + missing, width).map((line) => ink.dim(line)),
    ];
  };
  const count = countInWords(result.findings);
  return [
    ...campaignHeader(descriptor, result.input, page),
    "",
    ...stageLines(result, interpret(campaign).channels, page),
    "",
    ...wrap(
      "0.6123(21) is 0.6123 with a standard uncertainty of 0.0021. U is the expanded uncertainty for 95 % (k·u).",
      width,
    ).map((line) => ink.dim(line)),
    ...block(
      "Separation",
      "separation",
      separationTable(campaign, evaluation, page),
      "Mean net signals of a reading. Off group: corrected signal over that of its dose group, less one.",
    ),
    ...block(
      "Output factors",
      "output-factors",
      outputFactorTable(campaign, evaluation, page),
      "S: equivalent square small field size. Most from: the largest part of u² and its share.",
    ),
    ...monteCarloLines(result, page),
    ...notGiven(result).flatMap((text, i) => [...(i === 0 ? [""] : []), ...wrap(printable(text), width, 2)]),
    "",
    ink.bold(count === "" ? "Findings: none" : `Findings: ${count}`),
    ...result.findings.flatMap((finding) => findingLines(finding, width, ink)),
    "",
    `The campaign is ${standingMark(result.standing, ink)}.`,
    ...wrap(`Where a number comes from: alcedo trace ${printable(folder)}`, width).map((line) => ink.dim(line)),
    "",
    ...cautionLines(descriptor, width, ink),
  ];
}

/** The main figures with the intervals of the trials, and how these were made. */
function monteCarloLines(result: Result, page: Omit<Page, "print">): string[] {
  const table = monteCarloTable(result, page);
  if (!table || !result.monteCarlo) return [];
  const { trials, seed, settled } = result.monteCarlo;
  const good =
    settled === undefined
      ? ""
      : settled
        ? ", good to two digits of every u"
        : ", not yet good to two digits of every u";
  const legend = `${trials} trials, seed ${seed}${good}. As much of the distribution lies below the interval as above it. ● both ends of value ± U are those of the interval within half of the second digit of u; ○ too few trials to tell; ✕ they are not: report the interval.`;
  return [
    "",
    page.ink.bold("Monte Carlo"),
    ...table.lines,
    ...wrap(legend, page.width).map((line) => page.ink.dim(line)),
  ];
}
