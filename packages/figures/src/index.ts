export { type BudgetBars, type BudgetPart, budgetBars } from "./budget-bars.ts";
export type { PlaneCovariance } from "./ellipse.ts";
export {
  conditionGeometry,
  type DrawnVolume,
  type FieldGeometry,
  type FieldOutline,
  fieldGeometry,
  type GeometryCondition,
} from "./field-geometry.ts";
export type { DrawingElement, Figure } from "./figure.ts";
export type { Interval } from "./interval.ts";
export { type OutputFactorCurve, type OutputPoint, type OutputSet, outputFactorCurve } from "./output-factor-curve.ts";
export { type ReadingsInTime, readingsInTime, type TimedReading } from "./readings-in-time.ts";
export { type ReferenceDrift, type ReferenceMoment, referenceDrift } from "./reference-drift.ts";
export { ROLES, type Role } from "./role.ts";
export {
  type PlaneLine,
  type PlanePoint,
  type PlaneStanding,
  type SeparationPlane,
  separationPlane,
} from "./separation-plane.ts";
export { type LoadRow, type StemLoads, stemLoads } from "./stem-loads.ts";
export { type SvgOptions, svgText } from "./svg-text.ts";
export { COLOURS, THEMES, type Theme } from "./theme.ts";
