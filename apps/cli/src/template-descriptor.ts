import { ASSUMPTION_DEFAULTS, type Descriptor, fittingName } from "@alcedo-dosimetry/campaign";
import { type TemplateOptions, templateSeries } from "./template-tables.ts";

/** What a new campaign is called, and whose it is. */
export interface TemplateNames extends TemplateOptions {
  /** The folder's own name, from which the campaign's is made. */
  readonly folder: string;
  readonly title: string;
  readonly fibre: string;
}

/** Longest name of a data package. */
const LONGEST = 100;

/** `datapackage.json` of a new campaign: every assumption stated at its default, so that it is seen and can be changed. */
export function templateDescriptor(names: TemplateNames): Descriptor {
  const stated = <K extends keyof typeof ASSUMPTION_DEFAULTS>(key: K) => ASSUMPTION_DEFAULTS[key].value;
  return {
    $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
    name: fittingName(names.folder).slice(0, LONGEST) || "campaign",
    title: names.example ? `${names.title} (example readings: replace them)` : names.title,
    ...(names.example && { keywords: ["example", "invented"] }),
    alcedo: {
      version: 1,
      detector: {
        id: names.fibre,
        channels: [...names.channels],
        signalUnit: "nC",
        activeVolume: { diameter_mm: 1, length_mm: 1 },
        axis: "along-beam",
        temperatureCoefficient_perK: { ...stated("temperatureCoefficient_perK") },
      },
      beam: { id: "beam-1", modality: "photon", energy_MV: 6, flatteningFilter: true, ssd_mm: 900, depth_mm: 100 },
      assumptions: {
        doseEquality_u_percent: stated("doseEquality_u_percent"),
        positioning_u_mm: stated("positioning_u_mm"),
        fieldWidth_u_mm: stated("fieldWidth_u_mm"),
        penumbraSigma_mm: { ...stated("penumbraSigma_mm") },
        referenceTemperature_C: stated("referenceTemperature_C"),
        temperature_u_C: stated("temperature_u_C"),
        outputCorrection: { ...stated("outputCorrection") },
        intermediateLink: { ...stated("intermediateLink") },
      },
      criteria: { separationResidual_percent: stated("separationResidual_percent") },
    },
    resources: templateSeries(names).map(({ series }) => ({
      name: series,
      path: `${series}.csv`,
      alcedo: { series },
    })),
  };
}
