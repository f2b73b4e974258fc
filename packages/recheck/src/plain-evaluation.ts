import { backgroundRates } from "./background-rate.ts";
import type { Shift } from "./elementary-input.ts";
import { equivalentSquare, fieldWidths } from "./equivalent-square.ts";
import type { Corrections } from "./field-corrections.ts";
import { dot } from "./linear-equations.ts";
import { gathered, type Visit } from "./measured.ts";
import { type NetSignal, visitMeans } from "./net-signal.ts";
import type { Prepared, SeparationVisit } from "./prepared.ts";
import { type ReferenceSignal, referenceAt } from "./reference-signal.ts";
import { fitSeparation, type SeparationFit } from "./separation-fit.ts";
import { averagesApart, tabledCorrection } from "./tabled-correction.ts";

/** Numbers of one pass, by id; those in brackets serve the uncertainty alone. */
export type Numbers = Map<string, number>;

/** The reference's signal at a later visit over that at an earlier one, or the other way round, minus one. */
export const moveKey = (from: number, to: number) => `(move of the reference from ${from} to ${to})`;
/** The reference at one visit. */
export const visitKey = (key: string) => `(reference at ${key})`;
/** The reference under a field. */
export const referenceKey = (condition: string) => `(reference of ${condition})`;

/** One pass from readings to results, with the inputs shifted. */
export function evaluatePlainly(prepared: Prepared, corrections: Corrections, shift: Shift): Numbers {
  const { channels, assumptions, background, separation, calibration, fields } = prepared;
  const numbers: Numbers = new Map();
  const rates = backgroundRates(background, shift);
  for (const [c, rate] of rates?.mean.entries() ?? []) numbers.set(`background.${channels[c]!}`, rate);
  const means = new Map<string, NetSignal>();
  for (const visit of [...separation, ...calibration, ...fields]) {
    means.set(visit.key, visitMeans(visit, rates, assumptions, shift));
  }
  const known = knownWeights(prepared, shift, numbers);
  if (separation.length === 0 && !known) return numbers;
  const fit = known ? undefined : separate(prepared, means, shift, numbers);
  const weights = known?.weights ?? fit!.weights;
  const x = averaged(calibration, means, "compared");
  // Signals of a known dose are per dose, and their intercept one over the coefficient.
  if (fit?.tied !== undefined) numbers.set("separation.coefficient", 1 / fit.tied);
  if (x) numbers.set("calibration.coefficient", 1 / dot(weights, x));
  const before = known?.coefficient ?? (fit?.tied === undefined ? undefined : 1 / fit.tied);
  const coefficient = x ? 1 / dot(weights, x) : before;
  if (fit) verify(prepared, fit, means, shift, coefficient, numbers);
  for (const [series, visits] of [
    ["separation", separation],
    ["calibration", calibration],
    ["output-factors", fields],
  ] as const) {
    for (const [condition, own] of gathered<Visit>(visits, (visit) => visit.condition)) {
      readings(`${series}.${condition}`, weights, averaged(own, means, "raw")!, coefficient, numbers);
    }
  }
  outputFactors(prepared, corrections, weights, means, shift, numbers);
  return numbers;
}

/** Weights and coefficient of another day, with their errors. */
function knownWeights(
  { characterisation, channels }: Prepared,
  shift: Shift,
  numbers: Numbers,
): { weights: number[]; coefficient: number | undefined } | undefined {
  if (!characterisation) return undefined;
  const values = characterisation.quantities.map(({ id, value }) => {
    const moved = value + shift(`characterisation/${id}`);
    numbers.set(id, moved);
    return moved;
  });
  const others = values.slice(0, channels.length - 1);
  return {
    weights: [1, ...(channels.length === 2 ? [-others[0]!] : others)],
    coefficient: values[channels.length - 1],
  };
}

/** The fit's point of a condition: its means, relieved of what its dose differs from its group's by. */
function equalised(visit: SeparationVisit, means: ReadonlyMap<string, NetSignal>, shift: Shift): number[] {
  const equality = 1 + shift(`${visit.key}/dose-equality`);
  return means.get(visit.key)!.compared.map((q) => q / equality);
}

function separate(
  { channels, assumptions, separation, weightCovariances }: Prepared,
  means: ReadonlyMap<string, NetSignal>,
  shift: Shift,
  numbers: Numbers,
): SeparationFit {
  const fitted = separation.filter((visit) => visit.role === "fit");
  const points = fitted.map((visit) => ({
    q: equalised(visit, means, shift),
    covariance: weightCovariances.get(visit.key)!,
    group: visit.group,
  }));
  const tied = new Map(fitted.flatMap(({ group, dose_u }) => (dose_u === undefined ? [] : [[group, dose_u] as const])));
  const fit = fitSeparation(points, assumptions.doseEquality_u_percent / 100, tied);
  for (const [c, weight] of fit.weights.entries()) {
    if (c === 0) continue;
    if (channels.length === 2) numbers.set("separation.stem-ratio", -weight);
    else numbers.set(`separation.weight.${channels[c]!}`, weight);
  }
  numbers.set("separation.chi2", fit.chi2);
  const loads = points.map(({ q, group }) => q[1]! / fit.intercepts.get(group)!);
  numbers.set("separation.contrast", Math.max(...loads) / Math.min(...loads));
  return fit;
}

function verify(
  { separation }: Prepared,
  { weights, intercepts, tied }: SeparationFit,
  means: ReadonlyMap<string, NetSignal>,
  shift: Shift,
  coefficient: number | undefined,
  numbers: Numbers,
): void {
  for (const visit of separation) {
    if (visit.role !== "verify") continue;
    const known = visit.dose_u === undefined ? undefined : (tied ?? (coefficient && 1 / coefficient));
    const expected = intercepts.get(visit.group) ?? known;
    if (expected === undefined) continue;
    numbers.set(`separation.verify.${visit.condition}`, dot(weights, equalised(visit, means, shift)) / expected - 1);
  }
}

/** The mean over all readings of some visits, by channel. */
function averaged(
  visits: readonly Visit[],
  means: ReadonlyMap<string, NetSignal>,
  kind: keyof NetSignal,
): number[] | undefined {
  if (visits.length === 0) return undefined;
  const count = visits.reduce((sum, visit) => sum + visit.readings.length, 0);
  return means
    .get(visits[0]!.key)!
    [kind].map((_, c) =>
      visits.reduce((sum, visit) => sum + (visit.readings.length / count) * means.get(visit.key)![kind][c]!, 0),
    );
}

function readings(
  name: string,
  weights: readonly number[],
  q: readonly number[],
  coefficient: number | undefined,
  numbers: Numbers,
): void {
  const signal = dot(weights, q);
  numbers.set(`signal.${name}`, signal);
  if (coefficient !== undefined) numbers.set(`dose.${name}`, coefficient * signal);
  if (q.length === 2) numbers.set(`stem-load.${name}`, q[1]! / signal);
  numbers.set(`subtracted-fraction.${name}`, 1 - signal / q[0]!);
}

function outputFactors(
  { assumptions, fields, corrections: table }: Prepared,
  corrections: Corrections,
  weights: readonly number[],
  means: ReadonlyMap<string, NetSignal>,
  shift: Shift,
  numbers: Numbers,
): void {
  const signalOf = (visit: Visit) => dot(weights, means.get(visit.key)!.compared);
  const references = fields.filter((visit) => visit.role === "reference");
  const visits = references.map((visit) => ({
    signal: signalOf(visit),
    ...(visit.time !== undefined && { time: visit.time }),
  }));
  for (const [k, { signal }] of visits.entries()) {
    numbers.set(visitKey(references[k]!.key), signal);
    for (const [l, other] of visits.entries()) if (l !== k) numbers.set(moveKey(k, l), other.signal / signal - 1);
  }
  const common = assumptions.outputCorrection.value + shift("output-correction");
  const apart = averagesApart(table);
  const link = assumptions.intermediateLink.value + shift("intermediate-link");
  const ofReference = references[0] && corrections.of(references[0].field, shift);
  for (const { condition, field } of new Map(fields.map((visit) => [visit.condition, visit])).values()) {
    const { volumeAveraging: volume, positioning: position } = corrections.of(field, shift);
    if (volume !== undefined && apart) numbers.set(`volume-averaging.${condition}`, volume);
    if (position !== undefined) numbers.set(`positioning.${condition}`, position);
    numbers.set(`equivalent-square.${condition}`, equivalentSquare(field.shape, fieldWidths(field, shift)));
  }
  for (const visit of fields) {
    if (visit.role === "reference" || !ofReference) continue;
    const { condition, field } = visit;
    const own = corrections.of(field, shift);
    const reference: ReferenceSignal = referenceAt(visits, visit, shift);
    numbers.set(referenceKey(condition), reference.signal);
    const k = table && [visit, references[0]!].map((one) => tabledCorrection(table, one, shift));
    const other = k ? k[0]! / k[1]! : common;
    if (k?.includes(undefined)) continue;
    if (k) numbers.set(`output-correction.${condition}`, other);
    numbers.set(
      `output-factor.${condition}`,
      (signalOf(visit) / reference.signal) *
        (apart ? (own.volumeAveraging ?? 1) / (ofReference.volumeAveraging ?? 1) : 1) *
        ((own.positioning ?? 1) / (ofReference.positioning ?? 1)) *
        other *
        link,
    );
  }
}
