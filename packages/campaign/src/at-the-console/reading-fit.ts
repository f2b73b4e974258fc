import { sidakFamily, tCdf } from "@alcedo-dosimetry/metrology";
import { percent, significant } from "../findings/in-words.ts";
import { likelySlip } from "../findings/likely-slip.ts";
import type { Visit, VisitReading } from "./visits.ts";

/** A reading that does not fit its repeats, said while it can still be taken again. */
export interface Misfit {
  readonly reading: string;
  /** Place of the channel in which it is farthest off. */
  readonly channel: number;
  /** Its signal over the mean of its repeats. */
  readonly ratio: number;
  /** How often chance alone would do so, over all channels; absent where it is too far off to ask. */
  readonly p?: number;
  readonly message: string;
  readonly remedy: string;
}

/**
 * When a reading is asked for again. One in a thousand good readings is (proposed default): at the console that costs a
 * minute, and the campaign's own test (`reading-alone`), which shares a false-alarm budget, speaks in the end. More than
 * 5 % off its repeats is never chance with a linac's beam on (proposed default), and needs no statistics: it is said of the
 * second reading already.
 */
export const MISFIT = { level: 0.001, gross: 0.05 } as const;

/**
 * Whether a reading fits its repeats of the same visit: t test of each channel against the scatter of all other readings
 * of the series, the reading itself kept out of it (Šidák over the channels).
 *
 * @param visits all visits of the campaign; `visit` is one of them.
 * @param id of a reading of that visit that counts.
 * @param channels names for the message.
 * @returns undefined where it fits, or where nothing is there to compare it with.
 */
export function readingMisfit(
  visits: readonly Visit[],
  visit: Visit,
  id: string,
  channels: readonly string[],
): Misfit | undefined {
  const reading = counting(visit).find((one) => one.id === id);
  const rest = counting(visit).filter((one) => one.id !== id);
  if (!reading || rest.length === 0) return undefined;
  const swapped = swappedMisfit(reading, rest, channels);
  if (swapped) return swapped;
  let worst: Misfit | undefined;
  for (let channel = 0; channel < reading.signals.length; channel++) {
    const mean = meanOf(rest, channel);
    const own = reading.signals[channel]!;
    const ratio = own / mean;
    const gross = visit.series !== "background" && !(Math.abs(ratio - 1) <= MISFIT.gross);
    const { variance, dof } = scatter(visits, visit, reading, channel);
    const t = dof > 0 && variance > 0 ? (own - mean) / Math.sqrt(variance * (1 + 1 / rest.length)) : 0;
    const p = sidakFamily(2 * tCdf(-Math.abs(t), Math.max(dof, 1)), reading.signals.length);
    if (!gross && !(dof > 0 && p < MISFIT.level)) continue;
    const farther = !worst || Math.abs(ratio - 1) > Math.abs(worst.ratio - 1);
    if (farther) worst = inWords(visit, reading, rest, channel, channels[channel]!, mean, gross ? undefined : p);
  }
  return worst;
}

function inWords(
  { series }: Visit,
  { id, signals }: VisitReading,
  rest: readonly VisitReading[],
  channel: number,
  name: string,
  mean: number,
  p: number | undefined,
): Misfit {
  const ratio = signals[channel]! / mean;
  const far =
    series === "background"
      ? `${significant(signals[channel]!, 3)} where its repeats have ${significant(mean, 3)}`
      : Math.abs(ratio - 1) < 1
        ? `${percent(Math.abs(ratio - 1))} ${ratio > 1 ? "above" : "below"} ${rest.length === 1 ? rest[0]!.id : "the mean of its repeats"}`
        : `${significant(ratio, 3)} times ${rest.length === 1 ? rest[0]!.id : "the mean of its repeats"}`;
  return {
    reading: id,
    channel,
    ratio,
    ...(p !== undefined && { p }),
    message: `${id} is ${far} in ${name}.`,
    remedy: `${likelySlip(ratio)} Redo this one${rest.length === 1 ? ", and see which of the two was off" : ""}.`,
  };
}

/** Blue where green should be and the other way round. */
function swappedMisfit(
  { id, signals }: VisitReading,
  rest: readonly VisitReading[],
  channels: readonly string[],
): Misfit | undefined {
  if (signals.length !== 2) return undefined;
  const [first, second] = [meanOf(rest, 0), meanOf(rest, 1)];
  const near = (a: number, b: number) => Math.abs(a / b - 1) <= MISFIT.gross;
  if (near(first, second) || !near(signals[0]!, second) || !near(signals[1]!, first)) return undefined;
  return {
    reading: id,
    channel: 0,
    ratio: signals[0]! / first,
    message: `${id} has in ${channels[0]} what its repeats have in ${channels[1]}, and the other way round.`,
    remedy: "The channels were typed the wrong way round: correct it.",
  };
}

const counting = (visit: Visit) => visit.readings.filter(({ exclude }) => exclude === undefined);

const meanOf = (readings: readonly VisitReading[], channel: number) =>
  readings.reduce((total, { signals }) => total + signals[channel]!, 0) / readings.length;

/** Variance of one reading of the visit by all other readings of the series, with what the display hides. */
function scatter(
  visits: readonly Visit[],
  visit: Visit,
  reading: VisitReading,
  channel: number,
): { readonly variance: number; readonly dof: number } {
  const unitOf = (own: Visit, readings: readonly VisitReading[]) => {
    if (own.series === "background") return 1;
    const expected = own.expected?.[channel];
    return expected !== undefined && expected > 0 ? expected : Math.abs(meanOf(readings, channel));
  };
  // units of two kinds have no ratio: without the evaluation for all of them, all go by their means
  const alike = visits.every((own) => own.series !== visit.series || own.expected !== undefined);
  let squares = 0;
  let dof = 0;
  let unit = 1;
  for (const own of visits) {
    if (own.series !== visit.series) continue;
    const readings = counting(own).filter((one) => one !== reading);
    const scale = readings.length === 0 ? 0 : unitOf(alike ? own : { ...own, expected: [] }, readings);
    if (own === visit) unit = scale;
    if (readings.length < 2 || scale === 0) continue;
    const mean = meanOf(readings, channel);
    for (const { signals } of readings) {
      const off = (signals[channel]! - mean) / scale;
      squares += off * off;
    }
    dof += readings.length - 1;
  }
  const hidden = (reading.digits[channel]! * reading.digits[channel]!) / 12;
  return { variance: dof === 0 ? 0 : (squares / dof) * unit * unit + hidden, dof };
}
