import { plainShot, type Shot } from "../shot.ts";
import type { TypeBErrors } from "../type-b-errors.ts";

/** A shot of the reference field at which all is well. */
export function referenceShot(change: Partial<Shot> = {}): Shot {
  const aperture = { shape: "rectangle", x_mm: 100, y_mm: 100 } as const;
  const what = { series: "output-factors", condition: "100x100", number: 0, setup: 0, time_s: 0 } as const;
  return {
    ...plainShot({ ...what, duration_s: 30, mu: 200, field: { name: "100x100", aperture, fibre_mm: 50 } }),
    ...change,
  };
}

/** Errors of nothing at all. */
export function noErrors(change: Partial<TypeBErrors> = {}): TypeBErrors {
  return {
    temperatureCoefficient_perK: -0.0009,
    outputCorrection: 1,
    intermediateLink: 1,
    calibrationDose: 1,
    penumbraSigma_mm: 1.5,
    temperature_C: () => 22,
    doseEquality: () => 1,
    groupDose: () => 1,
    fieldWidth_mm: () => [0, 0],
    displacement_mm: () => [0, 0],
    averaging: () => 1,
    ...change,
  };
}
