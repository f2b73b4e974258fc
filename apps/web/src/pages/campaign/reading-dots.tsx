import { plain, type TraceStep } from "@alcedo-dosimetry/campaign";
import { useDecimal } from "../../look/decimal.tsx";
import "./reading-dots.css";

type Readings = NonNullable<TraceStep["readings"]>;

/** What the readings behind a number are drawn from. */
export interface ReadingDotsProps {
  readonly readings: Readings;
  readonly unit: string;
  readonly onReading: (series: string, reading: string) => void;
}

const WIDTH = 320;
const HEIGHT = 96;
const EDGE = 12;

/** The readings of a mean in their order: what the formula makes of each, those that are left out as rings. */
export function ReadingDots({ readings, unit, onReading }: ReadingDotsProps) {
  const decimal = useDecimal();
  const shown = readings.filter(({ value }) => Number.isFinite(value));
  const values = shown.map(({ value }) => value);
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const range = high > low ? high - low : 1;
  const place = (value: number, k: number) => ({
    x: EDGE + ((k + 0.5) * (WIDTH - 2 * EDGE)) / Math.max(1, shown.length),
    y: HEIGHT - EDGE - ((high > low ? value - low : 0.5) / range) * (HEIGHT - 2 * EDGE),
  });
  return (
    <div className="dots">
      {shown.length > 1 && (
        <svg className="dots-picture" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
          <line className="dots-line" x1={EDGE} x2={WIDTH - EDGE} y1={HEIGHT - EDGE} y2={HEIGHT - EDGE} />
          <line className="dots-line" x1={EDGE} x2={WIDTH - EDGE} y1={EDGE} y2={EDGE} />
          {shown.map(({ value, reading, series, included }, k) => {
            const { x, y } = place(value, k);
            return (
              <circle
                key={`${series}/${reading}`}
                className={included ? "dots-in" : "dots-out"}
                cx={x}
                cy={y}
                r={4.5}
              />
            );
          })}
        </svg>
      )}
      <ul className="dots-list">
        {readings.map(({ reading, series, included, value }) => (
          <li key={`${series}/${reading}`}>
            <button type="button" className="trace-link number" onClick={() => onReading(series, reading)}>
              {reading}
            </button>
            <span className="muted">{included ? "" : "left out"}</span>
            <span className="number">
              {decimal(plain(value, 6))} {unit === "1" ? "" : unit}
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
