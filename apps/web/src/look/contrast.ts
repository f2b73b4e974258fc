/** How far two colours stand apart, as WCAG 2.2 measures it. */

/** Relative luminance of `#rrggbb` (WCAG 2.2, "relative luminance"), 0 for black to 1 for white. */
function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

/**
 * Contrast ratio of two colours `#rrggbb` (WCAG 2.2, "contrast ratio"): (L₁ + 0.05)/(L₂ + 0.05), the lighter over the
 * darker; 1 for the same colour, 21 for black on white.
 *
 * @throws RangeError for anything but six digits behind a #.
 */
export function contrast(a: string, b: string): number {
  for (const colour of [a, b])
    if (!/^#[0-9a-f]{6}$/i.test(colour)) throw new RangeError(`${colour} is no colour of the form #rrggbb`);
  const [darker, lighter] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (lighter! + 0.05) / (darker! + 0.05);
}
