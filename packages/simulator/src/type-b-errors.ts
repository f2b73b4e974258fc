import type { PerChannel } from "./fibre.ts";
import type { Laboratory } from "./laboratory.ts";
import { RandomStream } from "./random-stream.ts";

/**
 * What nobody in the laboratory knows: the errors behind the stated uncertainties, drawn once a campaign, all normal but
 * for the blur of the edges, which lies anywhere between two bounds. Of constants that are taken from elsewhere the *true*
 * value is drawn about the stated one; of what is measured the *stated* value is drawn about the true one.
 */
export interface TypeBErrors {
  /** True α, common to the campaign. */
  readonly temperatureCoefficient_perK: number;
  /** True k_other, common to all fields but the reference. */
  readonly outputCorrection: number;
  /** True Ω_int. */
  readonly intermediateLink: number;
  /** Stated dose of the calibration over the true one; common to the table. */
  readonly calibrationDose: number;
  /** True blur of a field's edge, between the stated one ± √3·u. */
  readonly penumbraSigma_mm: number;
  /** True temperature during a series in which nobody reads it. */
  temperature_C(series: string): number;
  /** True dose of a condition of the separation over its group's. */
  doseEquality(condition: string): number;
  /** Stated dose of a group over the true one. */
  groupDose(group: string): number;
  /** Stated width of a field less the true one, along x and y. */
  fieldWidth_mm(condition: string): PerChannel;
  /** Where the detector stands, off the field's centre along x and y, while nothing is moved. */
  displacement_mm(setup: number): PerChannel;
  /** True loss by averaging over that of the profile. */
  averaging(condition: string): number;
}

/** Draws the errors of a campaign; each has its own stream, so that none depends on what else is drawn. */
export function drawTypeB({ beam, fibre, physicist, effects }: Laboratory, seed: number): TypeBErrors {
  const { stated, referenceTemperature_C } = physicist;
  const normals = (name: string): PerChannel => {
    if (!effects.typeB) return [0, 0];
    const random = new RandomStream(seed, "type-b", name);
    return [random.normal(), random.normal()];
  };
  const normal = (name: string) => normals(name)[0];
  const about = (value: number, u: number, name: string) => value + u * normal(name);
  return {
    temperatureCoefficient_perK: about(
      fibre.temperatureCoefficient_perK,
      stated.temperatureCoefficient_u_perK,
      "temperature coefficient",
    ),
    outputCorrection: about(1, stated.outputCorrection_u, "output correction"),
    intermediateLink: about(stated.intermediateLink.value, stated.intermediateLink.u, "intermediate link"),
    calibrationDose: about(1, stated.calibrationDose_u_percent / 100, "calibration dose"),
    penumbraSigma_mm:
      beam.edgeSigma_mm + (effects.typeB ? blurError(beam.edgeSigma_mm, stated.penumbraSigma_u_mm, seed) : 0),
    temperature_C: (series) => about(referenceTemperature_C, stated.temperature_u_C, `temperature/${series}`),
    doseEquality: (condition) => about(1, stated.doseEquality_u_percent / 100, `dose equality/${condition}`),
    groupDose: (group) => about(1, stated.groupDose_u_percent / 100, `group dose/${group}`),
    fieldWidth_mm: (condition) => {
      const [x, y] = normals(`field width/${condition}`);
      return [stated.fieldWidth_u_mm * x, stated.fieldWidth_u_mm * y];
    },
    displacement_mm: (setup) => {
      if (!effects.misplacement) return [0, 0];
      const [x, y] = normals(`displacement/${setup}`);
      return [stated.positioning_u_mm * x, stated.positioning_u_mm * y];
    },
    averaging: (condition) => about(1, effects.averagingModel_u, `averaging/${condition}`),
  };
}

/** @throws RangeError where the bounds would reach nothing. */
function blurError(value: number, u: number, seed: number): number {
  if (u > value / 2)
    throw new RangeError(`a blur of ${value} mm cannot be stated with u = ${u} mm: half of it at the most`);
  return Math.sqrt(3) * u * (2 * new RandomStream(seed, "type-b", "penumbra").uniform() - 1);
}
