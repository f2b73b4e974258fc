import { type Model, mean, ONE, Program, type Scalar, type Slot } from "@alcedo-dosimetry/metrology";
import { type ActiveVolume, COARSE, FINE, type VolumePoints, volumePoints } from "./active-volume.ts";
import { boxProfile, discCentre, type FieldModel, gaussianProfile } from "./field-model.ts";
import { MILLIMETRE } from "./length-unit.ts";

/** Where the tip's centre may be. */
export interface Placement {
  /** Measured distance of the tip from the field's centre along x and y in mm. */
  readonly offset: readonly [number, number];
  /** Standard uncertainty of the tip's place along either axis in mm. */
  readonly u: number;
}

/** The corrections that the size of the tip and its place ask for in one field. */
export interface TipCorrections {
  /** k_vol = D(centre)/⟨D⟩_V. */
  readonly volumeAveraging: Scalar;
  /** k_pos = ⟨D⟩_V(centre)/E⟨D⟩_V(δ), without the spread of the single placement. */
  readonly positioning: Scalar;
  /** Relative spread of the loss by placement, sd(L)/E[L]. */
  readonly placementSpread: number;
}

type Rule = readonly { readonly node: number; readonly weight: number }[];

/** The five-point Gauss–Hermite rule, for a standard normal deviate (Abramowitz and Stegun, table 25.10). */
const HERMITE: Rule = [
  { node: -Math.sqrt(5 + Math.sqrt(10)), weight: (7 - 2 * Math.sqrt(10)) / 60 },
  { node: -Math.sqrt(5 - Math.sqrt(10)), weight: (7 + 2 * Math.sqrt(10)) / 60 },
  { node: 0, weight: 8 / 15 },
  { node: Math.sqrt(5 - Math.sqrt(10)), weight: (7 + 2 * Math.sqrt(10)) / 60 },
  { node: Math.sqrt(5 + Math.sqrt(10)), weight: (7 - 2 * Math.sqrt(10)) / 60 },
];

/** The same for a function of the deviate's size alone. */
const HALF_HERMITE: Rule = HERMITE.slice(2).map(({ node, weight }) => ({
  node,
  weight: node > 0 ? 2 * weight : weight,
}));

/**
 * Volume averaging and positioning of one field.
 *
 * The mean over normal displacements needs no quadrature of its own: a field blurred by σ, displaced by a normal δ of
 * standard uncertainty u, is on average the field blurred by √(σ² + u²). Only the spread of the loss, which enters as a
 * standard uncertainty, is taken by Gauss–Hermite.
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
    const centred = placement.offset[0] === 0 && placement.offset[1] === 0;
    const still = this.#average(field, [0, 0]);
    const moved = placement.u === 0 && centred ? still : this.#average(blurredBy(field, placement.u), placement.offset);
    return {
      volumeAveraging: centreOf(field).over(still),
      positioning: still.over(moved),
      placementSpread:
        placement.u === 0 || isFlat(field, this.#volume, placement)
          ? 0
          : placementSpread(field, this.#coarse, placement),
    };
  }

  /** ⟨D⟩ over the active volume at an offset, relative to the open field. */
  #average(field: FieldModel, offset: readonly [number, number]): Scalar {
    const { columns, weights, rows } = this.#table(offset);
    const { program, inputs } = profileOf(field);
    return mean(this.#model, { program, columns, rows, included: weights }, inputs).means[0]!;
  }

  /** The quadrature's points as columns of the model, once for each offset. */
  #table([dx, dy]: readonly [number, number]) {
    const key = `${dx},${dy}`;
    const known = this.#tables.get(key);
    if (known) return known;
    const centred = dx === 0 && dy === 0;
    const points = volumePoints(this.#volume, FINE, !centred);
    const series = centred ? "active volume" : `active volume at ${key}`;
    const readings = points.x.map((_, i) => `${i + 1}`);
    const add = (name: string, values: readonly number[], unit = MILLIMETRE) =>
      this.#model.column({
        series,
        name,
        symbol: name,
        unit,
        readings,
        values: Float64Array.from(values),
        points: true,
      });
    const x = points.x.map((own) => own + dx);
    const y = points.y.map((own) => own + dy);
    const table = {
      columns: [add("x", x), add("y", y), add("r", radii(x, y))] as [number, number, number],
      weights: add("weight", points.weights, ONE),
      rows: readings.map((_, i) => i),
    };
    this.#tables.set(key, table);
    return table;
  }
}

const radii = (x: readonly number[], y: readonly number[]) => x.map((own, i) => Math.sqrt(own * own + y[i]! * y[i]!));

/** The field as it is on average when the tip is placed with that standard uncertainty. */
function blurredBy(field: FieldModel, u: number): FieldModel {
  const wider = (sigma: Scalar) => {
    const own = sigma.tape.literal(u, MILLIMETRE);
    return sigma.times(sigma).plus(own.times(own)).squareRoot();
  };
  const x = wider(field.sigmas[0]);
  const sigmas: [Scalar, Scalar] = [x, field.sigmas[1] === field.sigmas[0] ? x : wider(field.sigmas[1])];
  // a Gaussian field gets wider and lower: its middle falls with the product of the widths
  return { ...field, sigmas, ...(field.halfWidths ? {} : { height: heightOf(field.sigmas, sigmas) }) };
}

function heightOf(before: readonly [Scalar, Scalar], after: readonly [Scalar, Scalar]): Scalar {
  return before[0].over(after[0]).times(before[1].over(after[1]));
}

/** D at the field's centre. */
function centreOf({ shape, halfWidths, sigmas }: FieldModel): Scalar {
  if (!halfWidths) return sigmas[0].tape.literal(1);
  if (shape === "circle") return discCentre(halfWidths[0], sigmas[0]);
  const along = (axis: 0 | 1) => halfWidths[axis].over(sigmas[axis].times(Math.SQRT2)).errorFunction();
  return along(0).times(along(1));
}

const COLUMNS: readonly Slot[] = ["x", "y", "r"].map((symbol) => ({ symbol, unit: MILLIMETRE }));
const length = (symbol: string): Slot => ({ symbol, unit: MILLIMETRE });

const RECTANGLE = new Program(COLUMNS, ["a_x", "a_y", "σ_x", "σ_y"].map(length), ([x, y], [ax, ay, sx, sy]) => [
  boxProfile(x!, ax!, sx!).times(boxProfile(y!, ay!, sy!)),
]);
const CIRCLE = new Program(COLUMNS, ["a", "σ"].map(length), ([, , r], [a, s]) => [
  r!.over(s!).blurredDisc(a!.over(s!)),
]);
const GAUSSIAN = new Program(
  COLUMNS,
  [length("s_x"), length("s_y"), { symbol: "h", unit: ONE }],
  ([x, y], [sx, sy, h]) => [gaussianProfile(x!, sx!).times(gaussianProfile(y!, sy!)).times(h!)],
);

/** The dose across a field as a program of x, y, r, with the nodes that fill its slots. */
function profileOf({ shape, halfWidths, sigmas, height }: FieldModel): { program: Program; inputs: Scalar[] } {
  if (!halfWidths) return { program: GAUSSIAN, inputs: [...sigmas, height ?? sigmas[0].tape.literal(1)] };
  if (shape === "circle") return { program: CIRCLE, inputs: [halfWidths[0], sigmas[0]] };
  return { program: RECTANGLE, inputs: [...halfWidths, ...sigmas] };
}

/** Blurs from its edge at which a field is flat to the last bit. */
const FLAT = 8.5;

/** Whether the field is flat wherever the tip may stand. */
function isFlat(
  { halfWidths, sigmas }: FieldModel,
  { diameter_mm, length_mm }: ActiveVolume,
  place: Placement,
): boolean {
  if (!halfWidths) return false;
  const reach = (diameter_mm + length_mm) / 2 + 3 * place.u;
  return ([0, 1] as const).every(
    (axis) => halfWidths[axis].value - reach - Math.abs(place.offset[axis]) > FLAT * sigmas[axis].value,
  );
}

/** sd(L)/E[L] by Gauss–Hermite over both axes, on plain numbers: it is a standard uncertainty and needs no derivative. */
function placementSpread(field: FieldModel, points: VolumePoints, { offset, u }: Placement): number {
  const { program, inputs } = profileOf(field);
  const scalars = inputs.map(({ value }) => value);
  // without an offset both signs of a displacement are alike
  const [first, second] = offset.map((own) => (own === 0 ? HALF_HERMITE : HERMITE)) as [Rule, Rule];
  const places = first.flatMap((a) =>
    second.map((b) => ({
      dx: offset[0] + u * a.node,
      dy: offset[1] + u * b.node,
      weight: a.weight * b.weight,
    })),
  );
  const x = places.flatMap(({ dx }) => points.x.map((own) => own + dx));
  const y = places.flatMap(({ dy }) => points.y.map((own) => own + dy));
  const values = program.evaluate(
    [x, y, radii(x, y)],
    x.map((_, i) => i),
    scalars,
  );
  const n = points.weights.length;
  const doses = places.map((_, p) => points.weights.reduce((total, w, i) => total + w * values[p * n + i]!, 0));
  const average = places.reduce((total, { weight }, p) => total + weight * doses[p]!, 0);
  const variance = places.reduce((total, { weight }, p) => {
    const off = doses[p]! - average;
    return total + weight * off * off;
  }, 0);
  return Math.sqrt(variance) / average;
}
