import { describe, expect, test } from "vitest";
import { outputFactorCurve } from "./output-factor-curve.ts";
import { svgText } from "./svg-text.ts";
import { expectReadable, titlesOf } from "./testing/drawing-checks.ts";
import { CURVE } from "./testing/samples.ts";
import { textBoxes } from "./testing/text-boxes.ts";

const figure = outputFactorCurve(CURVE);

describe("the curve of output factors", () => {
  test("is drawn as it was when it was last looked at", () => {
    expect(svgText(figure, "light")).toMatchSnapshot();
  });

  test("is readable, also with many fields of nearly one size", () => {
    expectReadable(figure);
    const points = Array.from({ length: 30 }, (_, k) => ({
      ...CURVE.points[0]!,
      name: `applicator-${k}`,
      equivalentSquare_mm: { value: 10 + 0.1 * k, U: 0.1 },
    }));
    expectReadable(outputFactorCurve({ ...CURVE, points }));
  });

  test("has alternative text with every output factor, its size and its interval, and every difference", () => {
    expect(figure.description).toContain("10x10 (10 mm) 0.7014 ± 0.0069");
    expect(figure.description).toContain("Against plan, table 7: 10x10 +0.4 ± 1.1 %; cone-5 −3.0 ± 1.4 % (outside).");
    expect(figure.description).toContain("Intervals cover 95 %.");
  });

  test("shows differences only where there is something to compare with", () => {
    const names = (given = CURVE) => textBoxes(outputFactorCurve(given)).map(({ text }) => text);
    expect(names()).toContain("difference (%)");
    expect(names()).toContain("differs by more than its expanded uncertainty");
    expect(names({ ...CURVE, sets: [] })).not.toContain("difference (%)");
    expect(outputFactorCurve({ ...CURVE, sets: [] }).height).toBeLessThan(figure.height - 100);
  });

  test("tells fields of both shapes, and several sources, apart by their marks", () => {
    const sets = ["a", "b", "c"].map((source) => ({ ...CURVE.sets[0]!, source }));
    const drawn = outputFactorCurve({ ...CURVE, sets });
    expectReadable(drawn);
    expect(
      titlesOf(drawn).filter((title) => title.startsWith("cone-5 against b: −3.0 ± 1.4 %, more than")),
    ).toHaveLength(1);
  });

  test("draws a value of unknown uncertainty without a bar, and says that it is unknown", () => {
    const points = CURVE.points.map((point) => ({
      ...point,
      outputFactor: { value: point.outputFactor.value, U: null },
    }));
    const drawn = outputFactorCurve({ ...CURVE, points, sets: [] });
    expect(drawn.description).toContain("0.7014 (uncertainty unknown)");
    expect(textBoxes(drawn).some(({ text }) => text === "95 % interval")).toBe(false);
  });
});
