/** Effective degrees of freedom of a combined uncertainty. */

/** What one group of inputs, estimated from the same repeats, contributes to a result. */
export interface UncertaintyGroup {
  /** The group's combined contribution √(J_g Σ_g J_gᵀ), in the result's unit; correlations inside the group included. */
  readonly u: number;
  /** Degrees of freedom of the group's variance estimate, above zero; may be `Infinity`. */
  readonly dof: number;
}

/**
 * ν_eff = u⁴/Σ(u_g⁴/ν_g), u² = Σu_g², over mutually independent groups: the Welch–Satterthwaite formula (GUM G.4) with
 * inputs that share one variance estimate taken as one term (R. Willink, Metrologia 44, 340 (2007)). Not rounded.
 *
 * `Infinity` where no group with finite degrees of freedom contributes, also where nothing contributes at all.
 *
 * @throws RangeError naming the group with a negative or non-finite contribution, or degrees of freedom not above zero.
 */
export function effectiveDof(groups: readonly UncertaintyGroup[]): number {
  let largest = 0;
  groups.forEach(({ u, dof }, index) => {
    if (!(u >= 0 && u < Infinity)) {
      throw new RangeError(`Group ${index + 1} contributes ${u}: a contribution is finite and zero or above.`);
    }
    if (!(dof > 0)) {
      throw new RangeError(`Group ${index + 1} has ${dof} degrees of freedom: they must be above zero, or Infinity.`);
    }
    largest = Math.max(largest, u);
  });
  if (largest === 0) return Infinity;
  // over the largest contribution, so that fourth powers neither overflow nor vanish
  const scaled = groups.map(({ u, dof }) => ({ variance: (u / largest) * (u / largest), dof }));
  return dofOfVariances(
    scaled,
    scaled.reduce((total, { variance }) => total + variance, 0),
  );
}

/**
 * ν_eff of variances that add up to a total, for callers whose variances are their own affair: nothing is refused.
 *
 * @param groups - those with finite degrees of freedom; others may be left out, but are part of the total.
 */
export function dofOfVariances(
  groups: Iterable<{ readonly variance: number; readonly dof: number }>,
  total: number,
): number {
  let inverse = 0;
  if (total > 0)
    for (const { variance, dof } of groups) {
      const share = variance / total;
      inverse += (share * share) / dof;
    }
  return inverse > 0 ? 1 / inverse : Infinity;
}

/**
 * Degrees of freedom of a standard uncertainty that is itself known to a relative standard uncertainty Δu/u:
 * ν = ½(Δu/u)⁻² (GUM G.4.2). Zero doubt gives `Infinity`.
 *
 * @param relativeUncertainty - Δu/u as a fraction: 0.25 for 25 %.
 * @throws RangeError unless finite and zero or above.
 */
export function dofFromRelativeUncertainty(relativeUncertainty: number): number {
  if (!(relativeUncertainty >= 0 && relativeUncertainty < Infinity)) {
    throw new RangeError(
      `The relative uncertainty of an uncertainty is finite and zero or above, but ${relativeUncertainty} was given.`,
    );
  }
  return 0.5 / (relativeUncertainty * relativeUncertainty);
}
