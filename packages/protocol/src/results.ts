import type { Finding, Result } from "@alcedo-dosimetry/campaign";
import * as z from "zod";
import { keptSchema, revisionSchema } from "./campaigns.ts";

const number = z.number();
const figure = number.nullable();
const standingSchema = z.enum(["sound", "untested", "stale", "broken"]);

/** Something that the program noticed, with its place and its remedy. */
export const findingSchema = z
  .strictObject({
    level: z.enum(["error", "warning", "notice"]),
    code: z.string(),
    message: z.string(),
    effect: z.string().exactOptional(),
    remedy: z.string().exactOptional(),
    where: z
      .strictObject({
        series: z.string().exactOptional(),
        reading: z.string().exactOptional(),
        condition: z.string().exactOptional(),
        column: z.string().exactOptional(),
        file: z.string().exactOptional(),
        sheet: z.string().exactOptional(),
        row: number.exactOptional(),
        line: number.exactOptional(),
        key: z.string().exactOptional(),
      })
      .exactOptional(),
    facts: z.record(z.string(), z.union([z.string(), number])).exactOptional(),
  })
  .meta({ id: "Finding" }) satisfies z.ZodType<Finding>;

const contributionSchema = z.strictObject({
  input: z.string(),
  label: z.string(),
  type: z.enum(["A", "B"]),
  unit: z.string(),
  value: number,
  u: number,
  sensitivity: number,
  contribution: number,
  share: number,
});

const quantitySchema = z.strictObject({
  id: z.string(),
  label: z.string(),
  symbol: z.string(),
  unit: z.string(),
  value: number,
  u: figure,
  dof: figure,
  k: figure,
  U: figure,
  typeA: z.literal("unknown").exactOptional(),
  p: number.exactOptional(),
  en: number.exactOptional(),
  interval95: z.tuple([number, number]).nullable().exactOptional(),
  mcMean: figure.exactOptional(),
  mcU: figure.exactOptional(),
  mcFailures: number.exactOptional(),
  linear: z.enum(["validated", "undecided", "not-validated"]).exactOptional(),
  budget: z.array(contributionSchema),
});

/** What an evaluation gives. */
export const resultSchema = z
  .strictObject({
    alcedo: z.string(),
    campaign: z.string(),
    input: z.string(),
    standing: standingSchema,
    stages: z.array(
      z.strictObject({
        id: z.enum(["background", "separation", "calibration", "output-factors"]),
        standing: standingSchema,
        reason: z.string(),
      }),
    ),
    monteCarlo: z
      .strictObject({ trials: number, seed: number, failures: number, settled: z.boolean().exactOptional() })
      .exactOptional(),
    quantities: z.array(quantitySchema),
    findings: z.array(findingSchema),
  })
  .meta({ id: "Result" }) satisfies z.ZodType<Result>;

/** Which revision the server is to evaluate and keep the result of. */
export const evaluationRequestSchema = z.strictObject({ after: revisionSchema });

/** The server's evaluation, which is kept: the same, to the last bit, as the page's. */
export const evaluationSchema = z.strictObject({
  result: resultSchema,
  digest: z.string().meta({ description: "sha256: and the digest of the result's canonical JSON" }),
});

/** A campaign out of a file, and what was noticed in it. */
export const importedSchema = keptSchema.extend({ findings: z.array(findingSchema) });

/** A quantity by the evaluation and by the independent route; null what a route does not give. */
export const recheckRowSchema = z.strictObject({
  id: z.string(),
  value: figure,
  recheckValue: figure,
  difference: figure,
  u: figure,
  recheckU: figure,
});

/** How a Monte Carlo run is to be made. */
export const monteCarloRequestSchema = z.strictObject({
  trials: z.union([z.int().min(1).max(40_000_000), z.literal("adaptive")]),
  seed: z.int().min(0).max(999_999),
});

/** The server's evaluation and its digest. */
export type KeptEvaluation = z.infer<typeof evaluationSchema>;
/** A quantity by both routes. */
export type RecheckRow = z.infer<typeof recheckRowSchema>;
