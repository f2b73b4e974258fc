/**
 * A length of a drawing as text, to two decimals: a hundredth of a pixel is invisible, and digits beyond it may differ
 * between engines.
 *
 * @throws RangeError where it is no finite number: a fault of the figure, which must not reach a page as `NaN`.
 */
export function rounded(length: number): string {
  if (!Number.isFinite(length)) throw new RangeError(`a length of a drawing is ${length}`);
  const hundredths = Math.round(length * 100);
  return String(hundredths === 0 ? 0 : hundredths / 100);
}
