import fc from "fast-check";
import { expect, test } from "vitest";
import { RandomStream } from "./random-stream.ts";
import { correlation, moments, spreadTolerance } from "./testing/moments.ts";

const draws = (count: number, draw: (random: RandomStream) => number, ...labels: string[]) => {
  const random = new RandomStream(20_260_312, ...labels);
  return Array.from({ length: count }, () => draw(random));
};

test("the words are those of a second implementation", () => {
  // the same algorithm written in Python with unbounded integers, C
  const words = (random: RandomStream) => [random.word(), random.word(), random.word(), random.word()];
  expect(words(new RandomStream(0, "a"))).toEqual([2899381897, 1993153181, 2391422167, 1997320927]);
  expect(words(new RandomStream(Number.MAX_SAFE_INTEGER, "reader", 12))).toEqual([
    3799097605, 179714952, 2702893253, 1094301604,
  ]);
  const random = new RandomStream(7);
  expect([random.uniform(), random.uniform(), random.uniform()]).toEqual([
    0.5126085583303849, 0.7124107088188484, 0.5982299439096889,
  ]);
});

test("one seed and name give one stream, and others give others", () => {
  fc.assert(
    fc.property(fc.maxSafeNat(), fc.string(), fc.nat(), (seed, label, number) => {
      const first = new RandomStream(seed, label, number);
      const again = new RandomStream(seed, label, number);
      const others = [
        new RandomStream(seed, label, number + 1),
        new RandomStream(seed, `${label}.`, number),
        new RandomStream(seed === 0 ? 1 : seed - 1, label, number),
      ].map((random) => [random.word(), random.word()].join());
      const own = [first.word(), first.word()].join();
      expect([again.word(), again.word()].join()).toBe(own);
      expect(others).not.toContain(own);
    }),
  );
});

test("a uniform number lies between 0 and 1, neither of them, and fills the range evenly", () => {
  const values = draws(100_000, (random) => random.uniform());
  expect(values.every((value) => value > 0 && value < 1)).toBe(true);
  const counts = new Array<number>(100).fill(0);
  for (const value of values) counts[Math.floor(value * 100)]! += 1;
  // χ² with 99 degrees of freedom: 0.01 % lies above 161.3 and below 53.7 (scipy, C)
  const chi2 = counts.reduce((total, count) => total + (count - 1000) ** 2 / 1000, 0);
  expect(chi2).toBeGreaterThan(53.7);
  expect(chi2).toBeLessThan(161.3);
});

test("a normal number has mean 0, variance 1, the kurtosis of a normal and its tails", () => {
  const values = draws(200_000, (random) => random.normal());
  const { mean, sd, kurtosis } = moments(values);
  expect(Math.abs(mean)).toBeLessThan(4 / Math.sqrt(200_000));
  expect(Math.abs(sd - 1)).toBeLessThan(spreadTolerance(200_000));
  expect(Math.abs(kurtosis - 3)).toBeLessThan(4 * Math.sqrt(24 / 200_000));
  const outside = values.filter((value) => Math.abs(value) > 1.959964).length / 200_000;
  expect(Math.abs(outside - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / 200_000));
});

test("numbers that follow each other, and streams of neighbouring names and seeds, are not correlated", () => {
  const values = draws(100_000, (random) => random.normal());
  expect(Math.abs(correlation(values.slice(1), values.slice(0, -1)))).toBeLessThan(4 / Math.sqrt(1e5));
  expect(Math.abs(correlation(values.slice(2), values.slice(0, -2)))).toBeLessThan(4 / Math.sqrt(1e5));
  const first = (seed: number, label: string) => new RandomStream(seed, label).normal();
  const seeds = Array.from({ length: 20_000 }, (_, seed) => seed);
  const own = seeds.map((seed) => first(seed, "reader"));
  const limit = 4 / Math.sqrt(20_000);
  expect(Math.abs(moments(own).mean)).toBeLessThan(limit);
  expect(Math.abs(moments(own).sd - 1)).toBeLessThan(spreadTolerance(20_000));
  expect(
    Math.abs(
      correlation(
        own,
        seeds.map((seed) => first(seed + 1, "reader")),
      ),
    ),
  ).toBeLessThan(limit);
  expect(
    Math.abs(
      correlation(
        own,
        seeds.map((seed) => first(seed, "beam")),
      ),
    ),
  ).toBeLessThan(limit);
});

test("a whole number below a count reaches every one of them alike", () => {
  const values = draws(70_000, (random) => random.below(7));
  for (let k = 0; k < 7; k++) {
    const count = values.filter((value) => value === k).length;
    expect(Math.abs(count - 10_000)).toBeLessThan(4 * Math.sqrt(10_000));
  }
});

test.each([-1, 0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])("the seed %s is refused", (seed) => {
  expect(() => new RandomStream(seed)).toThrow(/whole number from 0/);
});
