/** One row of a point series: what the reader showed, and what is known of the moment. */
export interface Reading {
  /** Unique in its series. */
  readonly id: string;
  /** Readings of one condition are repeats. */
  readonly condition: string;
  /** When it was taken, in seconds since 1970 (UTC). */
  readonly time?: number;
  /** Integration time in s. */
  readonly duration_s?: number;
  /** Monitor units delivered. */
  readonly mu?: number;
  /** Reading of a reference detector, in a unit of its own. */
  readonly monitor?: number;
  readonly temperature_C?: number;
  /** Raw reading of each channel; undefined only in a reading that is left out. */
  readonly signals: readonly (number | undefined)[];
  /** Value of the last digit shown, by channel, in the signal's unit. */
  readonly digits: readonly (number | undefined)[];
  /** Why it is left out of the evaluation; undefined where it counts. */
  readonly exclude?: string;
}

/** Readings taken for one aim. */
export interface Series<R extends Reading = Reading> {
  /** Such as `output-factors`. */
  readonly name: string;
  readonly readings: readonly R[];
}

/** The rows of one condition, or of one visit to it. */
export interface ConditionRows {
  /** Name of the condition, or of the visit where one condition has several, such as `100x100/2`. */
  readonly name: string;
  /** Name of the condition. */
  readonly condition: string;
  /** Rows of the series, those that are left out too. */
  readonly rows: readonly number[];
}

/**
 * The conditions of a series in the order of their first readings that count; those with no reading that counts are not
 * there. A reading that is left out belongs to its condition and has no say in the order.
 */
export function conditionsOf(series: Series): ConditionRows[] {
  const rows = new Map<string, number[]>();
  series.readings.forEach(({ condition }, row) => {
    const known = rows.get(condition);
    if (known) known.push(row);
    else rows.set(condition, [row]);
  });
  return [...rows]
    .map(([name, own]) => ({ name, condition: name, rows: own, first: counting(series, own)[0] }))
    .filter(({ first }) => first !== undefined)
    .sort((a, b) => a.first! - b.first!)
    .map(({ first: _, ...condition }) => condition);
}

/** Those of the rows that count. */
export function counting(series: Series, rows: readonly number[]): number[] {
  return rows.filter((row) => series.readings[row]!.exclude === undefined);
}

/** The mean time of the rows that count, or undefined where one of them has none. */
export function meanTime(series: Series, rows: readonly number[]): number | undefined {
  const times = counting(series, rows).map((row) => series.readings[row]!.time);
  if (times.length === 0 || times.some((time) => time === undefined)) return undefined;
  // about the first, so that seconds since 1970 do not eat the digits of the differences
  const first = times[0]!;
  return first + times.reduce<number>((total, time) => total + (time! - first), 0) / times.length;
}

/**
 * The finest last digit that a channel shows over a series, in the signal's unit. Over the series and not per reading,
 * since spreadsheets drop trailing zeros: 6.5 among readings such as 6.503 was read as 6.500.
 */
export function lastDigit(series: Series, channel: number): number {
  const digits = series.readings.filter(({ exclude }) => exclude === undefined).map(({ digits }) => digits[channel]);
  return digits.reduce<number>((least, digit) => Math.min(least, digit ?? least), Number.POSITIVE_INFINITY);
}
