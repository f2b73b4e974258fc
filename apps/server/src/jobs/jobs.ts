import { type ArchiveCopy, type ProveOptions, proveCopy } from "@alcedo-dosimetry/archive/folder";
import {
  type Campaign,
  evaluate,
  interpret,
  isError,
  type MonteCarloRequest,
  monteCarloOf,
  type Result,
  resolveAssumptions,
} from "@alcedo-dosimetry/campaign";
import { recheck, type SideBySideRow, sideBySide } from "@alcedo-dosimetry/recheck";
import { type DocumentKind, htmlPage, pdfFile, reportDocument, type SignedBy } from "@alcedo-dosimetry/report";
import { type ExportKind, exported } from "./exported.ts";
import { type Imported, imported } from "./imported.ts";
import { type Refused, refusalOf } from "./refused.ts";
import { reportFonts } from "./report-fonts.ts";

/**
 * What takes longer than an answer may, each a pure function of plain data that a thread can be handed. Faults of a campaign
 * come back as findings; whatever is thrown is a fault of the program.
 */
export const JOBS = {
  /** Evaluates a campaign. */
  evaluate: ({ campaign }: { readonly campaign: Campaign }): Result => evaluate(campaign).result,

  /** Every number by both routes. */
  recheck: ({ campaign }: { readonly campaign: Campaign }): readonly SideBySideRow[] | Refused => {
    const { result, model } = evaluate(campaign);
    // a part that an error stopped is no part to recheck: the second route needs all that it would stand on
    if (model === undefined || result.findings.some(isError)) return { refused: result.findings.filter(isError) };
    const { activeVolume, axis } = campaign.descriptor.alcedo.detector;
    const left = result.findings.some(({ code }) => code === "corrections-not-computed");
    const volume = activeVolume && axis && !left ? { activeVolume: { ...activeVolume, axis } } : {};
    const { values } = resolveAssumptions(campaign.descriptor);
    return sideBySide(result, recheck(interpret(campaign), values, volume));
  },

  /** Propagates the distributions themselves. */
  monteCarlo: ({
    campaign,
    request,
  }: {
    readonly campaign: Campaign;
    readonly request: MonteCarloRequest;
  }): Result | Refused => {
    const evaluation = evaluate(campaign);
    return refusalOf(evaluation) ?? monteCarloOf(evaluation, request).result;
  },

  /** A document, as PDF or HTML. */
  document: ({ campaign, kind, format, signed }: DocumentOrder): Uint8Array | Refused => {
    const evaluation = evaluate(campaign);
    const refusal = refusalOf(evaluation);
    if (refusal !== undefined) return refusal;
    const document = reportDocument(campaign, evaluation, { kind, signed });
    return format === "pdf" ? pdfFile(document, reportFonts()) : new TextEncoder().encode(htmlPage(document));
  },

  /** Proves the copy of an archive, which makes it a backup. */
  proveBackup: async ({ copy, keep, at }: ProofOrder): Promise<string> => (await proveCopy(copy, { keep, at })).file,

  /** A campaign out of the bytes of a file. */
  importFile: async ({ name, bytes }: { readonly name: string; readonly bytes: Uint8Array }): Promise<Imported> =>
    imported(name, bytes),

  /** A campaign as the bytes of a file. */
  exportFile: async ({
    campaign,
    as,
  }: {
    readonly campaign: Campaign;
    readonly as: ExportKind;
  }): Promise<Uint8Array | Refused> => exported(campaign, as),
} as const;

/** Which document, of which campaign. */
export interface DocumentOrder {
  readonly campaign: Campaign;
  readonly kind: DocumentKind;
  readonly format: "pdf" | "html";
  /** The signatures that the campaign bears as it is. */
  readonly signed: readonly SignedBy[];
}

/** Which copy, and how it becomes a backup. */
export interface ProofOrder extends ProveOptions {
  readonly copy: ArchiveCopy;
}

/** The name of a job. */
export type JobName = keyof typeof JOBS;
/** What a job needs. */
export type JobOrder<Name extends JobName> = Parameters<(typeof JOBS)[Name]>[0];
/** What a job gives. */
export type JobResult<Name extends JobName> = Awaited<ReturnType<(typeof JOBS)[Name]>>;
