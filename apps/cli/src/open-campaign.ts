import { statSync } from "node:fs";
import {
  type Campaign,
  type EvaluateOptions,
  type Evaluation,
  evaluate,
  type Finding,
  type Result,
  VERSION,
} from "@alcedo-dosimetry/campaign";
import { type FolderReading, readFolder } from "@alcedo-dosimetry/exchange";
import { diskFolder, FolderError } from "./disk-folder.ts";
import { isWorkbookPath, openWorkbook } from "./workbook-file.ts";

/** Reads the campaign in a folder or a workbook; one that cannot be opened is a finding like every other fault. */
export async function openCampaign(folder: string): Promise<FolderReading> {
  if (isWorkbookPath(folder) && !isFolder(folder)) return openWorkbook(folder);
  try {
    return readFolder(diskFolder(folder));
  } catch (error) {
    if (!(error instanceof FolderError)) throw error;
    const { message, remedy } = error;
    return { findings: [{ level: "error", code: "folder-unreadable", message, remedy }] };
  }
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

/** A campaign that was evaluated. */
export interface EvaluatedFolder {
  readonly folder: string;
  readonly campaign: Campaign;
  readonly evaluation: Evaluation;
}

/** What is printed in place of a result where there is none; the campaign's name and digest where it could be read. */
interface NoResult extends Omit<Result, "campaign" | "input"> {
  readonly campaign: string | null;
  readonly input?: string;
}

/** What became of a campaign that was to be evaluated. */
export type OpenedFolder = EvaluatedFolder | { readonly folder: string; readonly none: NoResult };

/** Reads and evaluates the campaign in a folder or a workbook. */
export async function evaluateFolder(folder: string, options: EvaluateOptions = {}): Promise<OpenedFolder> {
  const { campaign, findings } = await openCampaign(folder);
  if (!campaign) return { folder, none: noResult(findings) };
  const evaluation = evaluate(campaign, findings, options);
  return evaluation.model ? { folder, campaign, evaluation } : { folder, none: evaluation.result };
}

function noResult(findings: readonly Finding[]): NoResult {
  return { alcedo: VERSION, campaign: null, standing: "broken", stages: [], quantities: [], findings };
}
