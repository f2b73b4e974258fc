import { describe, expect, it } from "vitest";
import { besselIScaled } from "./bessel.ts";
import { blurredDisc, blurredDiscByPlace, blurredDiscByRadius } from "./blurred-disc.ts";

/** scipy.special.i0e and i1e, scipy 1.17.1: status C. */
const SCALED = [
  [0, 1, 0],
  [0.5, 0.64503527044915, 0.15642080318487173],
  [1, 0.46575960759364043, 0.2079104153497085],
  [5, 0.18354081260932834, 0.16397226694454234],
  [10, 0.1278333371634286, 0.1212626813844555],
  [29.9, 0.07326921904600191, 0.0720333749118688],
  [30.1, 0.07302329413106094, 0.07179985435101434],
  [100, 0.03994437929909668, 0.03974415302513025],
] as const;

/** scipy.stats.ncx2.cdf(β², 2, α²) = 1 − Q₁(α, β), scipy 1.17.1: status C. */
const DISC = [
  [0.4, 1.2, 0.4859176996182769],
  [1.3, 2.1, 0.6835336118448349],
  [2, 2, 0.3964990393880066],
  [3, 1.5, 0.04077995997844665],
  [8, 10, 0.9740583370455846],
  [20, 21, 0.8353674689539704],
  [3.3, 0.2, 9.022370106303085e-5],
] as const;

describe("modified Bessel functions, scaled", () => {
  it.each(SCALED)("DISC-1: at %d they are %d and %d (scipy, C)", (x, zero, one) => {
    expect(besselIScaled(0, x)).toBeCloseTo(zero, 14);
    expect(besselIScaled(1, x)).toBeCloseTo(one, 14);
  });

  it("DISC-1: the two series agree where one takes over from the other", () => {
    for (const order of [0, 1] as const) {
      const [below, above] = [besselIScaled(order, 30 - 1e-9), besselIScaled(order, 30)];
      expect(Math.abs(above / below - 1)).toBeLessThan(1e-9);
    }
  });

  it("DISC-1: their ratio tends to one as 1 − 1/2x, and they are refused below zero", () => {
    expect(besselIScaled(1, 1e6) / besselIScaled(0, 1e6)).toBeCloseTo(1 - 0.5e-6, 12);
    expect(() => besselIScaled(0, -1)).toThrow(RangeError);
  });
});

describe("the blurred disc", () => {
  it("DISC-2: at the centre it is 1 − e^(−β²/2) (closed form)", () => {
    for (const beta of [0.1, 1, 2.5, 8, 30])
      expect(blurredDisc(0, beta)).toBeCloseTo(1 - Math.exp((-beta * beta) / 2), 14);
  });

  it.each(DISC)("DISC-2: at %d of a disc of radius %d it is %d (scipy, C)", (alpha, beta, value) => {
    expect(Math.abs(blurredDisc(alpha, beta) / value - 1)).toBeLessThan(1e-13);
  });

  it("DISC-2: it is a direct convolution of a disc with a Gaussian", () => {
    const alpha = 1.3;
    const beta = 2.1;
    let total = 0;
    const steps = 400;
    for (let i = 0; i < steps; i++)
      for (let j = 0; j < steps; j++) {
        const r = ((i + 0.5) / steps) * beta;
        const phi = ((j + 0.5) / steps) * 2 * Math.PI;
        const [x, y] = [r * Math.cos(phi) - alpha, r * Math.sin(phi)];
        total += (Math.exp(-(x * x + y * y) / 2) / (2 * Math.PI)) * r * (beta / steps) * ((2 * Math.PI) / steps);
      }
    expect(blurredDisc(alpha, beta)).toBeCloseTo(total, 5);
  });

  it("DISC-2: far inside it is one, far outside nothing, and at a far edge nearly a half", () => {
    expect(blurredDisc(5, 40)).toBeCloseTo(1, 14);
    expect(blurredDisc(60, 40)).toBe(0);
    expect(blurredDisc(40, 40)).toBeCloseTo(0.5 - 1 / (2 * Math.sqrt(2 * Math.PI) * 40), 4);
  });

  it("DISC-3: its derivatives agree with differences to 1e-9", () => {
    const h = 1e-3;
    const difference = (f: (x: number) => number, x: number) => {
      const d = [h, h / 2].map((s) => (f(x + s) - f(x - s)) / (2 * s));
      return (4 * d[1]! - d[0]!) / 3;
    };
    for (const [alpha, beta] of [
      [0.4, 1.2],
      [2, 2],
      [3, 1.5],
      [20, 21],
    ] as const) {
      expect(blurredDiscByPlace(alpha, beta)).toBeCloseTo(
        difference((a) => blurredDisc(a, beta), alpha),
        9,
      );
      expect(blurredDiscByRadius(alpha, beta)).toBeCloseTo(
        difference((b) => blurredDisc(alpha, b), beta),
        9,
      );
    }
  });

  it("DISC-2: negative arguments are refused", () => {
    expect(() => blurredDisc(-1, 1)).toThrow(RangeError);
  });
});
