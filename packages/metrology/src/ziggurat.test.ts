import { describe, expect, it } from "vitest";
import { RandomStream } from "./random-stream.ts";
import { exp, ln } from "./special.ts";
import { kolmogorov } from "./testing/kolmogorov.ts";
import { type EvenDensity, Ziggurat } from "./ziggurat.ts";

/** Laplace's density e^−|x|: everything about it is known in closed form. */
const laplace: EvenDensity = {
  density: (x) => exp(-x),
  inverse: (y) => -ln(y),
  tailArea: (x) => exp(-x),
  drawTail: (x, fraction) => x - ln(fraction),
};
const laplaceCdf = (x: number) => (x < 0 ? 0.5 * exp(x) : 1 - 0.5 * exp(-x));

function draws(ziggurat: Ziggurat, count: number, scale = 1, offset = 0): Float64Array {
  const filled = new Float64Array(count);
  ziggurat.fill(filled, count, new RandomStream("ziggurat"), new Int32Array(2 * count), scale, offset);
  return filled;
}

describe("the ziggurat method", () => {
  it("MC-2: the base of the layers of Laplace's density ends where its equation says: 7.69711747", () => {
    // from memory (M) the edge of the exponential ziggurat of 256 layers in Marsaglia and Tsang (2000) is 7.69711747013104972
    const edges: number[] = [];
    const watched = new Ziggurat({
      ...laplace,
      drawTail: (x, fraction) => {
        edges.push(x);
        return laplace.drawTail(x, fraction);
      },
    });
    draws(watched, 20_000);
    expect(edges.length).toBeGreaterThan(2); // P(|x| > 7.7) = 4.5e-4: nine of them expected
    for (const edge of edges) expect(edge).toBeCloseTo(7.69711747013105, 11);
  });

  it("MC-2: draws follow the density, tails and wedges included", () => {
    const sample = draws(new Ziggurat(laplace), 400_000);
    expect(kolmogorov(sample, laplaceCdf)).toBeLessThan(1.95);
    // beyond the base: Poisson about 4e5·e^−7.697 = 181.6, sd 13.5
    const beyond = sample.filter((x) => Math.abs(x) > 7.69711747).length;
    expect(Math.abs(beyond - 181.6)).toBeLessThan(4 * 13.5);
    // and within the tail it is exponential again
    const tail = sample.filter((x) => Math.abs(x) > 7.69711747).map((x) => Math.abs(x) - 7.69711747);
    expect(kolmogorov(tail, (x) => 1 - exp(-x))).toBeLessThan(1.95);
  });

  it("MC-2: within a wedge, where the density falls beside a layer's certain part, draws fall as it does", () => {
    // the wedge above the base: from 7.6971 down to where the next layer ends, e^−x = e^−7.6971 + v/7.6971, x = 6.9410
    const [ziggurat, stream, words] = [new Ziggurat(laplace), new RandomStream("wedge"), new Int32Array(20_000)];
    const filled = new Float64Array(10_000);
    const counts = [0, 0, 0, 0];
    for (let block = 0; block < 1000; block++) {
      stream.start(1, block);
      ziggurat.fill(filled, filled.length, stream, words, 1, 0);
      for (const x of filled) {
        const quarter = Math.floor((4 * (Math.abs(x) - 6.941)) / (7.6971 - 6.941));
        if (quarter >= 0 && quarter < 4) counts[quarter]!++;
      }
    }
    counts.forEach((count, quarter) => {
      const edge = (k: number) => 6.941 + (k * (7.6971 - 6.941)) / 4;
      const expected = 1e7 * (exp(-edge(quarter)) - exp(-edge(quarter + 1)));
      expect(Math.abs(count - expected)).toBeLessThan(4 * Math.sqrt(expected));
    });
  });

  it("MC-2: one draw at a time follows it too", () => {
    const [ziggurat, stream] = [new Ziggurat(laplace), new RandomStream("single")];
    const sample = Float64Array.from({ length: 100_000 }, () => ziggurat.draw(stream));
    expect(kolmogorov(sample, laplaceCdf)).toBeLessThan(1.95);
  });

  it("MC-2: both signs are equally likely, and successive draws uncorrelated", () => {
    const sample = draws(new Ziggurat(laplace), 400_000);
    // binomial, sd √(4e5)/2 = 316
    expect(Math.abs(sample.filter((x) => x < 0).length - 200_000)).toBeLessThan(4 * 316);
    for (const lag of [1, 2, 3, 4, 8]) {
      let sum = 0;
      for (let i = lag; i < sample.length; i++) sum += sample[i]! * sample[i - lag]!;
      // variance of a draw 2, so of a product 4: sd of the mean 2/√4e5 = 0.0032
      expect(Math.abs(sum / sample.length)).toBeLessThan(4 * 0.0032);
    }
  });

  it("MC-2: scale and offset do to each draw what they say", () => {
    const ziggurat = new Ziggurat(laplace);
    const [plain, moved] = [draws(ziggurat, 3000), draws(ziggurat, 3000, 4, 0.5)];
    expect([...moved]).toEqual([...plain].map((x) => x * 4 + 0.5));
  });
});
