import { atEstimates, type InputBlock, single } from "./elementary-input.ts";
import { moveKey, referenceKey, visitKey } from "./plain-evaluation.ts";
import type { FieldVisit, Prepared } from "./prepared.ts";
import { type Sensitivities, uncertainty } from "./propagation-by-differences.ts";
import { referenceAt, wanderKey } from "./reference-signal.ts";

/** `τ² = max(0, mean[Δ² − u²(Δ)])` over the gaps between successive visits. */
export function wanderVariance(moves: readonly { readonly value: number; readonly u: number }[]): number {
  if (moves.length === 0) return 0;
  return Math.max(0, moves.reduce((sum, { value, u }) => sum + (value * value - u * u), 0) / moves.length);
}

const fieldsOf = ({ fields }: Prepared) => fields.filter((visit) => visit.role === "field");
const referencesOf = ({ fields }: Prepared) => fields.filter((visit) => visit.role === "reference");

/** A step for the reference under each field: how uncertain it is, is known only after the moves'. */
export function wanderSteps(prepared: Prepared): Map<string, number> {
  return new Map(fieldsOf(prepared).map(({ condition }) => [wanderKey(condition), 1e-5]));
}

/** The largest move of the reference over the series: its highest visit over its lowest. */
export function largestMove(prepared: Prepared, values: ReadonlyMap<string, number>): string | undefined {
  const visits = referencesOf(prepared).map(({ key }) => values.get(visitKey(key)));
  if (visits.length < 2 || visits.some((signal) => signal === undefined)) return undefined;
  const signals = visits.map((signal) => signal!);
  const [low, high] = [Math.min(...signals), Math.max(...signals)];
  const from = signals.indexOf(low);
  const to = high > low ? signals.indexOf(high) : from === 0 ? 1 : 0;
  return moveKey(from, to);
}

/**
 * What the reference may have done while a field was read. With times, `w(1 − w)τ²`; without, what the spread of the
 * visits exceeds the uncertainty of their mean by.
 */
export function wanderInputs(
  prepared: Prepared,
  sensitivity: Sensitivities,
  blocks: readonly InputBlock[],
): InputBlock[] {
  const references = referencesOf(prepared);
  if (references.length < 2 || !sensitivity.values.has(moveKey(0, 1))) return [];
  const timed = prepared.fields.every((visit) => visit.time !== undefined);
  const moves = references.slice(1).map((_, k) => ({
    value: sensitivity.values.get(moveKey(k, k + 1))!,
    u: uncertainty(moveKey(k, k + 1), sensitivity, blocks),
  }));
  const tau2 = wanderVariance(moves);
  return fieldsOf(prepared).map((field) => {
    const variance = timed ? exposure(references, field) * tau2 : excess(references, field, sensitivity, blocks);
    return single(wanderKey(field.condition), Math.sqrt(variance));
  });
}

function exposure(references: readonly FieldVisit[], field: FieldVisit): number {
  const visits = references.map(({ time }) => ({ signal: 1, ...(time !== undefined && { time }) }));
  return referenceAt(visits, field, atEstimates).exposure;
}

/** "The larger of within and between": what has to be added to within to make it so. */
function excess(
  references: readonly FieldVisit[],
  { condition }: FieldVisit,
  sensitivity: Sensitivities,
  blocks: readonly InputBlock[],
): number {
  const signals = references.map(({ key }) => sensitivity.values.get(visitKey(key))!);
  const mean = signals.reduce((sum, signal) => sum + signal, 0) / signals.length;
  const squares = signals.reduce((sum, signal) => sum + (signal - mean) * (signal - mean), 0);
  const between = squares / (signals.length - 1) / signals.length;
  const readings = new Set(references.flatMap((visit) => visit.readings.map(({ key }) => key)));
  const visits = new Set(references.map(({ key }) => key));
  const own = blocks.filter(({ keys }) => keys.some((key) => belongs(key, readings, visits)));
  const within = uncertainty(referenceKey(condition), sensitivity, own);
  return Math.max(0, between - within * within) / (mean * mean);
}

function belongs(key: string, readings: ReadonlySet<string>, visits: ReadonlySet<string>): boolean {
  const owner = /^(.*)\/(?:repeats|digit)\/\d+$/.exec(key)?.[1];
  return owner !== undefined && (readings.has(owner) || visits.has(owner));
}
