import { apertureKey, sideOfEqualArea } from "./aperture.ts";
import { lightOf, type PerChannel } from "./fibre.ts";
import { trueAverage, trueOutputFactor, trueProfile } from "./field-truth.ts";
import type { Laboratory } from "./laboratory.ts";
import { monitorReading } from "./monitor.ts";
import type { Output } from "./output-course.ts";
import { RandomStream } from "./random-stream.ts";
import { readingOf } from "./reader.ts";
import type { Shot } from "./shot.ts";
import type { TypeBErrors } from "./type-b-errors.ts";

/** A reading that was taken: what was there, and what the instruments show of it before their digits are cut off. */
export interface Exposure {
  readonly shot: Shot;
  /** Dose at the field's centre, in Gy. */
  readonly centreDose_Gy: number;
  /** Dose averaged over the active volume, in Gy. */
  readonly volumeDose_Gy: number;
  /** The same without the pulses' fluctuation: what was to be expected of such a reading at that time, in Gy. */
  readonly expectedDose_Gy: number;
  /** Light in each channel, in nC as the reader's gain shows it. */
  readonly light_nC: PerChannel;
  readonly signals_nC: PerChannel;
  readonly monitor?: number;
  readonly temperature_C: number;
  /** What a chamber in the detector's place reads of the dose that was meant, without its calibration's error. */
  readonly chamber_Gy: number;
}

/** Takes the readings, one after the other; the dose of each ages the fibre for the next. */
export function expose(
  laboratory: Laboratory,
  shots: readonly Shot[],
  course: readonly Output[],
  errors: TypeBErrors,
  seed: number,
): Exposure[] {
  const average = averaging(laboratory, errors);
  const { effects, room } = laboratory;
  const start_C = room.temperature_C + (effects.noise ? room.spread_C * new RandomStream(seed, "room").normal() : 0);
  let since_Gy = 0;
  return shots.map((shot) => {
    // drift and walk are noise too: without it the output is what it should be
    const { expected, delivered } = effects.noise ? course[shot.number]! : { expected: 1, delivered: 1 };
    const output = { expected: shot.output * expected, delivered: shot.output * delivered };
    const temperature_C = laboratory.physicist.writes.temperature
      ? start_C + (room.drift_perHour * shot.time_s) / 3600
      : errors.temperature_C(shot.series);
    const moment: Moment = { output, average: average(shot), temperature_C, since_Gy };
    const exposure = take(laboratory, shot, moment, errors, seed);
    since_Gy += exposure.volumeDose_Gy;
    return exposure;
  });
}

/** What is so at the moment of a shot. */
interface Moment {
  readonly output: Output;
  /** Dose to the active volume over that at the field's centre. */
  readonly average: number;
  readonly temperature_C: number;
  readonly since_Gy: number;
}

function take(
  laboratory: Laboratory,
  shot: Shot,
  { output, average, temperature_C, since_Gy }: Moment,
  errors: TypeBErrors,
  seed: number,
): Exposure {
  const { beam, fibre, reader, monitor, physicist, effects } = laboratory;
  const { field, number, time_s } = shot;
  const noise = effects.noise ? 1 : 0;
  const meant_Gy = field ? beam.dosePerMU_Gy * shot.mu * output.delivered * trueOutputFactor(beam, field.aperture) : 0;
  const equality = shot.series === "separation" ? errors.doseEquality(shot.condition) : 1;
  const centreDose_Gy = meant_Gy * shot.dose * equality;
  const volumeDose_Gy = centreDose_Gy * average;
  // where its correction is more than one the detector answers less than in the reference field
  const { reference } = physicist.plan.outputFactors;
  const corrected = shot.series === "output-factors" && shot.condition !== reference.name;
  const light = lightOf(
    { ...fibre, temperatureCoefficient_perK: errors.temperatureCoefficient_perK },
    {
      volumeDose_Gy: volumeDose_Gy / (corrected ? errors.outputCorrection : 1),
      centreDose_Gy,
      fibre_mm: field?.fibre_mm ?? 0,
      angle_deg: shot.angle_deg,
      warmth_K: temperature_C - physicist.referenceTemperature_C,
      since_Gy,
      stemFactor: shot.stem,
    },
  );
  const seen: PerChannel = [light[0] * shot.light[0], light[1] * shot.light[1]];
  const { duration_s, extraRate_perS } = shot;
  const circumstances = { time_s, duration_s, extraRate: extraRate_perS, noiseFactor: noise * shot.noise };
  const random = (instrument: string) => new RandomStream(seed, instrument, number);
  const signals_nC = readingOf(reader, seen, circumstances, random("reader"));
  const side = field ? sideOfEqualArea(field.aperture) : 0;
  const { referenceSide_mm } = beam;
  return {
    shot,
    centreDose_Gy,
    volumeDose_Gy,
    expectedDose_Gy: (volumeDose_Gy * output.expected) / output.delivered,
    light_nC: [reader.gain[0] * seen[0], reader.gain[1] * seen[1]],
    signals_nC,
    ...(monitor &&
      field && {
        monitor:
          shot.monitor *
          monitorReading(monitor, shot.mu * output.delivered, side, referenceSide_mm, noise, random("monitor")),
      }),
    temperature_C,
    chamber_Gy: meant_Gy * (1 + noise * physicist.chamberNoise * random("chamber").normal()),
  };
}

/** Dose to the active volume over that at the field's centre, remembered while nothing is moved. */
function averaging({ beam, fibre, effects }: Laboratory, errors: TypeBErrors): (shot: Shot) => number {
  const found = new Map<string, number>();
  return ({ field, setup, condition, displaced_mm }) => {
    if (!field) return 0;
    const { aperture } = field;
    const [x, y] = errors.displacement_mm(setup);
    const at: PerChannel = [x + displaced_mm[0], y + displaced_mm[1]];
    const key = `${setup} ${apertureKey(aperture)} ${at.join(" ")}`;
    const known = found.get(key);
    if (known !== undefined) return known;
    const centred = effects.volumeAveraging ? trueAverage(beam, fibre, aperture, [0, 0]) : 1;
    const moved = effects.volumeAveraging
      ? trueAverage(beam, fibre, aperture, at) / centred
      : trueProfile(beam, aperture, at);
    const average = moved / volumeCorrection(centred, errors.averaging(condition));
    found.set(key, average);
    return average;
  };
}

/** k_vol: dose at the centre over the mean over the volume, with a loss so many times that of the profile. */
export function volumeCorrection(average: number, loss: number): number {
  return 1 + (1 / average - 1) * loss;
}
