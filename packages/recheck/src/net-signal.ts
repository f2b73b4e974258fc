import type { Assumptions } from "@alcedo-dosimetry/campaign";
import type { BackgroundRates } from "./background-rate.ts";
import { type InputBlock, type Shift, single } from "./elementary-input.ts";
import type { Measured, Visit } from "./measured.ts";
import { columnMeans } from "./scatter.ts";

/** Net signals of a reading: as they stand, and as readings are compared (per monitor, per MU, or per dose). */
export interface NetSignal {
  readonly raw: readonly number[];
  readonly compared: readonly number[];
}

/** Key of the error of a series' unknown temperatures, in kelvin. */
const temperatureKey = (reading: Measured) => `${reading.key.split("/")[0]!}/temperature`;

/** `(M − b·t)/(1 + α(T − T_ref))`, and that times what readings are compared by. */
export function netSignal(
  reading: Measured,
  background: BackgroundRates | undefined,
  assumptions: Assumptions,
  shift: Shift,
): NetSignal {
  const { key, signals, time, duration_s, temperature_C, factor, dose } = reading;
  const rate = background?.at(time);
  if (rate && duration_s === undefined) throw new Error(`${key}: duration_s is missing, and there is a background`);
  const warmth =
    temperature_C === undefined ? shift(temperatureKey(reading)) : temperature_C - assumptions.referenceTemperature_C;
  const alpha = assumptions.temperatureCoefficient_perK.value + shift("temperature-coefficient");
  const gain = 1 / (1 + alpha * warmth);
  const raw = signals.map((signal, c) => {
    const dark = rate ? rate[c]! * duration_s! : 0;
    return (signal + shift(`${key}/digit/${c}`) - dark) * gain;
  });
  if (!dose) return { raw, compared: raw.map((q) => q * factor) };
  const own = dose.group === undefined ? 0 : shift(`dose/${dose.group}`);
  const Gy = dose.Gy * (1 + own) * (1 + dose.shared_u * shift("calibration/dose"));
  return { raw, compared: raw.map((q) => q / Gy) };
}

/** Means over the repeats of a visit, each channel displaced by the error that the repeats leave. */
export function visitMeans(
  visit: Visit,
  background: BackgroundRates | undefined,
  assumptions: Assumptions,
  shift: Shift,
): NetSignal {
  const net = visit.readings.map((reading) => netSignal(reading, background, assumptions, shift));
  const channels = net[0]!.raw.length;
  const displaced = (means: number[], first: number) =>
    means.map((mean, c) => mean + shift(`${visit.key}/repeats/${first + c}`));
  return {
    compared: displaced(columnMeans(net.map(({ compared }) => compared)), 0),
    raw: displaced(columnMeans(net.map(({ raw }) => raw)), channels),
  };
}

/** Last digits of the readings, and the unknown temperature of a series that lacks some. */
export function readingInputs(
  visits: readonly Visit[],
  digits: readonly number[],
  assumptions: Assumptions,
): InputBlock[] {
  const readings = visits.flatMap((visit) => visit.readings);
  const blocks = readings.flatMap(({ key }) =>
    digits.map((digit, c) => single(`${key}/digit/${c}`, digit / Math.sqrt(12))),
  );
  const cold = readings.find((reading) => reading.temperature_C === undefined);
  return cold ? [...blocks, single(temperatureKey(cold), assumptions.temperature_u_C)] : blocks;
}
