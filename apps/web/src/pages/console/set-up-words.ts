/** Units behind the figures of a set-up, by column. */
const UNITS: Readonly<Record<string, string>> = { mu: "MU", duration_s: "s", temperature_C: "°C" };

/** What of a reading's set-up stands in its heading, in the order in which it is set up: `200 MU · 30 s · field of 10 × 10 mm`. */
export function setUpInWords(cells: ReadonlyMap<string, string>): string {
  const has = (column: string) => cells.get(column);
  const figure = (column: string) => (has(column) === undefined ? undefined : `${has(column)} ${UNITS[column]}`);
  const dose = has("dose_Gy");
  const fibre = has("fibre_mm");
  return [
    fieldInWords(cells),
    fibre === undefined ? undefined : `${fibre} mm of fibre in the beam`,
    has("role"),
    figure("mu"),
    figure("duration_s"),
    figure("temperature_C"),
    dose === undefined ? undefined : `${dose} Gy`,
  ]
    .filter((part) => part !== undefined)
    .join(" · ");
}

function fieldInWords(cells: ReadonlyMap<string, string>): string | undefined {
  const [x, y, diameter] = ["x_mm", "y_mm", "diameter_mm"].map((column) => cells.get(column));
  if (diameter !== undefined) return `⌀ ${diameter} mm`;
  return x === undefined || y === undefined ? undefined : `${x} × ${y} mm`;
}
