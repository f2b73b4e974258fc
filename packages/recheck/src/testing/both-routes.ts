import { type Campaign, evaluate, interpret, resolveAssumptions } from "@alcedo-dosimetry/campaign";
import { recheck } from "../recheck.ts";
import { type SideBySideRow, sideBySide } from "../side-by-side.ts";

/** A campaign by both routes. The recheck computes the corrections where the evaluation does. */
export function bothRoutes(campaign: Campaign): SideBySideRow[] {
  const { result } = evaluate(campaign);
  const errors = result.findings.filter(({ level }) => level === "error").map(({ message }) => message);
  if (errors.length > 0) throw new Error(`the campaign cannot be evaluated: ${errors.join(" ")}`);
  const { activeVolume, axis } = campaign.descriptor.alcedo.detector;
  const left = result.findings.some(({ code }) => code === "corrections-not-computed");
  const volume = activeVolume && axis && !left ? { activeVolume: { ...activeVolume, axis } } : {};
  const { values } = resolveAssumptions(campaign.descriptor);
  return sideBySide(result, recheck(interpret(campaign), values, volume));
}

/** Ids that the recheck leaves to the evaluation. */
const LEFT = /^separation\.(verified-stem-load|residual-slope|coefficient-difference)$|^comparison\./;
/** Near zero by their nature, and of the order of one in what they are a difference of. */
const DIFFERENCE = /^separation\.verify\.|^output-factors\.drift$|^subtracted-fraction\./;
/** Figures that hang on a quadrature. */
const QUADRATURE = /^(volume-averaging|positioning|output-factor)\./;

/**
 * Where the two routes disagree, a line each: by more than 1e-9 of the value (1e-6 where a quadrature lies behind it) or
 * 2 % of u, or in having the quantity at all.
 */
export function disagreements(rows: readonly SideBySideRow[]): string[] {
  return rows.flatMap(({ id, value, recheckValue, difference, u, recheckU }) => {
    if (LEFT.test(id)) return [];
    // Factors of one that were not computed.
    if (/^(volume-averaging|positioning)\./.test(id) && value === 1 && u === 0 && recheckValue === null) return [];
    if (value === null || recheckValue === null || difference === null) return [`${id}: ${value} | ${recheckValue}`];
    const size = Math.max(Math.abs(value), DIFFERENCE.test(id) ? 1 : id === "separation.chi2" ? 1e-3 : 0);
    const tolerance = QUADRATURE.test(id) ? 1e-6 : 1e-9;
    const lines = Math.abs(difference) <= tolerance * size ? [] : [`${id}: value ${value} | ${recheckValue}`];
    if (u === null || recheckU === null) return u === recheckU ? lines : [...lines, `${id}: u ${u} | ${recheckU}`];
    return Math.abs(recheckU - u) <= 0.02 * u + 1e-12 ? lines : [...lines, `${id}: u ${u} | ${recheckU}`];
  });
}
