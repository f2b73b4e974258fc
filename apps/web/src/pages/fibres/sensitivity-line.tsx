import type { Fibre } from "@alcedo-dosimetry/protocol";

const WIDTH = 240;
const HEIGHT = 56;
const EDGE = 6;

/** A fibre's signal per dose, calibration by calibration: over accumulated dose where it is known, else in order. */
export function SensitivityLine({ points }: { readonly points: Fibre["sensitivity"] }) {
  const byDose = points.length > 1 && points.every(({ dose_Gy }) => dose_Gy !== undefined);
  const across = points.map(({ dose_Gy }, k) => (byDose ? dose_Gy! : k));
  const ends = points.flatMap(({ value, u }) => [value - 2 * (u ?? 0), value + 2 * (u ?? 0)]);
  const x = scale(across, EDGE, WIDTH - EDGE);
  const y = scale(ends, HEIGHT - EDGE, EDGE);
  const places = points.map(({ value, u, campaign }, k) => ({
    campaign,
    x: x(across[k]!),
    y: y(value),
    low: y(value - 2 * (u ?? 0)),
    high: y(value + 2 * (u ?? 0)),
  }));
  return (
    <svg
      className="fibre-line"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`Signal per dose in ${points.length} calibrations${byDose ? ", over accumulated dose" : ""}`}
    >
      <polyline points={places.map((place) => `${place.x},${place.y}`).join(" ")} className="fibre-path" />
      {places.map((place) => (
        <g key={`${place.campaign} ${place.x}`}>
          <line x1={place.x} x2={place.x} y1={place.low} y2={place.high} className="fibre-whisker" />
          <circle cx={place.x} cy={place.y} r={3} className="fibre-dot" />
        </g>
      ))}
    </svg>
  );
}

/** Places numbers on a length of the picture; one alone in its middle. */
function scale(values: readonly number[], from: number, to: number): (value: number) => number {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return (value) => (high === low ? (from + to) / 2 : from + ((value - low) / (high - low)) * (to - from));
}
