import { inLine, type VisitReading } from "@alcedo-dosimetry/campaign";
import { useDecimal } from "../../look/decimal.tsx";
import type { VisitState } from "./run-sheet.ts";
import "./visit-readings.css";

/** What the strip of readings is made of. */
export interface VisitReadingsProps {
  readonly readings: readonly VisitReading[];
  /** What was typed for each of them, channel by channel. */
  readonly typed: readonly (readonly string[])[];
  readonly state: VisitState;
  /** Readings that the server has not on its disk yet. */
  readonly waiting: ReadonlySet<string>;
}

/** The readings of this visit, in order: what was read, what does not fit, what is left out, what is not on disk yet. */
export function VisitReadings({ readings, typed, state, waiting }: VisitReadingsProps) {
  const decimal = useDecimal();
  if (readings.length === 0) return null;
  const lights = inLine(
    readings.map(({ corrected }) => corrected),
    5,
  );
  const lines = readings.map(({ id, corrected, exclude }, place) => {
    const isOut = exclude !== undefined;
    const isMisfit = state.misfits.has(id) && !isOut;
    const notes = [
      isMisfit ? "does not fit" : undefined,
      isOut ? `left out: ${exclude}` : undefined,
      waiting.has(id) ? "□ not yet on disk" : undefined,
    ].filter((note) => note !== undefined);
    const light = corrected === undefined ? undefined : lights[place];
    return { id, texts: typed[place]!, light, notes, isMisfit, isOut };
  });
  return (
    <ol className="visit" aria-label="Readings of this visit, the latest first" reversed>
      {lines.toReversed().map(({ id, texts, light, notes, isMisfit, isOut }) => (
        <li key={id} className={isMisfit ? "visit-reading visit-misfit" : "visit-reading"}>
          <span className="number muted">{id}</span>
          <span className={isOut ? "number visit-out" : "number"}>
            {texts.map((text, channel) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: channels have no other name here
              <span key={channel} className={`visit-signal channel-${channel + 1}`}>
                {decimal(text)}
              </span>
            ))}
            {light !== undefined && (
              <strong title="corrected light, as it is compared with its repeats">{decimal(light)}</strong>
            )}
          </span>
          <span className="small">{notes.join(" · ")}</span>
        </li>
      ))}
    </ol>
  );
}
