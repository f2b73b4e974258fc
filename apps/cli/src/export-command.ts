import {
  type Campaign,
  characterisationOf,
  type Evaluation,
  exitStatus,
  isError,
  NoCharacterisationError,
} from "@alcedo-dosimetry/campaign";
import { cautionLines } from "./cautions.ts";
import { refuse } from "./evaluate-command.ts";
import { evaluateFolder, openCampaign } from "./open-campaign.ts";
import { printable } from "./printable.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";
import { taken, writeNewFile } from "./write-new-file.ts";
import { writeNewFolder } from "./write-new-folder.ts";

/** Where `alcedo export` is to write what. */
export interface ExportOptions {
  /** Workbook of results. */
  readonly xlsx?: string;
  /** Folder for the results as CSV tables. */
  readonly tables?: string;
  /** Workbook of the campaign itself. */
  readonly campaign?: string;
  /** JSON of what separation and calibration found, for other days. */
  readonly characterisation?: string;
  /** Day of the readings behind it, where they have no times. */
  readonly date?: string;
}

/** `alcedo export`: results as a workbook or as CSV tables, or the campaign itself as a workbook. Nothing is written over. */
export async function exportCommand(folder: string, options: ExportOptions, world: World): Promise<0 | 1 | 2> {
  const refused = (message: string): 2 => {
    world.errors.print(wrap(`alcedo export: ${message}`, world.errors.width));
    return 2;
  };
  const { xlsx, tables, campaign: workbook, characterisation, date } = options;
  const workbooks = [xlsx, workbook].filter((file) => file !== undefined);
  const files = characterisation === undefined ? workbooks : [...workbooks, characterisation];
  if (files.length === 0 && tables === undefined)
    return refused("say what to write: --xlsx, --tables, --campaign or --characterisation.");
  const unfit = workbooks.find((file) => !/\.xlsx$/i.test(file));
  if (unfit !== undefined) return refused(`${printable(unfit)}: a workbook's name ends in .xlsx.`);
  if (date !== undefined && characterisation === undefined) return refused("--date belongs to --characterisation.");
  const reason = files.map(taken).find((own) => own !== undefined);
  if (reason !== undefined) return refused(reason);

  const asItStands = xlsx === undefined && tables === undefined && characterisation === undefined;
  const source = asItStands ? await readOnly(folder) : await evaluated(folder);
  if ("findings" in source) {
    refuse(folder, source.findings, world.errors);
    return 2;
  }
  const { campaign, evaluation } = source;
  const done: string[] = [];
  for (const write of [
    () => (workbook === undefined ? undefined : writeCampaign(workbook, campaign, done)),
    () => (xlsx === undefined || !evaluation ? undefined : writeResults(xlsx, campaign, evaluation, done)),
    () =>
      characterisation === undefined || !evaluation
        ? undefined
        : writeCharacterisation(characterisation, campaign, evaluation, date, done),
    () => (tables === undefined || !evaluation ? undefined : writeTables(tables, campaign, evaluation, done)),
  ]) {
    const failed = await write();
    if (failed !== undefined) return refused(failed);
  }
  const { page } = world;
  page.print([
    ...done.flatMap((line) => wrap(line, page.width)),
    "",
    ...cautionLines(campaign.descriptor, page.width, page.ink),
  ]);
  return evaluation ? exitStatus(evaluation) : 0;
}

type Source = { readonly campaign: Campaign; readonly evaluation?: Evaluation };
type Refusal = { readonly findings: Parameters<typeof refuse>[1] };

/** A campaign is written as it stands, whatever its readings mean; only its form must hold. */
async function readOnly(folder: string): Promise<Source | Refusal> {
  const { campaign, findings } = await openCampaign(folder);
  return campaign && !findings.some(isError) ? { campaign } : { findings };
}

async function evaluated(folder: string): Promise<Source | Refusal> {
  const opened = await evaluateFolder(folder);
  return "none" in opened ? { findings: opened.none.findings } : opened;
}

async function writeCampaign(file: string, campaign: Campaign, done: string[]): Promise<string | undefined> {
  const { writeCampaignWorkbook } = await import("@alcedo-dosimetry/exchange/workbook");
  const bytes = bytesOr(() => writeCampaignWorkbook(campaign));
  if (typeof bytes === "string") return `${printable(file)} is not written: ${bytes}.`;
  done.push(`${printable(file)}: the campaign, to be opened like its folder`);
  return writeNewFile(file, bytes);
}

async function writeResults(
  file: string,
  campaign: Campaign,
  evaluation: Evaluation,
  done: string[],
): Promise<string | undefined> {
  const { resultsWorkbook } = await import("@alcedo-dosimetry/report/workbook");
  const bytes = bytesOr(() => resultsWorkbook(campaign, evaluation));
  if (typeof bytes === "string") return `${printable(file)} is not written: ${bytes}.`;
  done.push(`${printable(file)}: results, budgets, findings, assumptions, readings as typed`);
  return writeNewFile(file, bytes);
}

async function writeTables(
  folder: string,
  campaign: Campaign,
  evaluation: Evaluation,
  done: string[],
): Promise<string | undefined> {
  const { formulaLikeTexts, resultsDataPackage } = await import("@alcedo-dosimetry/report/tables");
  const files = resultsDataPackage(campaign, evaluation);
  const like = formulaLikeTexts(campaign, evaluation);
  done.push(`${printable(folder)}: ${[...files.keys()].join(", ")}`);
  if (like > 0)
    done.push(
      `▲ ${like === 1 ? "1 text begins" : `${like} texts begin`} like a formula and ${like === 1 ? "is" : "are"} written as typed: a spreadsheet program that opens the CSV may compute ${like === 1 ? "it" : "them"}. Open the workbook there (--xlsx).`,
    );
  return writeNewFolder(folder, files);
}

function writeCharacterisation(
  file: string,
  campaign: Campaign,
  evaluation: Evaluation,
  date: string | undefined,
  done: string[],
): string | undefined {
  try {
    const found = characterisationOf(campaign, evaluation, date);
    done.push(`${printable(file)}: the characterisation of ${found.date}, for campaigns of other days`);
    return writeNewFile(file, new TextEncoder().encode(`${JSON.stringify(found, undefined, 2)}\n`));
  } catch (error) {
    if (!(error instanceof NoCharacterisationError)) throw error;
    return `${printable(file)} is not written: ${error.message}`;
  }
}

/** Bytes, or why a workbook cannot hold what it should: a writer refuses with a plain Error, whatever else is thrown is a fault. */
function bytesOr(write: () => Uint8Array): Uint8Array | string {
  try {
    return write();
  } catch (error) {
    if (!(error instanceof Error) || error.constructor !== Error) throw error;
    return error.message;
  }
}
