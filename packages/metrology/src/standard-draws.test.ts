import { describe, expect, it } from "vitest";
import { normalCdf } from "./distributions.ts";
import type { Distribution } from "./model.ts";
import { RandomStream } from "./random-stream.ts";
import { standardDraws } from "./standard-draws.ts";
import { kolmogorov } from "./testing/kolmogorov.ts";

const COUNT = 400_000;

function sampleOf(distribution: Distribution, scale = 1, offset = 0, count = COUNT): Float64Array {
  const draws = new Float64Array(count);
  standardDraws(distribution).fill(draws, count, new RandomStream("s"), new Int32Array(2 * count), scale, offset);
  return draws;
}

const clamp = (x: number) => Math.min(1, Math.max(-1, x));

/** Distribution function, half width and kurtosis of each distribution at a standard deviation of one. */
const KNOWN: Record<Distribution, { cdf: (x: number) => number; half: number; kurtosis: number }> = {
  normal: { cdf: normalCdf, half: Number.POSITIVE_INFINITY, kurtosis: 3 },
  rectangular: { cdf: (x) => 0.5 + 0.5 * clamp(x / Math.sqrt(3)), half: Math.sqrt(3), kurtosis: 1.8 },
  triangular: {
    cdf: (x) => {
      const t = clamp(x / Math.sqrt(6));
      return t < 0 ? 0.5 * (1 + t) ** 2 : 1 - 0.5 * (1 - t) ** 2;
    },
    half: Math.sqrt(6),
    kurtosis: 2.4,
  },
  "u-shaped": {
    cdf: (x) => 0.5 + Math.asin(clamp(x / Math.SQRT2)) / Math.PI,
    half: Math.SQRT2,
    kurtosis: 1.5,
  },
};
const NAMES = Object.keys(KNOWN) as Distribution[];

describe("draws of mean 0 and standard deviation 1", () => {
  it.each(NAMES)("MC-2: %s draws have mean 0 and variance 1", (name) => {
    const sample = sampleOf(name);
    const mean = sample.reduce((total, x) => total + x, 0) / COUNT;
    const variance = sample.reduce((total, x) => total + x * x, 0) / COUNT;
    expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(COUNT));
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt((KNOWN[name].kurtosis - 1) / COUNT));
  });

  it.each(NAMES)("MC-2: %s draws follow the distribution function", (name) => {
    expect(kolmogorov(sampleOf(name), KNOWN[name].cdf)).toBeLessThan(1.95);
  });

  it.each(NAMES.slice(1))("MC-2: %s draws stay within their half width, and come close to it", (name) => {
    const largest = sampleOf(name).reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    expect(largest).toBeLessThanOrEqual(KNOWN[name].half);
    expect(largest).toBeGreaterThan(0.995 * KNOWN[name].half);
  });

  it.each(NAMES)("MC-2: scale and offset of %s draws do what they say", (name) => {
    const [plain, moved] = [sampleOf(name, 1, 0, 2000), sampleOf(name, 0.25, 10, 2000)];
    plain.forEach((x, i) => {
      expect(moved[i]).toBeCloseTo(10 + 0.25 * x, 12);
    });
  });
});
