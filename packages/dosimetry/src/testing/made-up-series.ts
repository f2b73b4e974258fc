/** Series for the tests, written down in short: every reading is invented unless a test says where it is from. */
import { Model } from "@alcedo-dosimetry/metrology";
import { type Chain, startChain } from "../chain.ts";
import type { Reading, Series } from "../readings.ts";

/** A reading in short: its condition, its signals, and what else is known of it. */
export type Row<R extends Reading = Reading> = readonly [
  condition: string,
  signals: readonly number[],
  more?: Partial<Omit<R, "condition" | "signals">> | undefined,
];

/** A series of readings called r1, r2, …, each with digits of 1e-6 unless it says otherwise. */
export function seriesOf<R extends Reading = Reading>(name: string, rows: readonly Row<R>[]): Series<R> {
  const readings = rows.map(([condition, signals, more], i) => ({
    id: `r${i + 1}`,
    condition,
    signals,
    digits: signals.map(() => 1e-6),
    ...more,
  }));
  return { name, readings: readings as unknown as readonly R[] };
}

/** The row, so many times. */
export function repeated<R extends Reading>(count: number, row: Row<R>): Row<R>[] {
  return Array.from({ length: count }, () => row);
}

/** A chain of its own: temperature coefficient −0.1(0.03) % per K about 22 °C, no background. */
export function chainOf(given: Partial<Parameters<typeof startChain>[1]> = {}): Chain {
  return startChain(new Model(), {
    channels: ["blue", "green"],
    signalUnit: "nC",
    temperatureCoefficient_perK: { value: -0.001, u: 0.0003 },
    referenceTemperature_C: 22,
    temperature_u_C: 1,
    ...given,
  });
}

/** A chain in which nothing but the readings themselves is uncertain. */
export function exactChain(given: Partial<Parameters<typeof startChain>[1]> = {}): Chain {
  return chainOf({ temperatureCoefficient_perK: { value: 0, u: 0 }, temperature_u_C: 0, ...given });
}

/** A stream of normal deviates that is the same in every run: mulberry32, and the sum of twelve uniform ones less six. */
export function normalStream(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  return () => {
    let total = -6;
    for (let i = 0; i < 12; i++) total += uniform();
    return total;
  };
}
