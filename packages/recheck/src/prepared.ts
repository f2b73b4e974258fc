import type {
  Assumptions,
  CalibrationReading,
  Characterisation,
  Interpretation,
  OutputFactorReading,
  Reading,
  SeparationReading,
  SeriesReadings,
} from "@alcedo-dosimetry/campaign";
import {
  type BackgroundGroup,
  type BackgroundRates,
  backgroundGroups,
  backgroundInputs,
  backgroundRates,
  readerNoise,
} from "./background-rate.ts";
import { atEstimates, type InputBlock, single } from "./elementary-input.ts";
import { gathered, lastDigits, type Measured, meanTime, type Visit } from "./measured.ts";
import { type NetSignal, netSignal, readingInputs } from "./net-signal.ts";
import { fieldNormalisation, type Normalisation, normalisation } from "./normalisation.ts";
import { type Repeats, seriesScatter } from "./scatter.ts";
import { tableInputs } from "./tabled-correction.ts";

/** A visit of the separation series. */
export interface SeparationVisit extends Visit {
  readonly group: string;
  readonly role: SeparationReading["role"];
  /** Where the group's dose is known: the relative standard uncertainty of the group's own part. */
  readonly dose_u?: number;
}

/** A visit of the output-factor series. */
export interface FieldVisit extends Visit {
  readonly role: OutputFactorReading["role"];
  /** The row that describes the field; all rows of the condition agree. */
  readonly field: OutputFactorReading;
}

/** A campaign in the form in which the arithmetic goes over it again and again. */
export interface Prepared {
  readonly channels: readonly string[];
  readonly assumptions: Assumptions;
  readonly background: readonly BackgroundGroup[];
  readonly separation: readonly SeparationVisit[];
  readonly calibration: readonly Visit[];
  readonly fields: readonly FieldVisit[];
  /** Covariance of the compared means of each visit, by its key, last digit included: it weighs the fit, held constant. */
  readonly weightCovariances: ReadonlyMap<string, readonly (readonly number[])[]>;
  readonly inputs: readonly InputBlock[];
  /** The table of output corrections, where there is one. */
  readonly corrections?: SeriesReadings["output-corrections"];
  /** Weights and coefficient of another day, where the campaign has no separation of its own. */
  readonly characterisation?: Characterisation;
}

/** Takes the typed readings apart into visits, and lists everything that is uncertain about them. */
export function prepare(interpretation: Interpretation, assumptions: Assumptions): Prepared {
  const { channels, series, characterisation } = interpretation;
  const background = backgroundGroups(series.background);
  const separation = separationVisits(series.separation?.readings ?? []);
  const calibration = calibrationVisits(series.calibration?.readings ?? []);
  const fields = fieldVisits(series["output-factors"]?.readings ?? []);
  const weightCovariances = new Map<string, number[][]>();
  const inputs: InputBlock[] = backgroundInputs(background, channels.length);
  const rates = backgroundRates(background, atEstimates);
  const noise = readerNoise(background, channels.length);
  for (const [visits, typed] of [
    [separation, series.separation],
    [calibration, series.calibration],
    [fields, series["output-factors"]],
  ] as const) {
    if (!typed || visits.length === 0) continue;
    const digits = lastDigits(typed.readings);
    inputs.push(...readingInputs(visits, digits, assumptions));
    const repeats = visits.map((visit) => repeatsOf(visit, digits, rates, assumptions, noise));
    const scatter = seriesScatter(repeats, "relative", channels.length);
    visits.forEach(({ key, readings }, v) => {
      const covariance = scatter.covariances[v]!;
      inputs.push({ keys: covariance.map((_, c) => `${key}/repeats/${c}`), covariance });
      weightCovariances.set(key, comparedPart(scatter.pooled[v]!, repeats[v]!.digits, readings.length));
    });
  }
  inputs.push(single("temperature-coefficient", assumptions.temperatureCoefficient_perK.u));
  for (const { key } of separation)
    inputs.push(single(`${key}/dose-equality`, assumptions.doseEquality_u_percent / 100));
  for (const [group, dose_u] of new Map(separation.map((visit) => [visit.group, visit.dose_u]))) {
    if (dose_u !== undefined) inputs.push(single(`dose/${group}`, dose_u));
  }
  // One for the whole table, in standard uncertainties: independent rows would shrink it.
  if (calibration.length > 0) inputs.push(single("calibration/dose", 1));
  const corrections = series["output-corrections"];
  if (corrections) inputs.push(...tableInputs(corrections, fields));
  else inputs.push(single("output-correction", assumptions.outputCorrection.u));
  inputs.push(single("intermediate-link", assumptions.intermediateLink.u));
  if (characterisation)
    inputs.push({
      keys: characterisation.quantities.map(({ id }) => `characterisation/${id}`),
      covariance: characterisation.covariance,
    });
  return {
    channels,
    assumptions,
    background,
    separation,
    calibration,
    fields,
    weightCovariances,
    inputs,
    ...(corrections && { corrections }),
    ...(characterisation && { characterisation }),
  };
}

/** Compared and raw signals side by side: the same repeats leave errors in both, and they are correlated. */
function repeatsOf(
  visit: Visit,
  digits: readonly number[],
  rates: BackgroundRates | undefined,
  assumptions: Assumptions,
  noise: readonly (readonly number[])[] | undefined,
): Repeats {
  const net = visit.readings.map((reading) => netSignal(reading, rates, assumptions, atEstimates));
  const gain = (kind: keyof NetSignal, c: number) => {
    const up = visit.readings.map((reading) =>
      netSignal(reading, rates, assumptions, (key) => (key === `${reading.key}/digit/${c}` ? digits[c]! : 0)),
    );
    return up.reduce((sum, own, i) => sum + own[kind][c]! - net[i]![kind][c]!, 0) / net.length;
  };
  const last = (["compared", "raw"] as const).flatMap((kind) => digits.map((_, c) => gain(kind, c)));
  const channel = last.map((_, a) => a % digits.length);
  const gains = last.map((shift, a) => shift / digits[channel[a]!]!);
  return {
    rows: net.map(({ compared, raw }) => [...compared, ...raw]),
    digits: last,
    ...(noise && {
      reader: gains.map((g, a) => gains.map((h, b) => noise[channel[a]!]![channel[b]!]! * g * h)),
    }),
  };
}

function comparedPart(
  covariance: readonly (readonly number[])[],
  digits: readonly number[],
  count: number,
): number[][] {
  const n = digits.length / 2;
  return covariance
    .slice(0, n)
    .map((row, c) => row.slice(0, n).map((cell, d) => cell + (c === d ? (digits[c]! * digits[c]!) / 12 / count : 0)));
}

function measured(series: string, reading: Reading, factor: number, dose?: Measured["dose"]): Measured {
  const { id, time, duration_s, temperature_C, signals } = reading;
  return {
    key: `${series}/${id}`,
    signals,
    factor,
    ...(time !== undefined && { time }),
    ...(duration_s !== undefined && { duration_s }),
    ...(temperature_C !== undefined && { temperature_C }),
    ...(dose && { dose }),
  };
}

function visitOf(key: string, condition: string, readings: readonly Measured[]): Visit {
  const time = meanTime(readings);
  return { key, condition, readings, ...(time !== undefined && { time }) };
}

function separationVisits(readings: readonly SeparationReading[]): SeparationVisit[] {
  const factor = normalisation(readings);
  const groups = gathered(readings, ({ doseGroup }) => doseGroup);
  return [...gathered(readings, ({ condition }) => condition)].map(([condition, rows]) => {
    const first = rows[0]!;
    const taken = rows.map((row) => {
      const dose = row.dose_Gy === undefined ? undefined : { Gy: row.dose_Gy, group: row.doseGroup, shared_u: 0 };
      return measured("separation", row, factor(row), dose);
    });
    return {
      ...visitOf(`separation/${condition}`, condition, taken),
      group: first.doseGroup,
      role: first.role,
      ...(first.dose_Gy !== undefined && { dose_u: relativeDose(groups.get(first.doseGroup)!) }),
    };
  });
}

/** The dose's own standard uncertainty over the dose of the rows. */
function relativeDose(rows: readonly SeparationReading[]): number {
  return rows.reduce((sum, { dose_Gy, dose_u_Gy = 0 }) => sum + dose_u_Gy / dose_Gy!, 0) / rows.length;
}

function calibrationVisits(readings: readonly CalibrationReading[]): Visit[] {
  return [...gathered(readings, ({ condition }) => condition)].map(([condition, rows]) => {
    const taken = rows.map((row) =>
      measured("calibration", row, 1, { Gy: row.dose_Gy, shared_u: row.dose_u_percent / 100 }),
    );
    return visitOf(`calibration/${condition}`, condition, taken);
  });
}

/** The reference read again with other readings between counts as another visit; a field has one. */
function fieldVisits(readings: readonly OutputFactorReading[]): FieldVisit[] {
  const timed = meanTime(readings) !== undefined;
  const inOrder = timed ? [...readings].sort((a, b) => a.time! - b.time!) : readings;
  const spans = new Map<OutputFactorReading, number>();
  let span = 0;
  inOrder.forEach((reading, i) => {
    if (i > 0 && reading.condition !== inOrder[i - 1]!.condition) span++;
    spans.set(reading, span);
  });
  const nameOf = (reading: OutputFactorReading) =>
    reading.role === "field" ? reading.condition : `${reading.condition}@${spans.get(reading)!}`;
  const visits = [...gathered(inOrder, nameOf)];
  const factor: Normalisation = fieldNormalisation(visits.map(([, rows]) => rows));
  return visits.map(([name, rows]) => ({
    ...visitOf(
      `output-factors/${name}`,
      rows[0]!.condition,
      rows.map((row) => measured("output-factors", row, factor(row))),
    ),
    role: rows[0]!.role,
    field: rows[0]!,
  }));
}
