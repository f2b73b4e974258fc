import type { Aperture } from "./aperture.ts";
import type { Laboratory } from "./laboratory.ts";
import type { PlannedField } from "./physicist.ts";

const REFERENCE: PlannedField = { name: "100x100", aperture: square(100), fibre_mm: 50 };

/**
 * One evening with a two-channel fibre of 1 mm × 1 mm along a 6 MV beam, with a monitor, five readings of each condition
 * and the reference read again after every third field. Invented throughout; light per dose and per length of fibre is
 * that of the synthetic set A of `docs/job.md`: 50 mm of fibre and 1 Gy give 6.5 and 3.5 nC.
 */
export function standardLaboratory(): Laboratory {
  return {
    name: "simulated-small-fields",
    beam: {
      id: "VB-6",
      energy_MV: 6,
      flatteningFilter: true,
      ssd_mm: 900,
      depth_mm: 100,
      dosePerMU_Gy: 0.008,
      referenceSide_mm: 100,
      scatter: { amount: 0.99, side_mm: 47 },
      occlusionSigma_mm: 1.3,
      edgeSigma_mm: 1.5,
      depthGradient_perMm: -0.0045,
      pulseSpread: 0.05,
      pulsesPerMU: 8,
      drift_perHour: 0,
      walk_perRootHour: 0,
    },
    fibre: {
      id: "VF-1",
      channels: ["blue", "green"],
      diameter_mm: 1,
      length_mm: 1,
      axis: "along-beam",
      scintillation_perGy: 5,
      crosstalk: 0.3,
      stem_perGyMm: [0.03, 0.04],
      fluorescence_perGyMm: [0, 0],
      capture: { height: 3, peak_deg: 45, width_deg: 15 },
      attenuation_perM: [0, 0],
      temperatureCoefficient_perK: -0.0009,
      yellowing_perKGy: [0, 0],
      accumulatedDose_Gy: 410,
    },
    reader: {
      id: "VR-1",
      gain: [1, 1],
      darkRate_perS: [0.0012, 0.00064],
      darkDrift_perHour: [0.01, 0.01],
      noise: { constant_nC: 0.0003, proportional: 0.0002, perRootSecond_nC: 0.00005 },
      saturation: [undefined, undefined],
      decimals: 4,
    },
    monitor: { readingPerMU: 0.0617, noise: 0.0003, shading: 0, shadingSide_mm: 15, decimals: 4 },
    room: { temperature_C: 21.8, spread_C: 0.5, drift_perHour: 0.1 },
    physicist: {
      start: { year: 2026, month: 3, day: 12, hour: 20 },
      utcOffset: "+01:00",
      plan: {
        background: { before: 5, after: 5, duration_s: 30 },
        repeats: 5,
        mu: 200,
        duration_s: 30,
        interval_s: 48,
        setup_s: 240,
        separation: [
          { name: "short", aperture: square(100), fibre_mm: 50, doseGroup: "100x100", role: "fit" },
          { name: "long", aperture: square(100), fibre_mm: 400, doseGroup: "100x100", role: "fit" },
          { name: "half", aperture: square(100), fibre_mm: 200, doseGroup: "100x100", role: "verify" },
          { name: "longest", aperture: square(100), fibre_mm: 600, doseGroup: "100x100", role: "verify" },
        ],
        calibration: { ...REFERENCE, name: "reference", dose: "each-reading" },
        outputFactors: {
          reference: REFERENCE,
          fields: [
            { name: "60x60", aperture: square(60), fibre_mm: 40 },
            { name: "30x30", aperture: square(30), fibre_mm: 25 },
            { name: "20x16", aperture: { shape: "rectangle", x_mm: 20, y_mm: 16 }, fibre_mm: 20 },
            { name: "10x10", aperture: square(10), fibre_mm: 15 },
            { name: "cone-7.5", aperture: { shape: "circle", diameter_mm: 7.5 }, fibre_mm: 14 },
            { name: "cone-5", aperture: { shape: "circle", diameter_mm: 5 }, fibre_mm: 12.5 },
          ],
          referenceEvery: 3,
        },
      },
      stated: {
        doseEquality_u_percent: 0.1,
        groupDose_u_percent: 0.5,
        calibrationDose_u_percent: 0.7,
        positioning_u_mm: 0.1,
        fieldWidth_u_mm: 0.1,
        penumbraSigma_u_mm: 0.29,
        outputCorrection_u: 0.005,
        intermediateLink: { value: 1, u: 0 },
        temperatureCoefficient_u_perK: 0.0003,
        temperature_u_C: 1,
      },
      writes: { time: true, mu: true, temperature: true },
      decimals: { temperature: 1, dose: 4, width: 2 },
      readsMonitorIn: ["separation", "calibration", "output-factors"],
      chamberNoise: 0.0003,
      referenceTemperature_C: 22,
    },
    effects: { noise: true, typeB: true, volumeAveraging: true, averagingModel_u: 0.25, misplacement: true },
    mistakes: [],
  };
}

function square(side_mm: number): Aperture {
  return { shape: "rectangle", x_mm: side_mm, y_mm: side_mm };
}
