import { type Model, Program, rootOf, type Scalar } from "@alcedo-dosimetry/metrology";
import { MILLIMETRE } from "./length-unit.ts";

/** FWHM of a Gaussian over its standard deviation, 2√(2 ln 2). */
export const GAUSSIAN_FWHM = 2.3548200450309493;

/** In a field of so many blurs the edges do not know of each other: a is FWHM/2 to the last bit. */
const WIDE = 17;

/** The dose across a field where no scan is given: a sharp field of half width a blurred by a Gaussian σ. */
export interface FieldModel {
  readonly shape: "rectangle" | "circle";
  /**
   * Half widths a along x and y (radius twice, for a circle) in mm; undefined where the field is narrower than its
   * blur allows, and is a Gaussian of its FWHM along both axes.
   */
  readonly halfWidths: readonly [Scalar, Scalar] | undefined;
  /** σ of the edges, or the standard deviations of the Gaussian, along x and y in mm. */
  readonly sigmas: readonly [Scalar, Scalar];
  /** Dose at the middle of a Gaussian field relative to the undisplaced one; one where it is absent. */
  readonly height?: Scalar;
}

/**
 * The model of a field with these full widths at half maximum.
 *
 * a is not FWHM/2 once σ is not small: it solves P(FWHM/2) = ½·P(0). A field with FWHM ≤ 2.3548σ along either axis is
 * taken as a Gaussian of its FWHMs.
 *
 * @param widths FWHMs along x and y in mm.
 * @param sigma σ in mm.
 * @param nominal whether the widths are nominal sizes, which are 2a by definition.
 */
export function fieldModel(
  model: Model,
  shape: "rectangle" | "circle",
  widths: readonly [Scalar, Scalar],
  sigma: Scalar,
  nominal: boolean,
): FieldModel {
  const own = shape === "circle" ? meanWidth(widths) : widths;
  if (nominal) return { shape, halfWidths: [own[0].over(2), own[1].over(2)], sigmas: [sigma, sigma] };
  if (own.some(({ value }) => value <= GAUSSIAN_FWHM * sigma.value))
    return { shape, halfWidths: undefined, sigmas: [own[0].over(GAUSSIAN_FWHM), own[1].over(GAUSSIAN_FWHM)] };
  const half = (width: Scalar) => {
    if (width.value > WIDE * sigma.value) return width.over(2);
    const equation = shape === "circle" ? CIRCLE_EDGE : RECTANGLE_EDGE;
    const high = width.value / 2 + sigma.value; // a is FWHM/2 at the most
    return rootOf(model, { program: equation, low: high * 1e-9, high }, [width, sigma]);
  };
  const x = half(own[0]);
  return { shape, halfWidths: [x, shape === "circle" ? x : half(own[1])], sigmas: [sigma, sigma] };
}

function meanWidth([x, y]: readonly [Scalar, Scalar]): [Scalar, Scalar] {
  const mean = x.plus(y).over(2);
  return [mean, mean];
}

const WIDTH_SLOTS = [
  { symbol: "FWHM", unit: MILLIMETRE },
  { symbol: "σ", unit: MILLIMETRE },
  { symbol: "a", unit: MILLIMETRE },
];

/** P(FWHM/2)/P(0) − ½ of a blurred box. */
const RECTANGLE_EDGE = new Program([], WIDTH_SLOTS, (_, [width, sigma, a]) => [
  boxProfile(width!.over(2), a!, sigma!)
    .over(a!.over(sigma!.times(Math.SQRT2)).errorFunction())
    .minus(0.5),
]);

/** D(FWHM/2)/D(0) − ½ of a blurred disc, with D(0) = 1 − exp(−a²/2σ²). */
const CIRCLE_EDGE = new Program([], WIDTH_SLOTS, (_, [width, sigma, a]) => [
  width!.over(2).over(sigma!).blurredDisc(a!.over(sigma!)).over(discCentre(a!, sigma!)).minus(0.5),
]);

/** ½[erf((x + a)/(σ√2)) − erf((x − a)/(σ√2))]: a box of half width a blurred by σ, at x. */
export function boxProfile(x: Scalar, a: Scalar, sigma: Scalar): Scalar {
  const blur = sigma.times(Math.SQRT2);
  return x.plus(a).over(blur).errorFunction().minus(x.minus(a).over(blur).errorFunction()).over(2);
}

/** 1 − exp(−a²/2σ²), the middle of a disc of radius a blurred by σ; as a disc, since the difference would lose its digits. */
export function discCentre(a: Scalar, sigma: Scalar): Scalar {
  return a.tape.literal(0).blurredDisc(a.over(sigma));
}

/** exp(−x²/2s²): a Gaussian of standard deviation s, relative to its middle. */
export function gaussianProfile(x: Scalar, s: Scalar): Scalar {
  const ratio = x.over(s);
  return ratio.times(ratio).over(-2).exponential();
}
