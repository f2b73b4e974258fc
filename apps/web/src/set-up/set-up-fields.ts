import type { Descriptor } from "@alcedo-dosimetry/campaign";

/** One thing that a descriptor states about detector, beam or assumptions. */
export interface SetUpField {
  /** Where it stands in the descriptor. */
  readonly path: readonly string[];
  readonly label: string;
  readonly unit?: string;
  /** What it is and why it matters. */
  readonly hint?: string;
  readonly kind: "text" | "number" | "list" | "yes-no" | readonly string[];
}

/** Fields that belong together. */
export interface SetUpGroup {
  readonly title: string;
  readonly words: string;
  readonly fields: readonly SetUpField[];
}

const detector = (key: string, label: string, more: Omit<SetUpField, "path" | "label">): SetUpField => ({
  path: ["alcedo", "detector", ...key.split(".")],
  label,
  ...more,
});
const beam = (key: string, label: string, more: Omit<SetUpField, "path" | "label">): SetUpField => ({
  path: ["alcedo", "beam", key],
  label,
  ...more,
});
const assumed = (key: string, label: string, unit: string, hint: string): SetUpField => ({
  path: ["alcedo", "assumptions", ...key.split(".")],
  label,
  unit,
  hint,
  kind: "number",
});

/** What a campaign states about its detector. */
export const DETECTOR: SetUpGroup = {
  title: "Detector",
  words: "The fibre that was used. Its campaigns are found together under this name.",
  fields: [
    detector("id", "Fibre", { kind: "text", hint: "the name on the fibre, as F-0317" }),
    detector("channels", "Channels", {
      kind: "list",
      hint: "the light channels, the one with more scintillation light first: blue, green",
    }),
    detector("signalUnit", "Unit of the readings", { kind: "text", hint: "nC, pC, counts" }),
    detector("activeVolume.diameter_mm", "Active volume: diameter", {
      ...{ kind: "number", unit: "mm", hint: "of the scintillator at the tip; small fields are averaged over it" },
    }),
    detector("activeVolume.length_mm", "Active volume: length", { kind: "number", unit: "mm" }),
    detector("axis", "Its axis", { kind: ["along-beam", "across-beam"] }),
    detector("temperatureCoefficient_perK.value", "Temperature coefficient", {
      ...{ kind: "number", unit: "1/K", hint: "change of signal per kelvin: about −0.0009 for plastic scintillators" },
    }),
    detector("temperatureCoefficient_perK.u", "its standard uncertainty", { kind: "number", unit: "1/K" }),
    detector("accumulatedDose_Gy", "Dose taken so far", { kind: "number", unit: "Gy", hint: "plastic ages with dose" }),
  ],
};

/** What a campaign states about its beam. */
export const BEAM: SetUpGroup = {
  title: "Beam",
  words: "The beam and the geometry common to all readings.",
  fields: [
    beam("id", "Beam", { kind: "text", hint: "as the department calls it: B3-6FFF" }),
    beam("modality", "Kind", { kind: ["photon", "electron"] }),
    beam("energy_MV", "Nominal accelerating potential", { kind: "number", unit: "MV", hint: "photons" }),
    beam("energy_MeV", "Energy", { kind: "number", unit: "MeV", hint: "electrons" }),
    beam("flatteningFilter", "Flattening filter", { kind: "yes-no" }),
    beam("ssd_mm", "Source to surface", { kind: "number", unit: "mm" }),
    beam("depth_mm", "Depth of measurement", { kind: "number", unit: "mm" }),
    beam("magneticField_T", "Magnetic field", {
      kind: "number",
      unit: "T",
      hint: "0 but for machines with imaging by magnetic resonance",
    }),
  ],
};

/** What a campaign takes for granted. */
export const ASSUMPTIONS: SetUpGroup = {
  title: "Assumptions",
  words:
    "What the evaluation takes for granted. Each is a part of the uncertainty of the results; an empty field leaves it at its default.",
  fields: [
    assumed(
      "doseEquality_u_percent",
      "Equal dose in a dose group",
      "%",
      "standard uncertainty of the dose of one arrangement over its group's",
    ),
    assumed(
      "positioning_u_mm",
      "Centring",
      "mm",
      "standard uncertainty of the tip's place in the field, each direction",
    ),
    assumed("fieldWidth_u_mm", "Measured field width", "mm", "its standard uncertainty"),
    assumed("penumbraSigma_mm.value", "Blur of the field's edge", "mm", "Gaussian sigma where a field states none"),
    assumed("penumbraSigma_mm.u", "its standard uncertainty", "mm", ""),
    assumed("outputCorrection.value", "Output correction", "1", "of this class of detector, common to all fields"),
    assumed("outputCorrection.u", "its standard uncertainty", "1", ""),
    assumed(
      "intermediateLink.value",
      "Link through an intermediate field",
      "1",
      "1 where readings go straight to the reference field",
    ),
    assumed("intermediateLink.u", "its standard uncertainty", "1", ""),
    assumed("referenceTemperature_C", "Reference temperature", "°C", "to which signals are corrected"),
    assumed("temperature_u_C", "Measured temperature", "°C", "its standard uncertainty"),
    {
      path: ["alcedo", "criteria", "separationResidual_percent"],
      label: "Criterion of the separation",
      unit: "%",
      hint: "how far an arrangement kept aside may lie from its group",
      kind: "number",
    },
  ],
};

/** Everything, in the order in which it is asked. */
export const SET_UP: readonly SetUpGroup[] = [DETECTOR, BEAM, ASSUMPTIONS];

/** What a descriptor states there, as text; empty where it states nothing. */
export function fieldText(descriptor: Descriptor, { path, kind }: SetUpField): string {
  let value: unknown = descriptor;
  for (const key of path)
    value = typeof value === "object" && value !== null ? (value as Record<string, unknown>)[key] : undefined;
  if (value === undefined) return "";
  if (kind === "list" && Array.isArray(value)) return value.join(", ");
  if (kind === "yes-no") return value === true ? "yes" : "no";
  return typeof value === "string" || typeof value === "number" ? `${value}` : JSON.stringify(value);
}

/** A text that is no number where a number is wanted. */
export class FieldFault extends Error {
  override readonly name = "FieldFault";
}

/**
 * The descriptor with another text there; an empty one takes the key out, and what is then empty around it.
 *
 * @throws FieldFault for what is no number where one is wanted
 */
export function withField(descriptor: Descriptor, field: SetUpField, text: string): Descriptor {
  return put(descriptor, field.path, typedValue(field, text.trim())) as unknown as Descriptor;
}

function typedValue({ kind, label }: SetUpField, text: string): unknown {
  if (text === "") return undefined;
  if (kind === "list") return text.split(/[\s,;]+/).filter((part) => part !== "");
  if (kind === "yes-no") return text === "yes";
  if (kind !== "number") return text;
  const number = Number(text.replace(/^[−–]/, "-").replace(",", "."));
  if (!Number.isFinite(number))
    throw new FieldFault(`${label}: ${text} is no number. Write digits with a decimal point or comma.`);
  return number;
}

function put(
  into: Readonly<Record<string, unknown>>,
  [key, ...rest]: readonly string[],
  value: unknown,
): Record<string, unknown> {
  const inner = rest.length === 0 ? value : put((into[key!] ?? {}) as Record<string, unknown>, rest, value);
  const empty = inner === undefined || (rest.length > 0 && Object.keys(inner as object).length === 0);
  if (!empty) return { ...into, [key!]: inner };
  const { [key!]: _, ...others } = into;
  return others;
}
