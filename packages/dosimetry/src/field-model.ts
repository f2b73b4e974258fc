import { type Model, ONE, Program, rootOf, type Scalar } from "@alcedo-dosimetry/metrology";

/** FWHM of a Gaussian over its standard deviation, 2√(2 ln 2). */
export const GAUSSIAN_FWHM = 2.3548200450309493;

/** What a collimator's opening is. */
export type FieldShape = "rectangle" | "circle";

/**
 * Half width over blur of the narrowest field that is computed as a blurred one. It differs from the Gaussian of its FWHM
 * in the fourth order of this number, which is less than rounding does.
 */
export const NARROWEST = 1e-3;

/** FWHM over blur of that field: a box adds a²/3 to the variance along its axis, a disc a²/4. */
export const NARROWEST_FWHM: Readonly<Record<FieldShape, number>> = {
  rectangle: GAUSSIAN_FWHM * Math.sqrt(1 + (NARROWEST * NARROWEST) / 3),
  circle: GAUSSIAN_FWHM * Math.sqrt(1 + (NARROWEST * NARROWEST) / 4),
};

/** The dose across a field where no scan is given: a sharp field of half width a blurred by a Gaussian σ. */
export interface FieldModel {
  readonly shape: FieldShape;
  /** Half widths a along x and y (radius twice, for a circle) in mm. */
  readonly halfWidths: readonly [Scalar, Scalar];
  /** Blur along x and y in mm: σ, or where the field is narrower than σ allows that of the Gaussian of its FWHM. */
  readonly sigmas: readonly [Scalar, Scalar];
  /** Whether it is so narrow along an axis, at the estimates. */
  readonly gaussian: boolean;
}

/**
 * The model of a field with these full widths at half maximum.
 *
 * a is not FWHM/2 once σ is not small: it solves P(FWHM/2) = ½·P(0). No sharp field blurred by σ has FWHM < 2.3548σ; one
 * that is measured so narrow is a Gaussian of its FWHM along that axis. Near there a goes to zero as a root, but dose goes
 * over into that of the Gaussian without a step in value or slope, since a enters as a².
 *
 * @param widths FWHMs along x and y in mm.
 * @param sigma σ in mm.
 * @param nominal whether the widths are nominal sizes, which are 2a by definition.
 */
export function fieldModel(
  model: Model,
  shape: FieldShape,
  widths: readonly [Scalar, Scalar],
  sigma: Scalar,
  nominal: boolean,
): FieldModel {
  const own = shape === "circle" ? meanWidth(widths) : widths;
  if (nominal) return { shape, halfWidths: [own[0].over(2), own[1].over(2)], sigmas: [sigma, sigma], gaussian: false };
  const along = (width: Scalar) => {
    const blur = sigma.atMost(width.over(NARROWEST_FWHM[shape]));
    const ratio = width.over(blur);
    // a blur known to half of itself is drawn down to 0.13 of the estimate: a/σ is then 3.7 times FWHM/σ at the estimates
    const ends = { low: NARROWEST / 2, high: 5 * ratio.value };
    const half = rootOf(model, { program: EDGES[shape], ...ends }, [ratio]);
    return { half: half.times(blur), blur, gaussian: width.value <= GAUSSIAN_FWHM * sigma.value };
  };
  const x = along(own[0]);
  const y = shape === "circle" ? x : along(own[1]);
  return { shape, halfWidths: [x.half, y.half], sigmas: [x.blur, y.blur], gaussian: x.gaussian || y.gaussian };
}

function meanWidth([x, y]: readonly [Scalar, Scalar]): [Scalar, Scalar] {
  const mean = x.plus(y).over(2);
  return [mean, mean];
}

const RATIO_SLOTS = [
  { symbol: "FWHM/σ", unit: ONE },
  { symbol: "a/σ", unit: ONE },
];

const ROOT_HALF = Math.SQRT1_2;

/** Where the dose is half that of the middle, in units of the blur: P(FWHM/2)/P(0) − ½, of a blurred box and disc. */
export const EDGES: Readonly<Record<FieldShape, Program>> = {
  rectangle: new Program([], RATIO_SLOTS, (_, [width, a]) => {
    const half = width!.over(2);
    const right = half.plus(a!).times(ROOT_HALF).errorFunction();
    const left = half.minus(a!).times(ROOT_HALF).errorFunction();
    return [right.minus(left).over(a!.times(ROOT_HALF).errorFunction().times(2)).minus(0.5)];
  }),
  circle: new Program([], RATIO_SLOTS, (_, [width, a]) => [
    width!.over(2).blurredDisc(a!).over(a!.tape.literal(0).blurredDisc(a!)).minus(0.5),
  ]),
};

/** ½[erf((x + a)/(σ√2)) − erf((x − a)/(σ√2))]: a box of half width a blurred by σ, at x. */
export function boxProfile(x: Scalar, a: Scalar, sigma: Scalar): Scalar {
  const blur = sigma.times(Math.SQRT2);
  return x.plus(a).over(blur).errorFunction().minus(x.minus(a).over(blur).errorFunction()).over(2);
}

/** 1 − exp(−a²/2σ²), the middle of a disc of radius a blurred by σ; as a disc, since the difference would lose its digits. */
export function discCentre(a: Scalar, sigma: Scalar): Scalar {
  return a.tape.literal(0).blurredDisc(a.over(sigma));
}
