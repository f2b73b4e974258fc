import { bracketedRoot, chebyshevCoefficients, chebyshevNodes, chebyshevSeries } from "@alcedo-dosimetry/metrology";
import { EDGES, type FieldShape, GAUSSIAN_FWHM, NARROWEST } from "./field-model.ts";

/** Nodes of the interpolant: it is then within 1e-7 of the root. */
const NODES = 40;

/** Excesses are interpolated in e/(e + BEND), which spreads the bend evenly and has no end. */
const BEND = 2;

/** Of each shape, once it has been asked for: coefficients of a over the excess. */
const interpolants = new Map<FieldShape, Float64Array>();

/**
 * a/σ of a field of that FWHM/σ, for what is held fixed and needs no derivative: the solution of P(FWHM/2) = ½·P(0), which
 * depends on nothing else, from an interpolant within 1e-7 of it.
 *
 * Near the Gaussian a² grows with the excess of FWHM² over its, and far from it a is half the FWHM: their ratio is smooth.
 */
export function halfWidth(shape: FieldShape, ratio: number): number {
  const excess = Math.sqrt(Math.max(0, ratio * ratio - GAUSSIAN_FWHM * GAUSSIAN_FWHM));
  const known = interpolants.get(shape) ?? interpolant(shape);
  return Math.max(NARROWEST, excess * chebyshevSeries(known, (2 * excess) / (excess + BEND) - 1));
}

function interpolant(shape: FieldShape): Float64Array {
  const values = chebyshevNodes(NODES).map((node) => {
    const part = 0.5 * (node + 1);
    const excess = (part * BEND) / (1 - part);
    return rootOf(shape, excess) / excess;
  });
  const made = chebyshevCoefficients(values, [NODES]);
  interpolants.set(shape, made);
  return made;
}

/** The root itself. */
function rootOf(shape: FieldShape, excess: number): number {
  const program = EDGES[shape];
  const at = new Float64Array([Math.sqrt(excess * excess + GAUSSIAN_FWHM * GAUSSIAN_FWHM), 0]);
  const off = (a: number) => {
    at[1] = a;
    return program.evaluate([], ROW, at)[0]!;
  };
  return bracketedRoot(off, 0.45 * excess, 0.95 * excess);
}

const ROW = [0];
