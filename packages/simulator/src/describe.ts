import type { Descriptor } from "@alcedo-dosimetry/campaign";
import type { Laboratory } from "./laboratory.ts";
import type { Sheet } from "./sheet.ts";

/** Side of a detector that is as good as a point. */
const POINT_MM = 1e-5;

/** `datapackage.json` of the campaign: everything that the physicist states, and that it is simulated. */
export function describe(
  { name, beam, fibre, reader, physicist, effects }: Laboratory,
  sheets: readonly Sheet[],
  seed: number,
): Descriptor {
  const { stated } = physicist;
  return {
    $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
    name,
    title: `Simulated campaign, seed ${seed}`,
    description: "Simulated: no such place, machine, fibre or measurement exists. Do not use any of these figures.",
    keywords: ["simulated"],
    alcedo: {
      version: 1,
      detector: {
        id: fibre.id,
        channels: [...fibre.channels],
        signalUnit: "nC",
        reader: reader.id,
        // the campaign states what the laboratory does: a point where nothing is averaged, certain where nothing is misplaced
        activeVolume: effects.volumeAveraging
          ? { diameter_mm: fibre.diameter_mm, length_mm: fibre.length_mm }
          : { diameter_mm: POINT_MM, length_mm: POINT_MM },
        axis: fibre.axis,
        temperatureCoefficient_perK: {
          value: fibre.temperatureCoefficient_perK,
          u: stated.temperatureCoefficient_u_perK,
        },
        accumulatedDose_Gy: fibre.accumulatedDose_Gy,
      },
      beam: {
        id: beam.id,
        modality: "photon",
        energy_MV: beam.energy_MV,
        flatteningFilter: beam.flatteningFilter,
        ssd_mm: beam.ssd_mm,
        depth_mm: beam.depth_mm,
        magneticField_T: 0,
      },
      assumptions: {
        doseEquality_u_percent: stated.doseEquality_u_percent,
        positioning_u_mm: effects.misplacement ? stated.positioning_u_mm : 0,
        fieldWidth_u_mm: stated.fieldWidth_u_mm,
        penumbraSigma_mm: { value: beam.edgeSigma_mm, u: stated.penumbraSigma_u_mm },
        referenceTemperature_C: physicist.referenceTemperature_C,
        temperature_u_C: stated.temperature_u_C,
        outputCorrection: { value: 1, u: stated.outputCorrection_u },
        intermediateLink: { ...stated.intermediateLink },
      },
      criteria: { separationResidual_percent: 0.5 },
    },
    resources: sheets.map(({ series }) => ({ name: series, path: `${series}.csv`, alcedo: { series } })),
  };
}
