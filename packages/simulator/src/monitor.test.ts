import { expect, test } from "vitest";
import { monitorReading } from "./monitor.ts";
import { RandomStream } from "./random-stream.ts";
import { moments, spreadTolerance } from "./testing/moments.ts";

const monitor = { readingPerMU: 0.06, noise: 0.002, shading: 0, shadingSide_mm: 15, decimals: 4 };
const random = () => new RandomStream(3, "monitor");

test("without noise and shading the monitor follows the output, whatever the field", () => {
  expect(monitorReading(monitor, 200, 5, 100, 0, random())).toBeCloseTo(12, 12);
  expect(monitorReading(monitor, 202, 100, 100, 0, random())).toBeCloseTo(12.12, 12);
});

test("shading takes from small fields and leaves the reference as it was", () => {
  const shaded = { ...monitor, shading: 0.02 };
  const seen = (side: number) => monitorReading(shaded, 200, side, 100, 0, random()) / 12 - 1;
  expect(seen(100)).toBe(0);
  // 2 % of e^(−5/15) less that of the reference, C
  expect(seen(5)).toBeCloseTo(-0.02 * (0.7165313105737893 - 0.0012726338013398079), 12);
  expect(seen(5)).toBeLessThan(seen(20));
});

test("its noise is relative, as large as stated, and can be told to be larger", () => {
  const own = random();
  const drawn = (factor: number) =>
    Array.from({ length: 20_000 }, () => monitorReading(monitor, 200, 50, 100, factor, own));
  const usual = moments(drawn(1));
  expect(Math.abs(usual.mean - 12)).toBeLessThan((4 * 0.024) / Math.sqrt(20_000));
  expect(Math.abs(usual.sd / 0.024 - 1)).toBeLessThan(spreadTolerance(20_000));
  expect(Math.abs(moments(drawn(5)).sd / 0.12 - 1)).toBeLessThan(spreadTolerance(20_000));
});
