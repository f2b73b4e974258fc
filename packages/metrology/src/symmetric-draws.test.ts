import { describe, expect, it } from "vitest";
import { normalCdf, tCdf, tQuantile } from "./distributions.ts";
import { RandomStream } from "./random-stream.ts";
import { standardNormal, studentT } from "./symmetric-draws.ts";
import { kolmogorov } from "./testing/kolmogorov.ts";
import type { Ziggurat } from "./ziggurat.ts";

function sampleOf(ziggurat: Ziggurat, count: number, key = "symmetric"): Float64Array {
  const draws = new Float64Array(count);
  ziggurat.fill(draws, count, new RandomStream(key), new Int32Array(2 * count), 1, 0);
  return draws;
}

function moment(sample: Float64Array, power: number): number {
  return sample.reduce((total, x) => total + x ** power, 0) / sample.length;
}

describe("normal and t draws", () => {
  const normal = sampleOf(standardNormal(), 1_000_000);

  it("MC-2: normal draws have the moments of the standard normal distribution", () => {
    // standard errors of the moments of 1e6 draws: √(1, 2, 15, 96)/1000
    expect(Math.abs(moment(normal, 1))).toBeLessThan(4 * 0.001);
    expect(Math.abs(moment(normal, 2) - 1)).toBeLessThan(4 * 0.0014142);
    expect(Math.abs(moment(normal, 3))).toBeLessThan(4 * 0.003873);
    expect(Math.abs(moment(normal, 4) - 3)).toBeLessThan(4 * 0.009798);
  });

  it("MC-2: normal draws follow the normal distribution function", () => {
    expect(kolmogorov(normal, normalCdf)).toBeLessThan(1.95);
  });

  it("MC-2: far tails of normal draws hold as many as they should", () => {
    for (const edge of [2, 3, 3.654152885360988, 4]) {
      const expected = 2e6 * normalCdf(-edge);
      const beyond = normal.filter((x) => Math.abs(x) > edge).length;
      expect(Math.abs(beyond - expected)).toBeLessThan(4 * Math.sqrt(expected));
    }
  });

  it.each([1, 1.7, 2, 4, 4.5, 30, 1000])(
    "MC-2: t draws with %s degrees of freedom follow Student's distribution function",
    (dof) => {
      expect(kolmogorov(sampleOf(studentT(dof), 200_000), (x) => tCdf(x, dof))).toBeLessThan(1.95);
    },
  );

  it.each([1, 4, 30])("MC-2: far tails of t draws with %s degrees of freedom hold as many as they should", (dof) => {
    const sample = sampleOf(studentT(dof), 1_000_000, "tails");
    for (const probability of [1e-2, 1e-3, 1e-4]) {
      const edge = -tQuantile(0.5 * probability, dof);
      const tail = sample.filter((x) => Math.abs(x) > edge).length;
      expect(Math.abs(tail - 1e6 * probability)).toBeLessThan(4 * Math.sqrt(1e6 * probability));
    }
  });

  it("MC-2: t draws with 10 degrees of freedom have variance 10/8", () => {
    const sample = sampleOf(studentT(10), 1_000_000);
    // kurtosis 3 + 6/(ν − 4) = 4: sd of the variance 1.25·√(3/1e6)
    expect(Math.abs(moment(sample, 2) - 1.25)).toBeLessThan(4 * 1.25 * Math.sqrt(3e-6));
  });

  it("MC-2: tables are made once for each number of degrees of freedom", () => {
    expect(studentT(4)).toBe(studentT(4));
    expect(studentT(4)).not.toBe(studentT(5));
    expect(standardNormal()).toBe(standardNormal());
  });

  it("MC-15: less than one degree of freedom is refused: such tails do not fit into layers", () => {
    expect(() => studentT(0.5)).toThrow("not 0.5");
    expect(() => studentT(Number.NaN)).toThrow("not NaN");
  });
});
