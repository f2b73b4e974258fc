import { type Aperture, sideOfEqualArea } from "./aperture.ts";
import { boxUnderGaussian } from "./lateral-profile.ts";

/** A linac's beam at the detector's depth. All constants are invented; relative quantities are fractions. */
export interface Beam {
  readonly id: string;
  readonly energy_MV: number;
  readonly flatteningFilter: boolean;
  readonly ssd_mm: number;
  readonly depth_mm: number;
  /** Dose per monitor unit at the centre of the square field of `referenceSide_mm`. */
  readonly dosePerMU_Gy: number;
  readonly referenceSide_mm: number;
  /** Scatter: the dose grows as 1 + amount·S/(S + side_mm) with the field's side S. */
  readonly scatter: { readonly amount: number; readonly side_mm: number };
  /** Gaussian blur, as seen from the field's centre, of source and electron range: it takes dose from the smallest fields. */
  readonly occlusionSigma_mm: number;
  /** Gaussian blur of the field's edge. */
  readonly edgeSigma_mm: number;
  /** Radius over which an unflattened beam falls to 1/√2; absent in a flat one. */
  readonly peakRadius_mm?: number;
  /** Relative change of dose per mm of depth. */
  readonly depthGradient_perMm: number;
  /** Relative standard deviation of a pulse. */
  readonly pulseSpread: number;
  readonly pulsesPerMU: number;
  /** Linear change of the output. */
  readonly drift_perHour: number;
  /** Random walk of the output: standard deviation after one hour. */
  readonly walk_perRootHour: number;
}

/** True field output factor of an opening: dose per MU at its centre, at a point, over that of the reference square. */
export function outputFactor(beam: Beam, aperture: Aperture): number {
  return output(beam, sideOfEqualArea(aperture)) / output(beam, beam.referenceSide_mm);
}

function output({ scatter, occlusionSigma_mm }: Beam, side: number): number {
  const seen = boxUnderGaussian(0, side / 2, occlusionSigma_mm);
  return seen * seen * (1 + (scatter.amount * side) / (side + scatter.side_mm));
}
