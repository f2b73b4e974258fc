import {
  type DeviateSurface,
  deviateSurface,
  gaussLegendre,
  type Model,
  mean,
  ONE,
  type Scalar,
} from "@alcedo-dosimetry/metrology";
import {
  type ActiveVolume,
  COARSE,
  type Fineness,
  finenessFor,
  type VolumePoints,
  volumePoints,
} from "./active-volume.ts";
import type { FieldModel } from "./field-model.ts";
import { centreOf, PROFILES, slotsOf } from "./field-profile.ts";
import { MILLIMETRE } from "./length-unit.ts";
import type { Placement } from "./placement.ts";
import { placementSpread } from "./placement-spread.ts";
import { averageOf, type PlainField, plainBlurredBy, plainField } from "./plain-field.ts";

/** The corrections that the size of the tip and its place ask for in one field. */
export interface TipCorrections {
  /** k_vol = D(centre)/⟨D⟩_V. */
  readonly volumeAveraging: Scalar;
  /** k_pos = ⟨D⟩_V(centre)/E⟨D⟩_V(δ), without the spread of the single placement. */
  readonly positioning: Scalar;
  /** Relative spread of the loss by placement, sd(L)/E[L]. */
  readonly placementSpread: number;
  /** E⟨D⟩_V/⟨D⟩_V(δ) − 1 over the two displacements, each over its standard uncertainty; the field as estimated. */
  readonly placement: () => DeviateSurface;
}

/** What the curvature of the corrections in the blur adds to their means, E[k(σ)] − k(E[σ]). */
export interface CurvatureShifts {
  readonly volumeAveraging: number;
  readonly positioning: number;
}

/** Part of its standard deviation that the surface of a placement may be off. */
const SURFACE = 1e-3;

/**
 * Volume averaging and positioning of one field.
 *
 * The mean over normal displacements needs no quadrature of its own: a field blurred by σ, displaced by a normal δ of
 * standard uncertainty u, is on average the field blurred by √(σ² + u²). Only the spread of the loss, which enters as a
 * standard uncertainty, is taken by quadrature.
 */
export class TipGeometry {
  readonly #model: Model;
  readonly #volume: ActiveVolume;
  /** Points for the spread of the placement. */
  readonly #coarse: VolumePoints;
  readonly #tables = new Map<string, { columns: [number, number, number]; weights: number; rows: number[] }>();

  constructor(model: Model, volume: ActiveVolume) {
    this.#model = model;
    this.#volume = volume;
    this.#coarse = volumePoints(volume, COARSE, true);
  }

  corrections(field: FieldModel, placement: Placement): TipCorrections {
    const [dx, dy] = placement.offset;
    const still = this.#average(field, [0, 0]);
    const moved =
      placement.u === 0 && dx === 0 && dy === 0
        ? still
        : this.#average(blurredBy(field, placement.u), placement.offset);
    const plain = plainOf(field);
    const spread = placement.u === 0 ? 0 : placementSpread(plain, this.#coarse, this.#volume, placement);
    const mean = moved.value;
    return {
      volumeAveraging: centreOf(field).over(still),
      positioning: still.over(moved),
      placementSpread: spread,
      placement: () => {
        const points = this.#points(field, false);
        const loss = (first: number, second: number) =>
          mean / averageOf(plain, points, dx + placement.u * first, dy + placement.u * second) - 1;
        return deviateSurface(loss, 2, SURFACE * spread);
      },
    };
  }

  /**
   * What a rectangular distribution of the blur adds to the means of the corrections of a field, by Gauss–Legendre.
   *
   * @param sigma its mean and standard uncertainty in mm.
   * @param found the corrections at the mean.
   */
  curvature(
    field: FieldModel,
    widths: readonly [number, number],
    sigma: { readonly value: number; readonly u: number },
    nominal: boolean,
    { offset: [dx, dy], u }: Placement,
    found: Pick<TipCorrections, "volumeAveraging" | "positioning">,
  ): CurvatureShifts {
    const still = this.#points(field, true);
    const centred = dx === 0 && dy === 0;
    const moved = centred ? still : this.#points(field, false);
    const { nodes, weights } = gaussLegendre(BLURS);
    const means = [0, 0];
    nodes.forEach((node, i) => {
      const weight = weights[i]! / 2;
      if (2 * i + 1 === BLURS) {
        means[0]! += weight * found.volumeAveraging.value;
        means[1]! += weight * found.positioning.value;
        return;
      }
      const own = plainField(field.shape, widths, sigma.value + Math.sqrt(3) * sigma.u * node, nominal);
      const average = averageOf(own, still, 0, 0);
      means[0]! += (weight * averageOf(own, CENTRE, 0, 0)) / average;
      means[1]! += (weight * average) / averageOf(plainBlurredBy(own, u), moved, dx, dy);
    });
    return {
      volumeAveraging: means[0]! - found.volumeAveraging.value,
      positioning: means[1]! - found.positioning.value,
    };
  }

  /** ⟨D⟩ over the active volume at an offset, relative to the open field. */
  #average(field: FieldModel, offset: readonly [number, number]): Scalar {
    const { columns, weights, rows } = this.#table(field, offset);
    const program = PROFILES[field.shape];
    return mean(this.#model, { program, columns, rows, included: weights }, slotsOf(field)).means[0]!;
  }

  #fineness({ shape, sigmas }: FieldModel, centred: boolean): Fineness {
    const fineness = finenessFor(this.#volume, Math.min(sigmas[0].value, sigmas[1].value));
    // a round field over a round tip is the same in all directions
    const round = centred && shape === "circle" && this.#volume.axis === "along-beam";
    return round ? { ...fineness, around: 1 } : fineness;
  }

  /** The quadrature's points about the tip's centre. */
  #points(field: FieldModel, centred: boolean): VolumePoints {
    return volumePoints(this.#volume, this.#fineness(field, centred), !centred);
  }

  /** The quadrature's points as columns of the model, once for each offset and fineness. */
  #table(field: FieldModel, [dx, dy]: readonly [number, number]) {
    const centred = dx === 0 && dy === 0;
    const points = this.#points(field, centred);
    const { along, around } = this.#fineness(field, centred);
    const key = `${dx},${dy},${along},${around}`;
    const known = this.#tables.get(key);
    if (known) return known;
    const name = `active volume, ${along} × ${around} points`;
    const series = centred ? name : `${name}, at ${dx},${dy}`;
    const readings = points.x.map((_, i) => `${i + 1}`);
    const add = (symbol: string, values: readonly number[], unit = MILLIMETRE) =>
      this.#model.column({
        series,
        name: symbol,
        symbol,
        unit,
        readings,
        values: new Float64Array(values),
        points: true,
      });
    const x = points.x.map((own) => own + dx);
    const y = points.y.map((own) => own + dy);
    const r = x.map((own, i) => Math.sqrt(own * own + y[i]! * y[i]!));
    const table = {
      columns: [add("x", x), add("y", y), add("r", r)] as [number, number, number],
      weights: add("weight", points.weights, ONE),
      rows: readings.map((_, i) => i),
    };
    this.#tables.set(key, table);
    return table;
  }
}

/** Points of the rule over the blur, an odd number: the middle one is known. Good for 1e-8 but for the narrowest fields. */
const BLURS = 5;

/** The field's centre alone. */
const CENTRE: VolumePoints = { x: [0], y: [0], weights: [1] };

/** The field as it is on average when the tip is placed with that standard uncertainty. */
function blurredBy(field: FieldModel, u: number): FieldModel {
  const wider = (sigma: Scalar) => {
    const own = sigma.tape.literal(u, MILLIMETRE);
    return sigma.times(sigma).plus(own.times(own)).squareRoot();
  };
  const x = wider(field.sigmas[0]);
  return { ...field, sigmas: [x, field.sigmas[1] === field.sigmas[0] ? x : wider(field.sigmas[1])] };
}

/** The field at the estimates. */
function plainOf({ shape, halfWidths: [ax, ay], sigmas: [sx, sy] }: FieldModel): PlainField {
  return { shape, halfWidths: [ax.value, ay.value], sigmas: [sx.value, sy.value] };
}
