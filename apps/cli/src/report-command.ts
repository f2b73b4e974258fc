import { existsSync, statSync, writeFileSync } from "node:fs";
import { extname, relative, resolve } from "node:path";
import { exitStatus, isInvented } from "@alcedo-dosimetry/campaign";
import { type DocumentKind, htmlPage, pdfFile, reportDocument } from "@alcedo-dosimetry/report";
import { refuse } from "./evaluate-command.ts";
import { evaluateFolder } from "./open-campaign.ts";
import { printable } from "./printable.ts";
import { reportFonts } from "./report-fonts.ts";
import { standingMark } from "./standing-mark.ts";
import { errorCode, reasonOf } from "./system-error.ts";
import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** What `alcedo report` may be told. */
export interface ReportCommandOptions {
  readonly kind: DocumentKind;
  /** A file, its ending `.html` or `.pdf`; without an ending both are written, without it both beside the campaign folder. */
  readonly out?: string;
  /** `YYYY-MM-DD` */
  readonly date?: string;
  /** Whether a file that is there is written over. */
  readonly force?: boolean;
}

/** `alcedo report`: the documents that are signed, as HTML and as PDF. */
export async function reportCommand(folder: string, options: ReportCommandOptions, world: World): Promise<0 | 1 | 2> {
  const { kind, out, date, force = false } = options;
  const { page, errors } = world;
  const refused = (message: string): 2 => {
    errors.print(wrap(`alcedo report: ${message}`, errors.width));
    return 2;
  };
  const stem = out ?? `${resolve(folder)}-${kind}`;
  const paths = out === undefined || extname(out) === "" ? [`${stem}.pdf`, `${stem}.html`] : [out];
  const unfit = paths.find((path) => !/^\.(?:pdf|html?)$/i.test(extname(path)));
  if (unfit !== undefined)
    return refused(`${printable(unfit)}: the ending says what is written. Name a file that ends in .pdf or .html.`);
  const opened = await evaluateFolder(folder);
  if ("none" in opened) {
    refuse(folder, opened.none.findings, errors);
    return 2;
  }
  const there = force ? undefined : paths.find((path) => existsSync(path));
  if (there !== undefined)
    return refused(`${printable(there)} is there already. Name another file with --out, or say --force to replace it.`);
  const { campaign, evaluation } = opened;
  const document = reportDocument(campaign, evaluation, { kind, ...(date !== undefined && { date }) });
  for (const path of paths) {
    const isPdf = extname(path).toLowerCase() === ".pdf";
    const content = isPdf ? pdfFile(document, reportFonts()) : htmlPage(document);
    const reason = write(path, content, force);
    if (reason !== undefined) return refused(reason);
  }
  page.print([
    ...wrap(`${document.type} of ${printable(document.title)}:`, page.width),
    ...paths.map((path) => `  ${printable(shortest(path))}`),
    ...wrap(`Input ${document.input}`, page.width).map((line) => page.ink.dim(line)),
    `The campaign is ${standingMark(evaluation.result.standing, page.ink)}.`,
    ...(isInvented(campaign.descriptor)
      ? [page.ink.yellow("▲ Every page is marked: invented data, not for use.")]
      : []),
  ]);
  return exitStatus(evaluation);
}

/** Why a file could not be written; undefined when it is done. */
function write(path: string, content: string | Uint8Array, force: boolean): string | undefined {
  try {
    if (force && existsSync(path) && !statSync(path).isFile()) return `${printable(path)} is no plain file.`;
    writeFileSync(path, content, { flag: force ? "w" : "wx" });
    return undefined;
  } catch (error) {
    if (errorCode(error) === undefined) throw error;
    return `${printable(path)} cannot be written: ${reasonOf(error)}.`;
  }
}

/** A path as it is shortest to type from here. */
function shortest(path: string): string {
  const way = relative(process.cwd(), path);
  return way.startsWith("..") ? path : way;
}
