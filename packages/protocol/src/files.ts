import * as z from "zod";

/** What a document shows: the whole record, two pages of output factors, or the certificate. */
export const documentQuerySchema = z.strictObject({
  kind: z.enum(["record", "output-factors", "certificate"]).default("record"),
  format: z.enum(["pdf", "html"]).default("pdf"),
});

/** As what a campaign is handed out: its folder in a zip file, one workbook, or its results as a workbook. */
export const exportQuerySchema = z.strictObject({ as: z.enum(["zip", "xlsx", "results"]).default("zip") });

/** How the file was called that is taken in. */
export const importQuerySchema = z.strictObject({ name: z.string().max(255).default("file") });

/** Which revision is looked at; the latest where none is named. */
export const revisionQuerySchema = z.strictObject({ revision: z.coerce.number().int().min(1).exactOptional() });
