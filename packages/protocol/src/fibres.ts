import * as z from "zod";

/** A fibre as the home page shows it. */
export const fibreSchema = z.strictObject({
  id: z.string(),
  description: z.record(z.string(), z.unknown()).exactOptional(),
  standing: z
    .enum(["sound", "untested", "stale", "broken"])
    .nullable()
    .meta({ description: "of its newest kept evaluation; null before there is one" }),
  sensitivity: z
    .array(
      z.strictObject({
        campaign: z.string(),
        day: z.string().exactOptional(),
        dose_Gy: z.number().exactOptional().meta({ description: "accumulated until then" }),
        value: z.number(),
        u: z.number().nullable(),
        unit: z.string(),
      }),
    )
    .meta({
      description: "calibration coefficient, as the newest kept evaluation of each campaign has it; oldest first",
    }),
  due: z.array(z.string()).meta({ description: "what is to be done next, in words" }),
  campaigns: z.int(),
  last: z.string().exactOptional().meta({ description: "when one of its campaigns was changed last, ISO 8601" }),
});

/** A fibre as the home page shows it. */
export type Fibre = z.infer<typeof fibreSchema>;
