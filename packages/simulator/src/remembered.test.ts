import { expect, test } from "vitest";
import { trueAverage, trueOutputFactor, trueProfile, trueWidths } from "./field-truth.ts";
import { remembered } from "./remembered.ts";
import { standardLaboratory } from "./standard-laboratory.ts";

test("a value is computed once for an owner and a key, and again for others", () => {
  let computed = 0;
  const compute = () => ++computed;
  const [owner, other] = [{}, {}];
  expect(remembered(owner, "a", compute)).toBe(1);
  expect(remembered(owner, "a", compute)).toBe(1);
  expect(remembered(owner, "b", compute)).toBe(2);
  expect(remembered(other, "a", compute)).toBe(3);
});

test("what was computed as nothing is remembered too", () => {
  let computed = 0;
  const owner = {};
  const compute = () => {
    computed++;
    return undefined;
  };
  remembered(owner, "a", compute);
  remembered(owner, "a", compute);
  expect(computed).toBe(1);
});

test("what is remembered of a field is what is computed afresh", () => {
  const { beam, fibre } = standardLaboratory();
  const aperture = { shape: "circle", diameter_mm: 5 } as const;
  const all = (own: typeof beam) => [
    trueOutputFactor(own, aperture),
    ...trueWidths(own, aperture),
    trueAverage(own, fibre, aperture, [0, 0]),
  ];
  const first = all(beam);
  expect(all(beam)).toEqual(first);
  expect(all({ ...beam })).toEqual(first);
});

test("fields, detectors and beams do not take each other's values", () => {
  const { beam, fibre } = standardLaboratory();
  const [small, large] = [{ shape: "circle", diameter_mm: 5 } as const, { shape: "circle", diameter_mm: 8 } as const];
  const at = [0, 0] as const;
  const base = trueAverage(beam, fibre, small, at);
  expect(trueAverage(beam, fibre, large, at)).toBeGreaterThan(base);
  expect(trueAverage(beam, { ...fibre, diameter_mm: 2 }, small, at)).toBeLessThan(base);
  expect(trueAverage(beam, { ...fibre, axis: "across-beam" }, small, at)).toBeLessThan(base);
  expect(trueAverage({ ...beam, edgeSigma_mm: 2.5 }, fibre, small, at)).not.toBe(base);
  expect(trueAverage(beam, fibre, small, [0.5, 0])).toBeLessThan(base);
  expect(trueProfile(beam, small, [0, 0])).toBe(1);
  expect(trueProfile(beam, small, [0.5, 0])).toBeLessThan(1);
});
