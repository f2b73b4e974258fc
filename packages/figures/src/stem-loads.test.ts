import { describe, expect, test } from "vitest";
import { stemLoads } from "./stem-loads.ts";
import { svgText } from "./svg-text.ts";
import { expectReadable, titlesOf } from "./testing/drawing-checks.ts";
import { LOADS } from "./testing/samples.ts";
import { textBoxes } from "./testing/text-boxes.ts";

const figure = stemLoads(LOADS);

describe("the stem loads", () => {
  test("are drawn as they were when they were last looked at", () => {
    expect(svgText(figure, "light")).toMatchSnapshot();
  });

  test("are readable, also with many conditions and long names", () => {
    expectReadable(figure);
    const rows = Array.from({ length: 60 }, (_, k) => ({ ...LOADS.rows[0]!, name: `${"condition-".repeat(8)}${k}` }));
    expectReadable(stemLoads({ ...LOADS, rows }));
  });

  test("have alternative text with the range, what lies beyond it, and every mean", () => {
    expect(figure.description).toContain("from 0.440 to 7.20");
    expect(figure.description).toContain(
      "verified up to 6.58, by turned; one reading lies beyond it: 400x400 (Output factors)",
    );
    expect(figure.description).toContain("short 0.903; 10x10 0.440; 400x400 7.20");
  });

  test("mark a reading beyond the range and one that is left out, each by its own shape and in words", () => {
    const texts = textBoxes(figure).map(({ text }) => text);
    expect(texts).toContain("beyond the verified range");
    expect(texts).toContain("left out");
    expect(titlesOf(figure)).toContain("r3, 400x400: stem load 7.20, beyond the verified range");
    expect(titlesOf(figure)).toContain("r2, 10x10: stem load 0.500, left out: door opened");
  });

  test("do not count a reading at the end of the range as beyond it", () => {
    const rows = [{ ...LOADS.rows[0]!, readings: [{ name: "s1", load: 6.59 }] }];
    expect(stemLoads({ ...LOADS, rows }).description).toContain("no reading lies beyond it");
  });

  test("say so where nothing is verified, and cope with loads of zero and below", () => {
    const { verified: _, ...without } = LOADS;
    expect(stemLoads(without).description).toContain("No stem load is verified.");
    const rows = [
      {
        ...LOADS.rows[0]!,
        mean: -0.1,
        readings: [
          { name: "s1", load: -0.1 },
          { name: "s2", load: 0 },
        ],
      },
    ];
    expectReadable(stemLoads({ ...without, rows }));
  });
});
