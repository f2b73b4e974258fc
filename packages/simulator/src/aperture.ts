/** The opening that the collimator leaves, projected to the detector's depth: without any blur. */
export type Aperture =
  | { readonly shape: "rectangle"; readonly x_mm: number; readonly y_mm: number }
  | { readonly shape: "circle"; readonly diameter_mm: number };

/** Side of the square of the same area, in mm: what the output of a field goes by in this laboratory. */
export function sideOfEqualArea(aperture: Aperture): number {
  if (aperture.shape === "rectangle") return Math.sqrt(aperture.x_mm * aperture.y_mm);
  const radius = aperture.diameter_mm / 2;
  return Math.sqrt(Math.PI * radius * radius);
}

/** The same opening, wider by so much along each axis. */
export function widened(aperture: Aperture, by_mm: number): Aperture {
  return aperture.shape === "rectangle"
    ? { ...aperture, x_mm: aperture.x_mm + by_mm, y_mm: aperture.y_mm + by_mm }
    : { ...aperture, diameter_mm: aperture.diameter_mm + by_mm };
}

/** What the opening is called by, for remembering what was computed for it. */
export function apertureKey(aperture: Aperture): string {
  return aperture.shape === "rectangle" ? `${aperture.x_mm}x${aperture.y_mm}` : `o${aperture.diameter_mm}`;
}
