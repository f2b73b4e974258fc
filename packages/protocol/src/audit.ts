import * as z from "zod";

/** What an audit of the whole archive found. */
export const auditSchema = z.strictObject({
  revisions: z.int(),
  seal: z.string().meta({ description: "of the last revision: note it elsewhere" }),
  faults: z.array(z.strictObject({ revision: z.int().exactOptional(), says: z.string() })),
});

/** What an audit of the whole archive found. */
export type AuditAnswer = z.infer<typeof auditSchema>;
