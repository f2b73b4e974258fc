import * as z from "zod";

/** What a signature means: the readings were measured so; a second person agrees; or gives them back with a reason. */
const meaningSchema = z.enum(["measured", "agrees", "returned"]);

/** A signature: an Ed25519 signature (RFC 8032) over the canonical JSON of the first nine members. */
export const signatureSchema = z.strictObject({
  campaign: z.string(),
  revision: z.int().min(1).meta({ description: "of the campaign, the one that was signed" }),
  input: z.string().meta({ description: "digest of the campaign" }),
  evaluation: z.string().meta({ description: "digest of the evaluation" }),
  head: z.string().meta({ description: "head of the archive's seal when it was signed" }),
  meaning: meaningSchema,
  who: z.string(),
  when: z.string(),
  reason: z.string().exactOptional(),
  signature: z.string().meta({ description: "in hexadecimal" }),
  publicKey: z.string().meta({ description: "in hexadecimal" }),
  seq: z.int().meta({ description: "the revision that holds the signature" }),
  isCurrent: z.boolean().meta({ description: "whether the campaign still is what was signed" }),
});

const digestSchema = z.string().regex(/^sha256:[0-9a-f]{64}$/, "must be sha256: and 64 hexadecimal digits");

/** What the measurer signs: the revision and the evaluation that are on the screen, proven by the passphrase. */
export const signRequestSchema = z.strictObject({
  after: z.int().min(1),
  digest: digestSchema,
  passphrase: z.string().min(1, "must not be empty").max(1000),
  meaning: z.literal("measured"),
});

/** A reading typed a second time, from paper. */
const enteredCellSchema = z.strictObject({
  table: z.string(),
  reading: z.string(),
  column: z.string(),
  text: z.string().max(20_000),
});

/** What the reviewer says. Giving back needs a reason; agreeing needs the readings of the sample. */
export const reviewRequestSchema = z
  .strictObject({
    after: z.int().min(1),
    digest: digestSchema,
    passphrase: z.string().min(1, "must not be empty").max(1000),
    verdict: z.enum(["agrees", "returned"]),
    reason: z.string().max(2000).exactOptional(),
    entered: z.array(enteredCellSchema).max(100_000),
  })
  .refine(({ verdict, reason }) => verdict === "agrees" || (reason ?? "").trim() !== "", {
    path: ["reason"],
    message: "must say why the campaign is returned",
  });

/** The readings that a reviewer is to type from paper: their names alone. */
export const reviewSampleSchema = z.strictObject({
  readings: z.array(z.strictObject({ table: z.string(), reading: z.string(), columns: z.array(z.string()) })),
});

/** A signature under a campaign. */
export type Signature = z.infer<typeof signatureSchema>;
/** The readings that a reviewer is to type from paper. */
export type ReviewSample = z.infer<typeof reviewSampleSchema>;
