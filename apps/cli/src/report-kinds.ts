import type { DocumentKind } from "@alcedo-dosimetry/report";

/** The documents that `alcedo report` writes; named here so that no other command has to load what writes them. */
export const REPORT_KINDS = ["record", "output-factors", "certificate"] as const satisfies readonly DocumentKind[];

/** See {@link REPORT_KINDS}. */
export type ReportKind = (typeof REPORT_KINDS)[number];
