import * as z from "zod";
import { revisionSchema } from "./campaigns.ts";
import { personSchema } from "./people.ts";

/** What the server tells every page that listens: a campaign has changed, a person has come. */
export const eventSchema = z.union([
  z.strictObject({
    campaign: z.strictObject({ id: z.string(), revision: revisionSchema, who: z.string(), why: z.string() }),
  }),
  z.strictObject({ people: personSchema }),
]);

/** What the server tells every page that listens. */
export type LiveEvent = z.infer<typeof eventSchema>;
