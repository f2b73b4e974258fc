import type { SideBySideRow } from "@alcedo-dosimetry/recheck";

/** A quantity that both routes have, and how far apart they are. */
export interface Comparison extends SideBySideRow {
  readonly value: number;
  readonly recheckValue: number;
  readonly difference: number;
  /** Difference over u; null where there is no u, or one that lies below the rounding of the value. */
  readonly differenceInU: number | null;
  readonly valueAgrees: boolean;
  readonly uAgrees: boolean;
}

/** How two routes to the same numbers compare. */
export interface Agreement {
  readonly compared: readonly Comparison[];
  /** Ids of the quantities that the recheck, or the evaluation, does not have. */
  readonly onlyEvaluated: readonly string[];
  readonly onlyRechecked: readonly string[];
}

/** Near zero by their nature, and of the order of one in what they are a difference of. */
const DIFFERENCE = /^separation\.verify\.|^output-factors\.drift$|^subtracted-fraction\./;
/** Figures that hang on a quadrature, of another kind in each route. */
const QUADRATURE = /^(volume-averaging|positioning|output-factor)\./;
/** Of the value, where arithmetic alone lies between readings and figure, and where a quadrature does. */
const VALUE = 1e-9;
const VALUE_BY_QUADRATURE = 1e-6;
/** Of the standard uncertainty: finite differences see the curvature that derivatives do not. */
const UNCERTAINTY = 0.02;
/** An uncertainty below this (of one, or of the value) is rounding. */
const ROUNDING = 1e-12;

/** Compares two routes, quantity by quantity. */
export function agreementOf(rows: readonly SideBySideRow[]): Agreement {
  return {
    compared: rows.flatMap(compared),
    onlyEvaluated: rows.filter(({ recheckValue }) => recheckValue === null).map(({ id }) => id),
    onlyRechecked: rows.filter(({ value }) => value === null).map(({ id }) => id),
  };
}

/** True where neither value nor uncertainty differs by more than the routes may. */
export function agrees({ valueAgrees, uAgrees }: Comparison): boolean {
  return valueAgrees && uAgrees;
}

function compared(row: SideBySideRow): Comparison[] {
  const { id, value, recheckValue, difference, u, recheckU } = row;
  if (value === null || recheckValue === null || difference === null) return [];
  const size = Math.max(Math.abs(value), DIFFERENCE.test(id) ? 1 : id === "separation.chi2" ? 1e-3 : 0);
  const tolerance = QUADRATURE.test(id) ? VALUE_BY_QUADRATURE : VALUE;
  return [
    {
      ...row,
      value,
      recheckValue,
      difference,
      differenceInU: u !== null && u > ROUNDING * size ? difference / u : null,
      valueAgrees: Math.abs(difference) <= tolerance * size,
      uAgrees: u === null || recheckU === null ? u === recheckU : Math.abs(recheckU - u) <= UNCERTAINTY * u + ROUNDING,
    },
  ];
}
