import fc from "fast-check";
import { expect, test } from "vitest";
import { RandomStream } from "./random-stream.ts";
import { compressed, darkRateAt, readingOf } from "./reader.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { correlation, moments, spreadTolerance } from "./testing/moments.ts";

const { reader } = standardLaboratory();
const quiet = { time_s: 0, duration_s: 30, extraRate: [0, 0], noiseFactor: 0 } as const;
const dark = { ...reader, darkRate_perS: [0, 0] } as const;

function readings(own: typeof reader, light: readonly [number, number], duration_s: number, count = 20_000) {
  const random = new RandomStream(1, "test");
  return Array.from({ length: count }, () => readingOf(own, light, { ...quiet, duration_s, noiseFactor: 1 }, random));
}

test("without noise a reading is gain times light and the dark rate times the time", () => {
  const own = { ...reader, gain: [2, 0.5] } as const;
  expect(readingOf(own, [3, 4], quiet, new RandomStream(1))).toEqual([
    expect.closeTo(6 + 0.0012 * 30, 12),
    expect.closeTo(2 + 0.00064 * 30, 12),
  ]);
  const lit = readingOf(own, [3, 4], { ...quiet, extraRate: [0.1, 0.2] }, new RandomStream(1));
  expect(lit).toEqual([expect.closeTo(9.036, 12), expect.closeTo(8.0192, 12)]);
});

test("the dark rate drifts linearly, by its part per hour", () => {
  const own = { ...reader, darkDrift_perHour: [0.1, -0.2] } as const;
  expect(darkRateAt(own, 0, 0)).toBe(0.0012);
  expect(darkRateAt(own, 0, 7200)).toBeCloseTo(0.0012 * 1.2, 15);
  expect(darkRateAt(own, 1, 1800)).toBeCloseTo(0.00064 * 0.9, 15);
});

test.each([
  ["constant", { constant_nC: 0.01, proportional: 0, perRootSecond_nC: 0 }, 0.01, 0.01],
  ["proportional", { constant_nC: 0, proportional: 0.01, perRootSecond_nC: 0 }, 0.05, 0.02],
  ["per root of a second", { constant_nC: 0, proportional: 0, perRootSecond_nC: 0.01 }, 0.02, 0.02],
  [
    "all three",
    { constant_nC: 0.03, proportional: 0.008, perRootSecond_nC: 0.02 },
    Math.sqrt(0.0009 + 0.0016 + 0.0016),
    Math.sqrt(0.0009 + 0.000256 + 0.0016),
  ],
])("noise, %s: mean and standard deviation are as stated, independent by channel", (_, noise, first, second) => {
  const drawn = readings({ ...dark, noise }, [5, 2], 4);
  const [a, b] = [drawn.map((pair) => pair[0]), drawn.map((pair) => pair[1])];
  const limit = spreadTolerance(drawn.length);
  expect(Math.abs(moments(a).mean - 5)).toBeLessThan((4 * first) / Math.sqrt(drawn.length));
  expect(Math.abs(moments(a).sd / first - 1)).toBeLessThan(limit);
  expect(Math.abs(moments(b).sd / second - 1)).toBeLessThan(limit);
  expect(Math.abs(moments(a).kurtosis - 3)).toBeLessThan(0.2);
  expect(Math.abs(correlation(a, b))).toBeLessThan(4 / Math.sqrt(drawn.length));
});

test("a channel is exact up to its level, then falls behind, and never rises above its headroom", () => {
  const saturation = { level_nC: 10, headroom_nC: 5 };
  expect(compressed(9.99, saturation)).toBe(9.99);
  expect(compressed(10, saturation)).toBe(10);
  expect(compressed(15, saturation)).toBe(12.5);
  expect(compressed(1e9, saturation)).toBeCloseTo(15, 6);
  expect(compressed(1e9, undefined)).toBe(1e9);
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 100, noNaN: true }),
      fc.double({ min: 0.001, max: 10, noNaN: true }),
      (q, step) => {
        const [low, high] = [compressed(q, saturation), compressed(q + step, saturation)];
        expect(high).toBeGreaterThan(low);
        expect(high - low).toBeLessThanOrEqual(step + 1e-12);
        expect(low).toBeLessThanOrEqual(q);
      },
    ),
  );
});

test("a channel saturates by all that it holds, dark reading included", () => {
  const own = { ...reader, saturation: [{ level_nC: 3, headroom_nC: 1 }, undefined] } as const;
  const [first, second] = readingOf(own, [3, 3], quiet, new RandomStream(1));
  expect(first).toBeCloseTo(3 + 0.036 / 1.036, 12);
  expect(second).toBeCloseTo(3.0192, 12);
});
