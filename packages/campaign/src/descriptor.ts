import * as z from "zod";
import { RANGES, type Range, rangeInWords } from "./range.ts";

/** The kinds of series that a campaign may hold; `characterisation` is a JSON file, the others are tables. */
export const SERIES_KINDS = [
  "background",
  "separation",
  "calibration",
  "output-factors",
  "output-corrections",
  "reference-set",
  "characterisation",
] as const;

/** A kind of series. */
export type SeriesKind = (typeof SERIES_KINDS)[number];

const text = z.string().min(1, "must not be empty");
/** Names of packages and resources, as the Data Package standard recommends: usable in addresses and file names. */
const packageName = z
  .string()
  .regex(
    /^[a-z0-9][a-z0-9._-]*$/,
    "must consist of a-z, 0-9, point, underscore and hyphen, and begin with a letter or digit",
  )
  .max(100, "must have at most 100 characters");

function quantity(range: Range) {
  const words = `must lie ${rangeInWords(range)}`;
  return (range.above ? z.number().gt(range.min, words) : z.number().gte(range.min, words)).lte(range.max, words);
}

function uncertain(value: Range, u: Range) {
  return z.strictObject({ value: quantity(value), u: quantity(u) });
}

/** The detector's channels, in the order of signals. Names that do not fit are changed with a notice, not refused. */
const channelsSchema = z.array(text).min(2, "must name at least two channels");

const detectorSchema = z.strictObject({
  id: text,
  channels: channelsSchema,
  signalUnit: text,
  reader: text.exactOptional(),
  gain: text.exactOptional(),
  activeVolume: z
    .strictObject({ diameter_mm: quantity(RANGES.activeVolume_mm), length_mm: quantity(RANGES.activeVolume_mm) })
    .exactOptional(),
  axis: z.enum(["along-beam", "across-beam"]).exactOptional(),
  temperatureCoefficient_perK: uncertain(
    RANGES.temperatureCoefficient_perK,
    RANGES.temperatureCoefficient_u_perK,
  ).exactOptional(),
  accumulatedDose_Gy: quantity(RANGES.accumulatedDose_Gy).exactOptional(),
});

const beamSchema = z.strictObject({
  id: text,
  modality: z.enum(["photon", "electron"]),
  energy_MV: quantity(RANGES.energy_MV).exactOptional(),
  energy_MeV: quantity(RANGES.energy_MeV).exactOptional(),
  flatteningFilter: z.boolean().exactOptional(),
  ssd_mm: quantity(RANGES.ssd_mm).exactOptional(),
  depth_mm: quantity(RANGES.depth_mm).exactOptional(),
  magneticField_T: quantity(RANGES.magneticField_T).exactOptional(),
  magneticField_orientation: text.exactOptional(),
});

const assumptionsSchema = z.strictObject({
  doseEquality_u_percent: quantity(RANGES.uncertainty_percent).exactOptional(),
  positioning_u_mm: quantity(RANGES.length_u_mm).exactOptional(),
  fieldWidth_u_mm: quantity(RANGES.length_u_mm).exactOptional(),
  penumbraSigma_mm: uncertain(RANGES.sigma_mm, RANGES.sigma_u_mm).exactOptional(),
  referenceTemperature_C: quantity(RANGES.temperature_C).exactOptional(),
  temperature_u_C: quantity(RANGES.temperature_u_C).exactOptional(),
  outputCorrection: uncertain(RANGES.outputCorrection, RANGES.factor_u).exactOptional(),
  intermediateLink: uncertain(RANGES.intermediateLink, RANGES.factor_u).exactOptional(),
});

const criteriaSchema = z.strictObject({
  separationResidual_percent: quantity(RANGES.criterion_percent).exactOptional(),
  characterisationAge_days: quantity(RANGES.age_days).exactOptional(),
  characterisationDose_Gy: quantity(RANGES.accumulatedDose_Gy).exactOptional(),
});

const alcedoSchema = z.strictObject({
  version: z.literal(1, "must be 1"),
  detector: detectorSchema,
  beam: beamSchema,
  assumptions: assumptionsSchema.exactOptional(),
  criteria: criteriaSchema.exactOptional(),
});

const records = z.array(z.looseObject({}));

/** Keys that the Data Package standard gives to packages and to resources alike; kept, not evaluated. */
const described = {
  $schema: z.string().exactOptional(),
  profile: z.string().exactOptional(),
  id: z.string().exactOptional(),
  title: z.string().exactOptional(),
  description: z.string().exactOptional(),
  homepage: z.string().exactOptional(),
  sources: records.exactOptional(),
  licenses: records.exactOptional(),
};

const fieldSchema = z.looseObject({
  name: text,
  decimalChar: z.enum([".", ","]).exactOptional(),
});

/** Of the standard's table dialect, what this version reads: the delimiter, and the rest at its default. */
const dialectSchema = z.strictObject({
  $schema: z.string().exactOptional(),
  delimiter: z.enum([",", ";", "\t"]).exactOptional(),
  lineTerminator: z.enum(["\r\n", "\n", "\r"]).exactOptional(),
  quoteChar: z.literal('"').exactOptional(),
  doubleQuote: z.literal(true).exactOptional(),
  header: z.literal(true).exactOptional(),
});

/** One resource: a table of the campaign, or its characterisation. */
export const resourceSchema = z.strictObject({
  ...described,
  name: packageName,
  path: text,
  type: z.enum(["table", "json"]).exactOptional(),
  format: z.string().exactOptional(),
  mediatype: z.string().exactOptional(),
  encoding: z
    .string()
    .regex(/^utf-?8$/i, "must be utf-8")
    .exactOptional(),
  bytes: z.number().int().gte(0, "must not be negative").exactOptional(),
  hash: z.string().exactOptional(),
  dialect: dialectSchema.exactOptional(),
  schema: z.looseObject({ fields: z.array(fieldSchema).exactOptional() }).exactOptional(),
  alcedo: z.strictObject({ series: z.enum(SERIES_KINDS) }),
});

/** `datapackage.json`: strict under `alcedo`; around it the keys of the Data Package standard and no others. */
export const descriptorSchema = z.strictObject({
  ...described,
  name: packageName,
  version: z.string().exactOptional(),
  created: z.string().exactOptional(),
  image: z.string().exactOptional(),
  keywords: z.array(z.string()).exactOptional(),
  contributors: records.exactOptional(),
  alcedo: alcedoSchema,
  resources: z.array(resourceSchema).min(1, "must list at least one table"),
});

/** One resource as typed. */
export type Resource = z.infer<typeof resourceSchema>;

/** The content of `datapackage.json` as typed, with no defaults filled in. */
export type Descriptor = z.infer<typeof descriptorSchema>;
