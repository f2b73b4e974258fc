import { Program } from "@alcedo-dosimetry/metrology";
import { correctedSignal, type SeparationWeights, stemLoad } from "./corrected-signal.ts";
import type { NetCondition } from "./net-signal.ts";

/** What the weights make of a single reading. */
export interface ReadingLight {
  /** Row of the series. */
  readonly row: number;
  /** Normalised net signals by channel. */
  readonly normalised: readonly number[];
  /** S, in the unit of the signals. */
  readonly corrected: number;
  /** How far it leans on the weights: q_2/S. */
  readonly load: number;
}

/**
 * The corrected signal and the stem load of each reading of a condition, by the formulas that means are corrected by.
 * To be looked at: no uncertainty is attached to a single reading.
 */
export function readingLights(
  { stemRatio, weights }: SeparationWeights,
  { normalised, perReading, leftOut }: NetCondition,
): { readonly counting: readonly ReadingLight[]; readonly leftOut: readonly ReadingLight[] } {
  const own = stemRatio ? [stemRatio] : weights;
  const program = new Program(
    normalised.map(({ unit }, c) => ({ symbol: `q_${c + 1}`, unit })),
    own.map(({ unit }, c) => ({ symbol: stemRatio ? "ρ" : `a_${c + 2}`, unit })),
    (signals, scalars) => {
      const corrected = correctedSignal(
        stemRatio ? { stemRatio: scalars[0]!, weights: [] } : { weights: scalars },
        signals,
      );
      return [corrected, stemLoad(signals, corrected)];
    },
  );
  const lights = (readings: NetCondition["perReading"]): ReadingLight[] => {
    const columns = normalised.map((_, c) => readings.map((reading) => reading.normalised[c]!));
    const rows = readings.map((_, i) => i);
    const found = program.evaluate(
      columns,
      rows,
      own.map(({ value }) => value),
    );
    return readings.map((reading, i) => ({ ...reading, corrected: found[i]!, load: found[readings.length + i]! }));
  };
  return { counting: lights(perReading), leftOut: lights(leftOut) };
}
