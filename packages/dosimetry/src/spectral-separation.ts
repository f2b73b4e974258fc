import { type Scalar, sum } from "@alcedo-dosimetry/metrology";

/** The spectra do not tell the sources apart: one of them is a mixture of those before it, or dark. */
export class DependentSpectraError extends Error {
  override readonly name = "DependentSpectraError";
}

/** Below this share of its length a spectrum's own part is rounding, and the weights would be noise. */
const INDEPENDENT = 1e-8;

/**
 * The channels' weights for one light source: row s of (RᵀR)⁻¹Rᵀ, so that Σ a_c·m_c is the strength of source s whatever
 * the others give, and the least-squares estimate of it where there are more channels than sources (channels alike in
 * noise). With two channels and two sources the weights are those of the stem ratio, up to a factor
 * (Archambault et al., Phys. Med. Biol. 57, 7133 (2012)).
 *
 * Gram and Schmidt's orthogonalisation, modified, written on the graph: uncertain responses propagate.
 *
 * @param response - R, channels × sources: signal per unit strength (dose for scintillation). One unit per source.
 * @param source - s, from 0.
 * @returns one weight per channel, in strength per signal.
 * @throws RangeError for rows of unequal length, fewer channels than sources, a response that is not a finite number or
 *   a source that is not there;
 *   DependentSpectraError where the spectra do not tell the sources apart.
 */
export function sourceWeights(response: readonly (readonly Scalar[])[], source: number): Scalar[] {
  const factors = orthogonalise(response);
  const sources = factors.directions.length;
  if (!(Number.isInteger(source) && source >= 0 && source < sources))
    throw new RangeError(`source ${source} is not among the ${sources} of the response matrix, counted from 0`);
  return weightsOf(factors, source);
}

/**
 * The strength of every source from the channels' signals: R⁺·m, column by column of R.
 *
 * @param response - R, channels × sources, as for `sourceWeights`.
 * @param signals - m, one per channel.
 * @throws RangeError and DependentSpectraError as `sourceWeights`, and RangeError for another number of signals.
 */
export function separateSources(response: readonly (readonly Scalar[])[], signals: readonly Scalar[]): Scalar[] {
  if (signals.length !== response.length)
    throw new RangeError(`${response.length} channels need as many signals, but there are ${signals.length}`);
  const factors = orthogonalise(response);
  return factors.directions.map((_, source) =>
    sum(weightsOf(factors, source).map((weight, c) => weight.times(signals[c]!))),
  );
}

/** R = Q·T: one orthonormal direction per source (the columns of Q), and T above and on the diagonal. */
interface Factors {
  readonly directions: readonly (readonly Scalar[])[];
  readonly triangle: readonly (readonly Scalar[])[];
}

function orthogonalise(response: readonly (readonly Scalar[])[]): Factors {
  const sources = response[0]?.length ?? 0;
  requireShape(response, sources);
  const directions: Scalar[][] = [];
  const triangle: Scalar[][] = Array.from({ length: sources }, () => []);
  for (let j = 0; j < sources; j++) {
    let rest = response.map((row) => row[j]!);
    const whole = lengthOf(rest);
    directions.forEach((direction, i) => {
      const along = sum(rest.map((part, c) => part.times(direction[c]!)));
      triangle[i]![j] = along;
      rest = rest.map((part, c) => part.minus(along.times(direction[c]!)));
    });
    if (whole === 0) throw new DependentSpectraError(`source ${j} gives no light in any channel`);
    if (!(lengthOf(rest) > INDEPENDENT * whole))
      throw new DependentSpectraError(
        `the spectrum of source ${j} is a mixture of those before it: leave it out, or add channels that tell it apart`,
      );
    const pivot = sum(rest.map((part) => part.times(part))).squareRoot();
    triangle[j]![j] = pivot;
    directions.push(rest.map((part) => part.over(pivot)));
  }
  return { directions, triangle };
}

/** Row s of T⁻¹·Qᵀ. Row s of T⁻¹ is z with zᵀ·T = e_sᵀ, by forward substitution; its elements before s are zero. */
function weightsOf({ directions, triangle }: Factors, source: number): Scalar[] {
  const z: Scalar[] = [triangle[source]![source]!.power(-1)];
  for (let j = source + 1; j < directions.length; j++) {
    const before = sum(z.map((element, i) => element.times(triangle[source + i]![j]!)));
    z.push(before.negative().over(triangle[j]![j]!));
  }
  return directions[source]!.map((_, c) => sum(z.map((element, i) => element.times(directions[source + i]![c]!))));
}

function lengthOf(vector: readonly Scalar[]): number {
  return Math.sqrt(vector.reduce((total, { value }) => total + value * value, 0));
}

function requireShape(response: readonly (readonly Scalar[])[], sources: number): void {
  if (sources === 0) throw new RangeError("the response matrix has no channel or no source");
  const ragged = response.findIndex((row) => row.length !== sources);
  if (ragged >= 0)
    throw new RangeError(
      `channel ${ragged} has ${response[ragged]!.length} responses, but channel 0 has ${sources}: one per source is needed`,
    );
  for (const [c, row] of response.entries())
    for (const [source, { value }] of row.entries())
      if (!Number.isFinite(value))
        throw new RangeError(`the response of channel ${c} to source ${source} is ${value}, not a finite number`);
  if (response.length < sources)
    throw new RangeError(`${response.length} channels cannot tell ${sources} sources apart`);
}
