import * as z from "zod";
import { isDay } from "./iso-time.ts";
import { RANGES } from "./range.ts";

const text = z.string().min(1, "must not be empty");
const finite = z.number();
const within = ({ min, max, above }: { min: number; max: number; above?: true }, words: string) =>
  (above ? z.number().gt(min, words) : z.number().gte(min, words)).lte(max, words);

/** What a characterisation holds for: with any of this different the stem ratio is another. */
const identitySchema = z.strictObject({
  fibre: text,
  reader: text.exactOptional(),
  gain: text.exactOptional(),
  modality: z.enum(["photon", "electron"]),
  energy_MV: within(RANGES.energy_MV, "must be an energy in MV").exactOptional(),
  energy_MeV: within(RANGES.energy_MeV, "must be an energy in MeV").exactOptional(),
  flatteningFilter: z.boolean().exactOptional(),
  magneticField_T: within(RANGES.magneticField_T, "must be a flux density in T").exactOptional(),
  magneticField_orientation: text.exactOptional(),
});

/** `characterisation.json`: separation and calibration of one day, to be used on others. */
export const characterisationSchema = z.strictObject({
  $schema: z.string().exactOptional(),
  version: z.literal(1, "must be 1"),
  /** Name and digest of the campaign that it comes from, and the version of the program that evaluated it. */
  campaign: text,
  input: z.string().regex(/^sha256:[0-9a-f]{64}$/, "must be sha256: and 64 hexadecimal digits"),
  alcedo: text,
  /** The day of the readings behind it. */
  date: z.string().refine(isDay, "must be a day written YYYY-MM-DD"),
  accumulatedDose_Gy: within(RANGES.accumulatedDose_Gy, "must be a dose in Gy").exactOptional(),
  /** What the separation was worth on that day. */
  standing: z.enum(["sound", "untested"]),
  identity: identitySchema,
  channels: z.array(text).min(2, "must name at least two channels"),
  signalUnit: text,
  /** The stem ratio (or the weights of the second and further channels, in their order), then the coefficient if known. */
  quantities: z
    .array(z.strictObject({ id: text, unit: text, value: finite }))
    .min(1, "must hold the stem ratio or the weights"),
  /** One row and one column for each quantity, in their order and units. */
  covariance: z.array(z.array(finite)),
  /** Effective degrees of freedom of the least known quantity; null for many. */
  dof: z.number().gt(0, "must be above 0").nullable(),
  /** Keys of the inputs behind the quantities. */
  inputs: z.array(text),
  /** Highest stem load at which the separation was verified; null where it was not. */
  verifiedStemLoad: z.number().gt(0, "must be above 0").nullable(),
});

/** Separation and calibration of one day, to be used on others. */
export type Characterisation = z.infer<typeof characterisationSchema>;

/** What a characterisation holds for. */
export type Identity = Characterisation["identity"];
