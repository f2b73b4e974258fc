import { describe, expect, test } from "vitest";
import { separationPlane } from "./separation-plane.ts";
import { svgText } from "./svg-text.ts";
import { elementsOf, expectReadable, titlesOf } from "./testing/drawing-checks.ts";
import { PLANE } from "./testing/samples.ts";
import { textBoxes } from "./testing/text-boxes.ts";

const figure = separationPlane(PLANE);
const texts = (given = PLANE) => textBoxes(separationPlane(given)).map(({ text }) => text);

describe("the plane of a separation", () => {
  test("is drawn as it was when it was last looked at", () => {
    expect(svgText(figure, "light")).toMatchSnapshot();
  });

  test("is readable: no text is cut off, and none lies on another", () => {
    expectReadable(figure);
  });

  test("has alternative text with the stem ratio, and with what every condition kept aside is off", () => {
    expect(figure.description).toContain("stem ratio 0.7500 ± 0.0021");
    expect(figure.description).toContain("2 fit conditions (short, long)");
    expect(figure.description).toContain("half +0.13 ± 0.25 % (passed)");
    expect(figure.description).toContain("turned −5.19 ± 0.40 % (failed)");
    expect(figure.description).toContain("the criterion is 0.5 %");
  });

  test("puts the marks on the line where the numbers do, and every mark twice: in the plane and over its residual", () => {
    const line = elementsOf(figure).find(
      ({ name, attributes }) => name === "line" && attributes["stroke-width"] === "1.4",
    )!;
    const [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map((key) => Number(line.attributes[key]));
    const discs = elementsOf(figure)
      .filter(({ attributes }) => attributes["transform"]?.startsWith("translate") && attributes["fill"] === "ink")
      .map(({ attributes }) => attributes["transform"]!.match(/[\d.]+/g)!.map(Number) as [number, number]);
    const [short, long] = discs;
    for (const [x, y] of [short!, long!]) expect(y).toBeCloseTo(y1! + ((x - x1!) * (y2! - y1!)) / (x2! - x1!), 0);
    expect(
      titlesOf(figure).filter((title) => title.startsWith("half (kept aside, passed): 11.010 against 9.5000 nC")),
    ).toHaveLength(2);
  });

  test("says what its ellipses cover, and how much they are enlarged", () => {
    expect(texts().some((text) => /^95 % ellipse of the means, enlarged \d+ times$/.test(text))).toBe(true);
    const plain = texts({ ...PLANE, points: PLANE.points.map(({ covariance: _, ...point }) => point) });
    expect(plain.some((text) => text.includes("ellipse"))).toBe(false);
  });

  test("keeps ellipses within the plane", () => {
    const ellipses = elementsOf(figure).filter(({ name }) => name === "polygon");
    expect(ellipses).toHaveLength(5);
    const points = ellipses.flatMap(({ attributes }) =>
      attributes["points"]!.split(" ").map((pair) => pair.split(",").map(Number)),
    );
    expect(Math.max(...points.map(([x]) => x!))).toBeLessThanOrEqual(figure.width);
    expect(Math.min(...points.map(([, y]) => y!))).toBeGreaterThan(40);
  });

  test("tells the standings apart in its legend, and shows those that there are", () => {
    for (const text of ["fit condition", "kept aside, passed", "kept aside, failed", "kept aside, inconclusive"])
      expect(texts()).toContain(text);
    const fit = texts({ ...PLANE, points: PLANE.points.slice(0, 2) });
    expect(fit.some((text) => text.startsWith("kept aside"))).toBe(false);
    expect(separationPlane({ ...PLANE, points: PLANE.points.slice(0, 2) }).description).toContain(
      "No condition was kept aside",
    );
  });

  test("draws several parallel lines where dose groups differ, without a band under the residuals of other groups", () => {
    const lines = [...PLANE.lines, { intercept: 7.75, slope: 0.75, band: [] }];
    expect(separationPlane({ ...PLANE, lines }).description).toContain("2 parallel lines");
  });

  test("has room for forty conditions with long names, or names those that it has no room for", () => {
    const points = Array.from({ length: 40 }, (_, k) => ({
      ...PLANE.points[2]!,
      name: `a-rather-long-name-of-a-condition-${k}`,
      x: 3 + 0.5 * k,
      y: 3.875 + 0.75 * (3 + 0.5 * k),
    }));
    expectReadable(separationPlane({ ...PLANE, points }));
  });
});
