import { type Model, ONE, propagate, type Scalar, sum } from "@alcedo-dosimetry/metrology";
import { addDerived } from "./chain.ts";

/** One visit to the reference field. */
export interface ReferenceVisit {
  readonly corrected: Scalar;
  readonly time: number | undefined;
  readonly count: number;
}

/** The reference over a series, and what a field measured at some time is divided by. */
export interface Reference {
  /** S_ref at the time of each field, in the order given. */
  readonly at: readonly Scalar[];
  /** Each visit over the first, less one, in the order of the visits. */
  readonly moves: readonly Scalar[];
  /** What each field is divided by over the first visit, less one, in the order of the fields. */
  readonly fieldMoves: readonly Scalar[];
  /** Largest move over the series: (S_max − S_min)/S_min; undefined with a single visit. */
  readonly drift: Scalar | undefined;
  /** Largest move from one visit to the next, S_(k+1)/S_k − 1, where fields between them take the reference of their time. */
  readonly step: Scalar | undefined;
  /** Standard deviation of the wander between two visits that their own scatter does not explain, as a fraction. */
  readonly wander: number;
}

/**
 * The reference between its visits: linear in time between the visits before and after, the nearest outside. What a
 * random walk could have done in between is added: u² = w(1 − w)·τ², τ² = max(0, mean of Δ_k² − u²(Δ_k)) over the gaps,
 * with as many degrees of freedom as gaps; fields in one gap share the walk (a Brownian bridge).
 *
 * Without times: the mean of the visits, with the larger of the scatter within and between them.
 *
 * @param visits in the order in which they were made.
 * @param fields their names and mean times.
 */
export function addReference(model: Model, visits: readonly ReferenceVisit[], fields: Fields): Reference {
  const drift = visits.length > 1 ? largestMove(visits) : undefined;
  const timed = [...visits, ...fields].every(({ time }) => time !== undefined);
  const step = visits.length > 1 && timed ? largestStep(visits) : undefined;
  const found = lookUp(model, visits, fields, timed);
  const move = (signal: Scalar) => signal.over(visits[0]!.corrected).minus(1);
  return {
    ...found,
    drift,
    step,
    moves: visits.map(({ corrected }) => move(corrected)),
    fieldMoves: found.at.map(move),
  };
}

type Fields = readonly { readonly name: string; readonly time: number | undefined }[];

function lookUp(
  model: Model,
  visits: readonly ReferenceVisit[],
  fields: Fields,
  timed: boolean,
): Pick<Reference, "at" | "wander"> {
  if (visits.length === 1) return { at: fields.map(() => visits[0]!.corrected), wander: 0 };
  return timed ? interpolated(model, visits, fields) : averaged(model, visits, fields);
}

function largestMove(visits: readonly ReferenceVisit[]): Scalar {
  const corrected = visits.map((visit) => visit.corrected);
  const most = corrected.reduce((a, b) => (b.value > a.value ? b : a));
  const least = corrected.reduce((a, b) => (b.value < a.value ? b : a));
  return most.over(least).minus(1);
}

function largestStep(visits: readonly ReferenceVisit[]): Scalar {
  const size = (k: number) => Math.abs(visits[k]!.corrected.value / visits[k - 1]!.corrected.value - 1);
  let largest = 1;
  for (let k = 2; k < visits.length; k++) if (size(k) > size(largest)) largest = k;
  return visits[largest]!.corrected.over(visits[largest - 1]!.corrected).minus(1);
}

/** Relative moves between neighbouring visits, and how far τ² they go beyond their own uncertainty. */
function wanderOf(model: Model, visits: readonly ReferenceVisit[]): number {
  const excess = visits.slice(1).map((visit, k) => {
    const move = visit.corrected.over(visits[k]!.corrected).minus(1);
    const { value, u } = propagate(model, move);
    return value * value - u * u;
  });
  return rootOfExcess(excess.reduce((a, b) => a + b, 0) / excess.length);
}

/** The root of a variance that is an excess, and may come out below zero; none where the reference has no signal. */
function rootOfExcess(variance: number): number {
  return variance > 0 && Number.isFinite(variance) ? Math.sqrt(variance) : 0;
}

function interpolated(
  model: Model,
  visits: readonly ReferenceVisit[],
  fields: Fields,
): Pick<Reference, "at" | "wander"> {
  const wander = wanderOf(model, visits);
  const last = visits.length - 1;
  const places = fields.map(({ time }) => {
    const after = visits.findIndex((visit) => visit.time! > time!);
    if (after === 0) return { gap: 0, w: 0 };
    if (after < 0) return { gap: last - 1, w: 1 };
    const [from, to] = [visits[after - 1]!.time!, visits[after]!.time!];
    return { gap: after - 1, w: (time! - from) / (to - from) };
  });
  const at = new Array<Scalar>(fields.length);
  for (let gap = 0; gap < last; gap++) {
    const inside = fields.map((_, f) => f).filter((f) => places[f]!.gap === gap);
    if (inside.length === 0) continue;
    const walk = model.estimates({
      key: `output-factors/reference-gap-${gap + 1}`,
      type: "A",
      dof: last,
      group: "output-factors/reference-wander",
      // a walk pinned at both ends: covariance w(1 − w′) for w ≤ w′
      covariance: inside.flatMap((f) =>
        inside.map((g) => {
          const [low, high] = [places[f]!.w, places[g]!.w].sort((a, b) => a - b) as [number, number];
          return wander * wander * low * (1 - high);
        }),
      ),
      elements: inside.map((f) => ({
        name: fields[f]!.name,
        symbol: `δ_ref`,
        label: `wander of the reference while ${fields[f]!.name} was read`,
        unit: ONE,
        value: 0,
      })),
    });
    inside.forEach((f, i) => {
      const { w } = places[f]!;
      const [from, to] = [visits[gap]!.corrected, visits[gap + 1]!.corrected];
      if (w === 0 || w === 1) {
        at[f] = w === 0 ? from : to;
        return;
      }
      const { name } = fields[f]!;
      const label = `time of ${name}, from 0 at the visit to the reference before it to 1 at the one after`;
      const part = addDerived(model, "output-factors", `${name}/time between visits`, `w_${name}`, label, w);
      at[f] = from.plus(to.minus(from).times(part)).times(walk[i]!.plus(1));
    });
  }
  return { at, wander };
}

function averaged(
  model: Model,
  visits: readonly ReferenceVisit[],
  fields: readonly unknown[],
): Pick<Reference, "at" | "wander"> {
  const k = visits.length;
  const mean = sum(visits.map(({ corrected }) => corrected.times(1 / k)));
  const ratio = visits.map(({ corrected }) => corrected.value / mean.value - 1);
  const between = ratio.reduce((total, r) => total + r * r, 0) / (k * (k - 1));
  // what the visits' own scatter explains of it: each visit against the mean of all
  const within = visits.reduce((total, { corrected }) => {
    const { u } = propagate(model, corrected.over(mean).minus(1));
    return total + (u * u) / (k * (k - 1));
  }, 0);
  const extra = rootOfExcess(between - within);
  const wander = model.estimate({
    key: "output-factors/reference-scatter",
    symbol: "δ_ref",
    label: "scatter of the reference between its visits",
    type: "A",
    unit: ONE,
    value: 0,
    u: extra,
    dof: k - 1,
  });
  const reference = mean.times(wander.plus(1));
  return { at: fields.map(() => reference), wander: extra * Math.sqrt(k) };
}
