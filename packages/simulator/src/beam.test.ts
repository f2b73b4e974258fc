import { expect, test } from "vitest";
import { outputFactor } from "./beam.ts";
import { standardLaboratory } from "./standard-laboratory.ts";

const { beam } = standardLaboratory();
const square = (side: number) => outputFactor(beam, { shape: "rectangle", x_mm: side, y_mm: side });

test.each([
  // 10 cm depth, 6 MV: mean (sd) over machines of two classes, Followill et al., Tables 2–3 (docs/checks.md, Fields, V)
  [60, 0.93, 0.01, 0.914, 0.008],
  [40, 0.878, 0.015, 0.855, 0.01],
  [30, 0.842, 0.012, 0.82, 0.008],
  [20, 0.79, 0.007, 0.764, 0.01],
])("the output of a square of %s mm lies within what was seen on many machines", (side, a, aSd, b, bSd) => {
  expect(square(side)).toBeGreaterThan(b - 2 * bSd);
  expect(square(side)).toBeLessThan(a + 2 * aSd);
});

test("the output factor is one in the reference field and rises with the field's side", () => {
  expect(square(100)).toBe(1);
  const sides = [4, 5, 6, 8, 10, 15, 20, 30, 40, 60, 100, 200];
  const outputs = sides.map(square);
  expect(outputs).toEqual([...outputs].sort((x, y) => x - y));
  // falling ever faster: the small-field problem
  expect(square(10) - square(5)).toBeGreaterThan(square(20) - square(15));
});

test("it goes by area: a circle and a square of one area have the same", () => {
  const circle = outputFactor(beam, { shape: "circle", diameter_mm: 10 });
  expect(circle).toBeCloseTo(square(8.86226925452758), 12);
  expect(outputFactor(beam, { shape: "rectangle", x_mm: 20, y_mm: 5 })).toBeCloseTo(square(10), 14);
});
