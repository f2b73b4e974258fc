import { expect, test } from "vitest";
import { outputCourse } from "./output-course.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { correlation, moments, spreadTolerance } from "./testing/moments.ts";
import { referenceShot } from "./testing/one-shot.ts";

const still = { ...standardLaboratory().beam, pulseSpread: 0, walk_perRootHour: 0, drift_perHour: 0 };
const at = (times: readonly number[]) => times.map((time_s, number) => referenceShot({ time_s, number }));
const many = <T>(draw: (seed: number) => T) => Array.from({ length: 8000 }, (_, seed) => draw(seed));

test("a still beam gives what it should", () => {
  expect(outputCourse(still, at([0, 100]), 1)).toEqual([
    { expected: 1, delivered: 1 },
    { expected: 1, delivered: 1 },
  ]);
});

test("drift is linear in time", () => {
  const course = outputCourse({ ...still, drift_perHour: 0.01 }, at([0, 1800, 7200]), 1);
  expect(course.map(({ expected }) => expected)).toEqual([1, expect.closeTo(1.005, 12), expect.closeTo(1.02, 12)]);
});

test("pulses fluctuate by their spread over the root of their number, each shot for itself", () => {
  const beam = { ...still, pulseSpread: 0.05, pulsesPerMU: 8 };
  const drawn = many((seed) =>
    outputCourse(beam, at([0, 60]), seed).map(({ delivered, expected }) => delivered / expected - 1),
  );
  const [first, second] = [drawn.map((pair) => pair[0]!), drawn.map((pair) => pair[1]!)];
  const spread = 0.05 / Math.sqrt(1600);
  expect(Math.abs(moments(first).mean)).toBeLessThan((4 * spread) / Math.sqrt(8000));
  expect(Math.abs(moments(first).sd / spread - 1)).toBeLessThan(spreadTolerance(8000));
  expect(Math.abs(correlation(first, second))).toBeLessThan(4 / Math.sqrt(8000));
  const fewer = many((seed) => outputCourse(beam, [referenceShot({ mu: 50 })], seed)[0]!.delivered);
  expect(Math.abs(moments(fewer).sd / (2 * spread) - 1)).toBeLessThan(spreadTolerance(8000));
});

test("a random walk spreads as the root of time, by steps that do not know each other", () => {
  const beam = { ...still, walk_perRootHour: 0.002 };
  const drawn = many((seed) => outputCourse(beam, at([0, 900, 3600, 8100]), seed).map(({ expected }) => expected));
  const level = (place: number) => drawn.map((course) => course[place]!);
  const step = (place: number) => drawn.map((course) => course[place]! - course[place - 1]!);
  expect(level(0).every((value) => value === 1)).toBe(true);
  for (const [place, hours] of [
    [1, 0.25],
    [2, 1],
    [3, 2.25],
  ] as const) {
    expect(Math.abs(moments(level(place)).mean - 1)).toBeLessThan((4 * 0.002 * Math.sqrt(hours)) / Math.sqrt(8000));
    expect(Math.abs(moments(level(place)).sd / (0.002 * Math.sqrt(hours)) - 1)).toBeLessThan(spreadTolerance(8000));
  }
  expect(Math.abs(correlation(step(2), step(3)))).toBeLessThan(4 / Math.sqrt(8000));
});

test("what is expected knows of the walk and not of the pulses", () => {
  const beam = { ...still, walk_perRootHour: 0.002, pulseSpread: 0.05 };
  const shots = at([0, 900]);
  const alone = outputCourse({ ...beam, pulseSpread: 0 }, shots, 4);
  expect(outputCourse(beam, shots, 4).map(({ expected }) => expected)).toEqual(alone.map(({ expected }) => expected));
});
