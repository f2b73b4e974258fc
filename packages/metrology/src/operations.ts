import { blurredDisc, blurredDiscByPlace, blurredDiscByRadius } from "./blurred-disc.ts";
import { cos, erf, exp, ln, pow, sin } from "./special.ts";

/**
 * The operations of a tape. Each has a value and its partial derivatives, and nothing else in the package knows a
 * derivative: propagation, comparison, second order and fits all follow from this page.
 */
export const Operation = {
  /** A leaf or a slot: its value comes from outside. */
  input: 0,
  /** A number written in a formula. */
  literal: 1,
  /** One output of a kernel: its value comes from the kernel. */
  output: 2,
  add: 3,
  subtract: 4,
  multiply: 5,
  divide: 6,
  negate: 7,
  squareRoot: 8,
  power: 9,
  exponential: 10,
  logarithm: 11,
  sine: 12,
  cosine: 13,
  errorFunction: 14,
  /** 1 − Q₁(a, b): a disc of radius b blurred by a Gaussian of unit width, at distance a from its centre. */
  blurredDisc: 15,
  /** The smaller of a and b. */
  minimum: 16,
} as const;

/** A code of {@link Operation}. */
export type OperationCode = (typeof Operation)[keyof typeof Operation];

const TWO_OVER_ROOT_PI = 1.1283791670955126;

/** The value of an operation on a and b; c is the exponent of `power`. */
export function forward(operation: OperationCode, a: number, b: number, c: number): number {
  switch (operation) {
    case Operation.add:
      return a + b;
    case Operation.subtract:
      return a - b;
    case Operation.multiply:
      return a * b;
    case Operation.divide:
      return a / b;
    case Operation.negate:
      return -a;
    case Operation.squareRoot:
      return Math.sqrt(a);
    case Operation.power:
      return pow(a, c);
    case Operation.exponential:
      return exp(a);
    case Operation.logarithm:
      return ln(a);
    case Operation.sine:
      return sin(a);
    case Operation.cosine:
      return cos(a);
    case Operation.errorFunction:
      return erf(a);
    case Operation.blurredDisc:
      return blurredDisc(a, b);
    case Operation.minimum:
      return Math.min(a, b);
    default:
      throw new Error(`operation ${operation} has no value of its own`);
  }
}

/** ∂value/∂a, at the value v of the operation. */
export function partialA(operation: OperationCode, a: number, b: number, c: number, v: number): number {
  switch (operation) {
    case Operation.add:
    case Operation.subtract:
      return 1;
    case Operation.multiply:
      return b;
    case Operation.divide:
      return 1 / b;
    case Operation.negate:
      return -1;
    case Operation.squareRoot: // d√a = da / (2√a)
      return 0.5 / v;
    case Operation.power: // d aᶜ = c·aᶜ⁻¹ da; a⁰ is one everywhere, and 0·0⁻¹ would be no number
      return c === 0 ? 0 : c * pow(a, c - 1);
    case Operation.exponential:
      return v;
    case Operation.logarithm:
      return 1 / a;
    case Operation.sine:
      return cos(a);
    case Operation.cosine:
      return -sin(a);
    case Operation.errorFunction: // d erf a = 2/√π · exp(−a²) da
      return TWO_OVER_ROOT_PI * exp(-a * a);
    case Operation.blurredDisc:
      return blurredDiscByPlace(a, b);
    case Operation.minimum: // of two that are alike, the first
      return a <= b ? 1 : 0;
    default:
      return 0;
  }
}

/** ∂value/∂b, at the value v of the operation; zero for operations of one operand. */
export function partialB(operation: OperationCode, a: number, b: number, v: number): number {
  switch (operation) {
    case Operation.add:
      return 1;
    case Operation.subtract:
      return -1;
    case Operation.multiply:
      return a;
    case Operation.divide: // d(a/b) = −(a/b)/b db
      return -v / b;
    case Operation.blurredDisc:
      return blurredDiscByRadius(a, b);
    case Operation.minimum:
      return a <= b ? 0 : 1;
    default:
      return 0;
  }
}
