import type { PerChannel } from "./fibre.ts";
import type { RandomStream } from "./random-stream.ts";

/** Compression of a channel: above `level_nC` the reading falls behind, and never rises by more than `headroom_nC`. */
export interface Saturation {
  readonly level_nC: number;
  readonly headroom_nC: number;
}

/** The two-channel reader. */
export interface Reader {
  readonly id: string;
  readonly gain: PerChannel;
  /** Dark reading in nC per second, when the campaign begins. */
  readonly darkRate_perS: PerChannel;
  /** Its relative change per hour. */
  readonly darkDrift_perHour: PerChannel;
  /** Standard deviation of a reading: a constant in nC, a part of the light, and nC per root of a second. */
  readonly noise: { readonly constant_nC: number; readonly proportional: number; readonly perRootSecond_nC: number };
  readonly saturation: PerChannel<Saturation | undefined>;
  /** Decimals shown; the last digit is rounded. */
  readonly decimals: number;
}

/** The reading of a channel with so much more light than it can take. */
export function compressed(signal: number, saturation: Saturation | undefined): number {
  if (saturation === undefined || signal <= saturation.level_nC) return signal;
  const above = signal - saturation.level_nC;
  return saturation.level_nC + above / (1 + above / saturation.headroom_nC);
}

/** The dark rate of a channel so many seconds after the campaign began, in nC per s. */
export function darkRateAt(reader: Reader, channel: 0 | 1, time_s: number): number {
  return reader.darkRate_perS[channel] * (1 + (reader.darkDrift_perHour[channel] * time_s) / 3600);
}

/** What the reader shows for light of so many nC, before the digits are cut off. */
export function readingOf(
  reader: Reader,
  light: PerChannel,
  circumstances: {
    readonly time_s: number;
    readonly duration_s: number;
    /** In nC per s, beside the dark rate. */
    readonly extraRate: PerChannel;
    /** Standard deviation over the reader's own: 0 for none. */
    readonly noiseFactor: number;
  },
  random: RandomStream,
): [number, number] {
  const { time_s, duration_s, extraRate, noiseFactor } = circumstances;
  const { constant_nC, proportional, perRootSecond_nC } = reader.noise;
  const channel = (c: 0 | 1) => {
    const signal = reader.gain[c] * light[c];
    const dark = (darkRateAt(reader, c, time_s) + extraRate[c]) * duration_s;
    const noise =
      constant_nC * random.normal() +
      proportional * signal * random.normal() +
      perRootSecond_nC * Math.sqrt(duration_s) * random.normal();
    return compressed(signal + dark, reader.saturation[c]) + noiseFactor * noise;
  };
  return [channel(0), channel(1)];
}
