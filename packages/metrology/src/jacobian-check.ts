/** Whether a model's derivatives are those of its values. */
import { norm } from "./triangular-form.ts";

/** A vector function of parameters with the derivatives claimed for it. */
export interface DifferentiatedModel {
  readonly values: (parameters: readonly number[]) => readonly number[];
  /** Values × parameters. */
  readonly jacobian: (parameters: readonly number[]) => readonly (readonly number[])[];
}

/**
 * Index of the first parameter whose derivatives disagree with central differences of the values, or null.
 *
 * The differences are taken at three widths, 1e-5 to 1e-9 of the change that would move the values by their own size; a
 * parameter passes if any of them agrees to 1e-3 of its column's norm. So neither curvature nor rounding raises a false
 * alarm, while a wrong derivative agrees at no width. A parameter without effect, or whose neighbourhood is not finite,
 * is passed over.
 */
export function jacobianDisagreement(model: DifferentiatedModel, parameters: readonly number[]): number | null {
  const rows = model.jacobian(parameters);
  const size = norm(model.values(parameters));
  const disagrees = (j: number): boolean => {
    const claimed = rows.map((row) => row[j]!);
    const sensitivity = norm(claimed);
    if (sensitivity === 0 || size === 0) return false;
    return [1e-5, 1e-7, 1e-9].every((fraction) => {
      const width = (fraction * size) / sensitivity;
      const above = parameters.map((value, k) => (k === j ? value + width : value));
      const below = parameters.map((value, k) => (k === j ? value - width : value));
      const apart = above[j]! - below[j]!;
      if (apart === 0) return false;
      const upper = model.values(above);
      const lower = model.values(below);
      if (!upper.every(Number.isFinite) || !lower.every(Number.isFinite)) return false;
      const misfit = norm(claimed.map((slope, i) => (upper[i]! - lower[i]!) / apart - slope));
      return misfit > 1e-3 * sensitivity;
    });
  };
  const found = parameters.findIndex((_, j) => disagrees(j));
  return found < 0 ? null : found;
}
