import { covarianceOf } from "@alcedo-dosimetry/metrology";
import type { Evaluation } from "./evaluate.ts";

/**
 * The covariance matrix of reported quantities, ids × ids, each element in the product of the two units; undefined where
 * one of them does not exist or has no model behind it (a χ²).
 */
export function quantityCovariance(
  { model, nodes }: Evaluation,
  ids: readonly string[],
): readonly (readonly number[])[] | undefined {
  const found = ids.map((id) => nodes.get(id)).filter((node) => node !== undefined);
  if (!model || found.length < ids.length) return undefined;
  const covariance = covarianceOf(model, found);
  return ids.map((_, i) => [...covariance.subarray(i * ids.length, (i + 1) * ids.length)]);
}
