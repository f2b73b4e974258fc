import * as z from "zod";
import {
  cellTextSchema,
  descriptorSchema,
  revisionSchema,
  tableNameSchema,
  tableSchema,
  whySchema,
} from "./campaigns.ts";

const place = z.int().min(0);

/** One change of an open campaign: a cell, rows put in or taken out, a table put or taken out, the descriptor. */
export const editSchema = z
  .union([
    z.strictObject({
      cell: z.strictObject({ table: tableNameSchema, row: place, column: z.string().max(200), text: cellTextSchema }),
    }),
    z.strictObject({
      insert: z.strictObject({
        table: tableNameSchema,
        at: place,
        rows: z.array(z.array(cellTextSchema)).max(100_000),
      }),
    }),
    z.strictObject({
      remove: z.strictObject({ table: tableNameSchema, at: place, count: place }),
    }),
    z.strictObject({ put: z.strictObject({ name: tableNameSchema, table: tableSchema.exactOptional() }) }),
    z.strictObject({ descriptor: descriptorSchema }),
  ])
  .meta({ id: "Edit" });

const keySchema = z.uuid("must be a UUID, another one for each change").meta({
  description: "names the change: sent again under the same key it is answered as the first time, and made once",
});

/** Changes to a campaign, made to the revision `after`. */
export const editsRequestSchema = z.strictObject({
  after: revisionSchema,
  edits: z.array(editSchema).min(1, "must be at least one").max(10_000, "must be at most 10000"),
  why: whySchema,
  key: keySchema,
});

/** One more reading at the end of a table; it does not matter what else has changed meanwhile. */
export const readingRequestSchema = z.strictObject({
  table: tableNameSchema,
  cells: z.record(z.string().max(200), cellTextSchema),
  why: whySchema,
  key: keySchema,
});

/** What a change answers once it is on the disk. */
export const revisedSchema = z.strictObject({ revision: revisionSchema });

/** Takes back the campaign's latest change, which must still be `after`. */
export const undoRequestSchema = z.strictObject({ after: revisionSchema, why: whySchema });

/** Changes to a campaign. */
export type EditsRequest = z.infer<typeof editsRequestSchema>;
/** One more reading. */
export type ReadingRequest = z.infer<typeof readingRequestSchema>;
