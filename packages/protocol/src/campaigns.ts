import type { Campaign, Descriptor } from "@alcedo-dosimetry/campaign";
import * as z from "zod";
import { signatureSchema } from "./signatures.ts";

/** The number of a revision of the archive. */
export const revisionSchema = z.int().min(1);

/** The id of a campaign: its name when it was kept first. */
export const campaignIdSchema = z.string().regex(/^[a-z0-9][a-z0-9._-]{0,99}$/, "is no campaign's id");

/** Why a change is made, in words: it stands in the history for good. */
export const whySchema = z.string().regex(/\S/, "must say why").max(500, "must have at most 500 characters");

const word = z.string().min(1, "must not be empty");

/**
 * What a descriptor needs before the archive can keep it. Whether its figures make sense is for the evaluation to say: a
 * campaign in the middle of being typed is kept as well.
 */
const descriptorShape = z.looseObject({
  name: z
    .string()
    .regex(/^[a-z0-9][a-z0-9._-]*$/, "must consist of a-z, 0-9, point, underscore and hyphen")
    .max(100),
  title: z.string().exactOptional(),
  description: z.string().exactOptional(),
  keywords: z.array(z.string()).exactOptional(),
  alcedo: z.looseObject({
    detector: z.looseObject({ id: word, channels: z.array(word), signalUnit: z.string() }),
    beam: z.looseObject({ id: word }),
  }),
  resources: z.array(
    z.looseObject({ name: word, path: word, alcedo: z.looseObject({ series: word }) }).meta({ id: "Resource" }),
  ),
});

/** A campaign's descriptor in the form that the archive needs; the evaluation judges what it says. */
export const descriptorSchema = descriptorShape as unknown as z.ZodType<Descriptor>;

/** The most readings of a table, as the campaign format has it. */
const ROWS = 100_000;
/** The most columns of a table. */
const COLUMNS = 1_000;
/** The longest text of a cell, in characters. */
const CELL = 20_000;

/** The text of a cell as it was typed. */
export const cellTextSchema = z.string().max(CELL, `must have at most ${CELL} characters`);

/** A table: as many texts in each row as there are columns, and a line number for each row. */
export const tableSchema = z
  .strictObject({
    path: word,
    sheet: z.string().exactOptional(),
    decimal: z.enum([".", ","]),
    columns: z.array(cellTextSchema).max(COLUMNS, `must be at most ${COLUMNS}`),
    rows: z.array(z.array(cellTextSchema)).max(ROWS, `must be at most ${ROWS}`),
    lines: z.array(z.int().min(1)),
  })
  .refine(({ columns, rows }) => rows.every((row) => row.length === columns.length), {
    path: ["rows"],
    message: "must each have as many cells as there are columns",
  })
  .refine(({ rows, lines }) => rows.length === lines.length, {
    path: ["lines"],
    message: "must be as many as there are rows",
  });

/** The name of a table, which is that of its resource. */
export const tableNameSchema = word.max(100).refine((name) => name !== "__proto__", "is no name");

/** A whole campaign as the archive keeps it. */
export const campaignSchema = z.strictObject({
  descriptor: descriptorSchema,
  tables: z.record(tableNameSchema, tableSchema),
  characterisation: z.unknown().optional(),
}) as unknown as z.ZodType<Campaign>;

/** A campaign as one of its revisions left it, with the signatures that it bears. */
export const keptSchema = z.strictObject({
  id: campaignIdSchema,
  revision: revisionSchema,
  campaign: campaignSchema,
  signed: z.array(signatureSchema),
});

/** A campaign to be kept. */
export const keepRequestSchema = z.strictObject({ campaign: campaignSchema, why: whySchema });

/** One entry of the list of campaigns. */
const listedCampaignSchema = z.strictObject({
  id: z.string(),
  name: z.string(),
  title: z.string(),
  fibre: z.string(),
  beam: z.string(),
  readings: z.int(),
  input: z.string().meta({ description: "digest of the campaign as it is now" }),
  latest: revisionSchema,
  at: z.string().meta({ description: "when it was changed last, ISO 8601" }),
  who: z.string().meta({ description: "who changed it last" }),
  standing: z
    .enum(["sound", "untested", "stale", "broken"])
    .exactOptional()
    .meta({ description: "of its last kept evaluation, where that was of the campaign as it is now" }),
});

/** What is looked for in the list. */
export const listQuerySchema = z.strictObject({
  words: z.string().max(200).exactOptional(),
  fibre: z.string().max(200).exactOptional(),
  beam: z.string().max(200).exactOptional(),
  after: z.coerce
    .number()
    .int()
    .min(1)
    .exactOptional()
    .meta({ description: "`next` of the page before: only campaigns that come after it in the list" }),
});

/** A page of the list, the last changed first. */
export const campaignListSchema = z.strictObject({
  campaigns: z.array(listedCampaignSchema),
  next: z.int().exactOptional().meta({ description: "ask with it as `after` for the next page; absent on the last" }),
});

/** One line of a campaign's history. */
export const historyEntrySchema = z.strictObject({
  revision: revisionSchema,
  who: z.string(),
  when: z.string(),
  why: z.string(),
});

/** A campaign as one of its revisions left it. */
export type Kept = z.infer<typeof keptSchema>;
/** One entry of the list of campaigns. */
export type ListedCampaign = z.infer<typeof listedCampaignSchema>;
/** A page of the list of campaigns. */
export type CampaignList = z.infer<typeof campaignListSchema>;
/** One line of a campaign's history. */
export type HistoryEntry = z.infer<typeof historyEntrySchema>;
