import type { BudgetBars } from "../budget-bars.ts";
import type { FieldGeometry } from "../field-geometry.ts";
import type { OutputFactorCurve } from "../output-factor-curve.ts";
import type { ReadingsInTime } from "../readings-in-time.ts";
import type { ReferenceDrift } from "../reference-drift.ts";
import type { SeparationPlane } from "../separation-plane.ts";
import type { StemLoads } from "../stem-loads.ts";

/** Specifications with invented figures: one of each picture, as it usually looks. */

const covariance = (x: number, y: number) => ({ xx: (2e-4 * x) ** 2, xy: 0.9 * 4e-8 * x * y, yy: (2e-4 * y) ** 2 });

/** Two channels with two fit conditions and one kept aside. */
export const PLANE: SeparationPlane = {
  id: "separation",
  title: "Separation of blue and green",
  channels: ["blue", "green"],
  unit: "nC",
  stemRatio: { value: 0.75, U: 0.0021 },
  points: [
    {
      name: "short",
      standing: "fit",
      x: 3.5,
      y: 6.5,
      covariance: covariance(3.5, 6.5),
      residual: { value: 0, U: 0 },
      fibre_mm: 50,
    },
    {
      name: "long",
      standing: "fit",
      x: 17.5,
      y: 17,
      covariance: covariance(17.5, 17),
      residual: { value: 0, U: 0 },
      fibre_mm: 400,
    },
    {
      name: "half",
      standing: "passed",
      x: 9.5,
      y: 11.01,
      covariance: covariance(9.5, 11),
      residual: { value: 0.0013, U: 0.0025 },
      fibre_mm: 200,
    },
    {
      name: "turned",
      standing: "failed",
      x: 25.5,
      y: 22.8,
      covariance: covariance(25.5, 22.8),
      residual: { value: -0.0519, U: 0.004 },
    },
    {
      name: "doubtful",
      standing: "inconclusive",
      x: 13,
      y: 13.6,
      covariance: covariance(13, 13.6),
      residual: { value: -0.003, U: 0.012 },
    },
  ],
  lines: [
    {
      intercept: 3.875,
      slope: 0.75,
      band: Array.from({ length: 11 }, (_, k) => ({ x: 2.7 * k, halfWidth: 0.004 + 0.0004 * Math.abs(k - 4) })),
    },
  ],
  criterion: 0.005,
};

/** Stem loads on either side of a verified range. */
export const LOADS: StemLoads = {
  id: "stem-load",
  title: "Stem load of every reading",
  quantity: "stem load, green over corrected signal",
  rows: [
    {
      series: "Separation",
      name: "short",
      mean: 0.903,
      readings: [
        { name: "s1", load: 0.9031 },
        { name: "s2", load: 0.9029 },
      ],
    },
    {
      series: "Output factors",
      name: "10x10",
      mean: 0.44,
      readings: [
        { name: "r1", load: 0.44 },
        { name: "r2", load: 0.5, leftOut: "door opened" },
      ],
    },
    { series: "Output factors", name: "400x400", mean: 7.2, readings: [{ name: "r3", load: 7.2 }] },
  ],
  verified: { load: 6.58, by: "turned" },
};

/** Output factors with a reference set. */
export const CURVE: OutputFactorCurve = {
  id: "output-factors",
  title: "Field output factors",
  points: [
    {
      name: "30x30",
      shape: "rectangle",
      equivalentSquare_mm: { value: 30, U: 0.2 },
      outputFactor: { value: 0.878, U: 0.0086 },
    },
    {
      name: "10x10",
      shape: "rectangle",
      equivalentSquare_mm: { value: 10, U: 0.2 },
      outputFactor: { value: 0.7014, U: 0.0069 },
    },
    {
      name: "cone-5",
      shape: "circle",
      equivalentSquare_mm: { value: 4.48, U: 0.2 },
      outputFactor: { value: 0.4957, U: 0.0063 },
    },
  ],
  sets: [
    {
      source: "plan, table 7",
      values: [
        { name: "4 mm", equivalentSquare_mm: 4, value: { value: 0.47, U: 0.01 } },
        { name: "40 mm", equivalentSquare_mm: 40, value: { value: 0.9, U: 0.01 } },
      ],
      differences: [
        { name: "10x10", equivalentSquare_mm: 10, difference: { value: 0.004, U: 0.011 }, agrees: true },
        { name: "cone-5", equivalentSquare_mm: 4.48, difference: { value: -0.03, U: 0.014 }, agrees: false },
      ],
    },
  ],
};

/** A reference that moves between visits. */
export const DRIFT: ReferenceDrift = {
  id: "reference-drift",
  title: "The reference field over the series",
  timed: true,
  visits: [
    { name: "100x100/1", at: 0, move: { value: 0, U: 0 } },
    { name: "100x100/2", at: 44, move: { value: 0.00013, U: 0.00067 } },
    { name: "100x100/3", at: 80.7, move: { value: -0.00038, U: 0.00067 } },
  ],
  fields: [
    { name: "60x60", at: 8, move: { value: 0.00002, U: 0.0002 } },
    { name: "cone-5", at: 73, move: { value: -0.0003, U: 0.0006 } },
  ],
  largest: { value: 0.00052, U: 0.00066 },
};

/** A budget with one large and several small parts. */
export const BUDGET: BudgetBars = {
  id: "budget.output-factor.cone-5",
  title: "Uncertainty of the field output factor of cone-5",
  result: { value: 0.4957, U: 0.0063 },
  unit: "",
  u: 0.0032,
  parts: [
    { name: "other output corrections", type: "B", share: 0.6, contribution: 0.0025 },
    { name: "scatter of net signal, blue", type: "A", share: 0.45, contribution: 0.0021 },
    { name: "scatter of net signal, green", type: "A", share: -0.05, contribution: 0.0007 },
    { name: "last digit, blue", type: "B", share: 0.0004, contribution: 0.00002 },
    { name: "last digit, green", type: "B", share: -0.0004, contribution: 0.00002 },
  ],
};

/** A field with the fibre across it. */
export const GEOMETRY: FieldGeometry = {
  id: "geometry.separation",
  title: "What was set up for the separation",
  conditions: [
    {
      name: "long",
      nominal: { shape: "rectangle", x_mm: 100, y_mm: 100 },
      measured: { shape: "rectangle", x_mm: 100.3, y_mm: 100.2 },
      fibre_mm: 400,
    },
    {
      name: "cone-12",
      nominal: { shape: "circle", x_mm: 12, y_mm: 12 },
      measured: { shape: "circle", x_mm: 13.5, y_mm: 13.1 },
      offset_mm: [0.3, -0.2],
    },
    { name: "too-much", nominal: { shape: "rectangle", x_mm: 5, y_mm: 5 }, fibre_mm: 400 },
    { name: "no-field", fibre_mm: 80 },
  ],
  volume: { diameter_mm: 1, length_mm: 2, axis: "across-beam" },
};

/** Readings of one condition, one of them left out. */
export const READINGS: ReadingsInTime = {
  id: "readings.output-factors.cone-7.5",
  title: "Readings of cone-7.5 (output factors)",
  timed: true,
  signals: [
    { name: "blue", role: "channel-1", mean: 4.9553, unit: "nC", spread: 0.00039 },
    { name: "green", role: "channel-2", mean: 1.601, unit: "nC", spread: 0.00085 },
    { name: "corrected", role: "ink", mean: 3.7545, unit: "nC", spread: 0.00036 },
  ],
  readings: [
    { name: "r046", at: 0, deviations: [0.0004, 0.0009, 0.0002] },
    { name: "r047", at: 0.8, deviations: [-0.0006, -0.0009, -0.0005] },
    { name: "r048", at: 1.6, deviations: [-0.0021, -0.26, 0.0017], leftOut: "interlock, beam stopped at 148 MU" },
    { name: "r049", at: 2.4, deviations: [0.0002, 0, 0.0003] },
  ],
};
