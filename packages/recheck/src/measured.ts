/** A reading, reduced to what the arithmetic needs. */
export interface Measured {
  /** `series/reading`. */
  readonly key: string;
  readonly time?: number;
  readonly duration_s?: number;
  readonly temperature_C?: number;
  readonly signals: readonly number[];
  /** What the net signal is multiplied with where readings are compared with each other. */
  readonly factor: number;
  /**
   * The dose that the net signal is divided by where it is known, the group that it has an error of its own with, and how
   * far it leans on the error that the whole table shares (a relative standard uncertainty).
   */
  readonly dose?: { readonly Gy: number; readonly group?: string; readonly shared_u: number };
}

/** Repeats: the readings of one condition, or of one visit to it. */
export interface Visit {
  /** `series/condition`, with the number of the visit where there are several. */
  readonly key: string;
  readonly condition: string;
  /** Mean time of the readings. */
  readonly time?: number;
  readonly readings: readonly Measured[];
}

/** The mean of the readings' times, where all have one. */
export function meanTime(readings: readonly { readonly time?: number }[]): number | undefined {
  let sum = 0;
  for (const { time } of readings) {
    if (time === undefined) return undefined;
    sum += time;
  }
  return readings.length === 0 ? undefined : sum / readings.length;
}

/** Readings gathered by a name, in the order of first appearance. */
export function gathered<R>(readings: readonly R[], nameOf: (reading: R) => string): Map<string, R[]> {
  const groups = new Map<string, R[]>();
  for (const reading of readings) {
    const name = nameOf(reading);
    const group = groups.get(name);
    if (group) group.push(reading);
    else groups.set(name, [reading]);
  }
  return groups;
}

/** The finest last digit of each channel: a spreadsheet writes 6.500 as 6.5, but the display showed the zeros. */
export function lastDigits(readings: readonly { readonly digits: readonly number[] }[]): number[] {
  return readings[0]!.digits.map((_, c) => Math.min(...readings.map(({ digits }) => digits[c]!)));
}
