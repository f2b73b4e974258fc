/**
 * f′(x) from central differences of the widths h, h/2 and h/4, extrapolated twice (Richardson). What is left is about
 * h⁶·f⁽⁷⁾/10⁵ and the rounding of f over h, so that with h of a hundredth of the scale of f some eleven digits are right.
 */
export function differenceQuotient(f: (x: number) => number, x: number, h: number): number {
  const [d0, d1, d2] = [h, h / 2, h / 4].map((step) => {
    const [above, below] = [x + step, x - step];
    return (f(above) - f(below)) / (above - below);
  }) as [number, number, number];
  const [e1, e2] = [(4 * d1 - d0) / 3, (4 * d2 - d1) / 3];
  return (16 * e2 - e1) / 15;
}
