import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { forward, Operation, type OperationCode, partialA, partialB } from "./operations.ts";
import { differenceQuotient } from "./testing/difference-quotient.ts";

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** Of either sign, and far enough from zero for steps of a hundredth of its size. */
const awayFromZero = fc.tuple(between(0.1, 10), fc.boolean()).map(([size, negative]) => (negative ? -size : size));
/** Thousandths, as a display shows them: differences of numbers near 1e-320 have no digits to agree in. */
const anything = fc.integer({ min: -1_000_000, max: 1_000_000 }).map((shown) => shown / 1000);

/** Where an operation is tried: its operands, the step of the differences, and what its derivatives are measured by. */
interface Trial {
  readonly name: string;
  readonly operation: OperationCode;
  readonly a: fc.Arbitrary<number>;
  readonly b?: fc.Arbitrary<number>;
  readonly c?: fc.Arbitrary<number>;
  readonly step: (x: number) => number;
}

const TRIALS: readonly Trial[] = [
  // straight lines: any step will do
  { name: "sum", operation: Operation.add, a: anything, b: anything, step: () => 1 },
  { name: "difference", operation: Operation.subtract, a: anything, b: anything, step: () => 1 },
  { name: "product", operation: Operation.multiply, a: anything, b: anything, step: () => 1 },
  { name: "negative", operation: Operation.negate, a: anything, step: () => 1 },
  // the pole at b = 0 is ten steps away or more
  {
    name: "quotient",
    operation: Operation.divide,
    a: anything,
    b: awayFromZero,
    step: (x) => 0.01 * (Math.abs(x) || 1),
  },
  // a branch point at zero: steps of a hundredth of the distance to it
  { name: "square root", operation: Operation.squareRoot, a: between(1e-4, 1e6), step: (x) => 0.01 * x },
  { name: "logarithm", operation: Operation.logarithm, a: between(1e-4, 1e6), step: (x) => 0.01 * x },
  // exponents that calibrations and inverse squares have, whole and broken
  { name: "power", operation: Operation.power, a: between(0.1, 10), c: between(-4, 4), step: (x) => 0.01 * x },
  // entire functions that vary over one: the range keeps e^x within the digits that count
  { name: "exponential", operation: Operation.exponential, a: between(-30, 30), step: () => 0.02 },
  { name: "sine", operation: Operation.sine, a: between(-20, 20), step: () => 0.02 },
  { name: "cosine", operation: Operation.cosine, a: between(-20, 20), step: () => 0.02 },
  // beyond ±4 the derivative is below 1e-7 and the function one to seven digits
  { name: "error function", operation: Operation.errorFunction, a: between(-4, 4), step: () => 0.02 },
  // from the middle of a field to beyond its edge; farther out than four blurs nothing is left to differentiate
  {
    name: "blurred disc",
    operation: Operation.blurredDisc,
    a: between(0.05, 4),
    b: between(0.5, 6),
    step: () => 0.02,
  },
  // the kink where both are alike is a step away
  { name: "minimum", operation: Operation.minimum, a: between(-5, 0), b: between(0.2, 5), step: () => 0.01 },
  { name: "minimum", operation: Operation.minimum, a: between(0.2, 5), b: between(-5, 0), step: () => 0.01 },
];

describe("the operations", () => {
  it.each(TRIALS)("MODEL-6: the derivatives of the $name agree with differences to 1e-9", (trial) => {
    const { operation, a: as, b: bs = fc.constant(0), c: cs = fc.constant(0), step } = trial;
    fc.assert(
      fc.property(as, bs, cs, (a, b, c) => {
        const v = forward(operation, a, b, c);
        const agree = (derivative: number, f: (x: number) => number, x: number) => {
          const difference = differenceQuotient(f, x, step(x));
          // relative, but for what rounding of the value alone does to a difference
          const tolerance = 1e-9 * Math.max(Math.abs(derivative), (1e-2 * Math.abs(v)) / step(x));
          expect(Math.abs(derivative - difference)).toBeLessThanOrEqual(tolerance);
        };
        agree(partialA(operation, a, b, c, v), (x) => forward(operation, x, b, c), a);
        if (trial.b) agree(partialB(operation, a, b, v), (x) => forward(operation, a, x, c), b);
        else expect(partialB(operation, a, b, v)).toBe(0);
      }),
    );
  });

  it("MODEL-6: every operation that has a value of its own is tried above, and inputs have none", () => {
    const without: OperationCode[] = [Operation.input, Operation.literal, Operation.output];
    expect([...new Set([...TRIALS.map(({ operation }) => operation), ...without])].sort((a, b) => a - b)).toEqual(
      Object.values(Operation),
    );
    for (const operation of without) {
      expect(() => forward(operation, 1, 1, 1)).toThrow("has no value of its own");
      expect(partialA(operation, 1, 1, 1, 1)).toBe(0);
      expect(partialB(operation, 1, 1, 1)).toBe(0);
    }
  });

  it.each([
    // from memory, M: digits that tables of functions print
    ["e¹", Operation.exponential, 1, 2.718281828459045],
    ["ln 2", Operation.logarithm, 2, 0.6931471805599453],
    ["√2", Operation.squareRoot, 2, 1.4142135623730951],
    ["erf ½", Operation.errorFunction, 0.5, 0.5204998778130465],
    ["sin 30°", Operation.sine, 0.5235987755982988, 0.5],
    ["cos 60°", Operation.cosine, 1.0471975511965976, 0.5],
  ])("MODEL-6: %s is what tables say", (_, operation, a, value) => {
    expect(Math.abs(forward(operation, a, 0, 0) - value)).toBeLessThanOrEqual(2.3e-16 * value * 2);
  });

  it("MODEL-6: a power of a negative number is real where the exponent is whole, and no number elsewhere", () => {
    expect(forward(Operation.power, -2, 0, 3)).toBe(-8);
    expect(partialA(Operation.power, -2, 0, 3, -8)).toBe(12);
    expect(forward(Operation.power, -2, 0, 0.5)).toBeNaN();
    expect(forward(Operation.logarithm, -2, 0, 0)).toBeNaN();
  });

  it("MODEL-6: at zero, a⁰ is flat, a¹ is a straight line, and the root is vertical", () => {
    expect(forward(Operation.power, 0, 0, 0)).toBe(1);
    expect(partialA(Operation.power, 0, 0, 0, 1)).toBe(0);
    expect(partialA(Operation.power, 0, 0, 1, 0)).toBe(1);
    expect(partialA(Operation.squareRoot, 0, 0, 0, 0)).toBe(Number.POSITIVE_INFINITY);
  });
});
