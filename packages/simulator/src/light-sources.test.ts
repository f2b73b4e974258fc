import { expect, test } from "vitest";
import { stemRatioOf } from "./fibre.ts";
import { lightSources } from "./light-sources.ts";
import { standardLaboratory } from "./standard-laboratory.ts";

const { fibre } = standardLaboratory();

test("50 mm of fibre and 1 Gy give the 6.5 and 3.5 nC of the synthetic set A of docs/checks.md, 5 and 1.5 of them from the tip", () => {
  const { tip, stem } = lightSources(fibre, 1, 50);
  expect(tip[0]).toBeCloseTo(5, 12);
  expect(tip[1]).toBeCloseTo(1.5, 12);
  expect(tip[0] + stem[0]).toBeCloseTo(6.5, 12);
  expect(tip[1] + stem[1]).toBeCloseTo(3.5, 12);
});

test("the tip's light does not ask how much fibre the beam sees, the stem's grows with it", () => {
  const [little, much] = [lightSources(fibre, 1, 50), lightSources(fibre, 1, 400)];
  expect(much.tip).toEqual(little.tip);
  expect(much.stem[0] / little.stem[0]).toBeCloseTo(8, 12);
});

test("the stem's light has the colour that the separation finds: the stem ratio", () => {
  const { stem } = lightSources(fibre, 2, 123);
  expect(stem[0] / stem[1]).toBeCloseTo(stemRatioOf(fibre, [1, 1]), 12);
});
