/** What is said beside a key in the sheet `campaign`: its meaning, in the order in which keys are written. */
export const KEY_MEANINGS: readonly (readonly [key: string, meaning: string])[] = [
  ["name", "name of the campaign: a-z, 0-9, point, underscore, hyphen"],
  ["title", "title, as results show it"],
  ["description", "what was measured and why"],
  ["keywords", "words divided by commas; example, invented or simulated mark data that were not measured"],
  ["alcedo.version", "version of this format: 1"],
  ["detector.id", "which fibre"],
  ["detector.channels", "names of the channels, divided by commas; the one rich in scintillation first"],
  ["detector.signalUnit", "unit of the signal columns"],
  ["detector.reader", "which reader, if several are in use"],
  ["detector.gain", "gain or range setting of the reader"],
  ["detector.activeVolume.diameter_mm", "diameter of the scintillating tip"],
  ["detector.activeVolume.length_mm", "length of the scintillating tip"],
  ["detector.axis", "the tip's axis against the beam's: along-beam or across-beam"],
  ["detector.temperatureCoefficient_perK.value", "relative change of the scintillation per kelvin"],
  ["detector.temperatureCoefficient_perK.u", "its standard uncertainty"],
  ["detector.accumulatedDose_Gy", "dose that the fibre has had in its life"],
  ["beam.id", "which beam"],
  ["beam.modality", "photon or electron"],
  ["beam.energy_MV", "nominal accelerating potential, of photon beams"],
  ["beam.energy_MeV", "nominal energy, of electron beams"],
  ["beam.flatteningFilter", "TRUE or FALSE"],
  ["beam.ssd_mm", "distance from source to surface"],
  ["beam.depth_mm", "depth of the active volume"],
  ["beam.magneticField_T", "magnetic flux density at the detector"],
  ["beam.magneticField_orientation", "direction of the field against beam and fibre"],
  [
    "assumptions.doseEquality_u_percent",
    "how well the conditions of one dose group got the same dose: standard uncertainty",
  ],
  ["assumptions.positioning_u_mm", "standard uncertainty of the detector's centre, each lateral axis"],
  ["assumptions.fieldWidth_u_mm", "standard uncertainty of a field width"],
  ["assumptions.penumbraSigma_mm.value", "Gaussian blur of a field's edge"],
  ["assumptions.penumbraSigma_mm.u", "its standard uncertainty"],
  ["assumptions.referenceTemperature_C", "temperature that readings are corrected to"],
  ["assumptions.temperature_u_C", "standard uncertainty where no temperature was taken"],
  ["assumptions.outputCorrection.value", "output correction factor, all fields alike"],
  ["assumptions.outputCorrection.u", "its standard uncertainty"],
  ["assumptions.intermediateLink.value", "link from an intermediate reference field to the machine-specific one"],
  ["assumptions.intermediateLink.u", "its standard uncertainty"],
  ["criteria.separationResidual_percent", "largest residual of a verification that passes"],
];

const UNITS: Readonly<Record<string, string>> = {
  mm: "mm",
  Gy: "Gy",
  MV: "MV",
  MeV: "MeV",
  T: "T",
  C: "°C",
  percent: "%",
  perK: "per K",
};

/** The unit that a key has in its name, or that of the value or uncertainty beneath it. */
export function keyUnit(key: string): string | undefined {
  const parts = key.split(".");
  const last = parts.at(-1)!;
  const named = last === "value" || last === "u" ? parts.at(-2)! : last;
  const end = named.slice(named.lastIndexOf("_") + 1);
  return named.includes("_") && Object.hasOwn(UNITS, end) ? UNITS[end] : undefined;
}
