import { describe, expect, test } from "vitest";
import { readingsInTime } from "./readings-in-time.ts";
import { svgText } from "./svg-text.ts";
import { elementsOf, expectReadable, titlesOf } from "./testing/drawing-checks.ts";
import { READINGS } from "./testing/samples.ts";
import { textBoxes } from "./testing/text-boxes.ts";

const figure = readingsInTime(READINGS);

describe("the readings of a condition", () => {
  test("are drawn as they were when they were last looked at", () => {
    expect(svgText(figure, "light")).toMatchSnapshot();
  });

  test("are readable, also one alone and five channels of them", () => {
    expectReadable(figure);
    expectReadable(readingsInTime({ ...READINGS, readings: READINGS.readings.slice(0, 1) }));
    const signals = Array.from({ length: 6 }, (_, k) => ({ ...READINGS.signals[2]!, name: `channel ${k}` }));
    const readings = READINGS.readings.map((reading) => ({ ...reading, deviations: signals.map((_, k) => 1e-4 * k) }));
    expectReadable(readingsInTime({ ...READINGS, signals, readings }));
  });

  test("have alternative text with means, spread, and what was left out and why", () => {
    expect(figure.description).toContain("3 readings over 2.4 minutes");
    expect(figure.description).toContain("blue 4.9553 nC, standard deviation 0.039 %");
    expect(figure.description).toContain(
      "r048 is left out (interlock, beam stopped at 148 MU); it is off by −0.21, −26.00, +0.17 %.",
    );
  });

  test("mark a reading that is left out by a cross, and by an arrow at the edge where it lies beyond", () => {
    const texts = textBoxes(figure).map(({ text }) => text);
    expect(texts).toContain("left out");
    expect(texts).toContain("left out, beyond the axis");
    expect(titlesOf(figure)).toContain("r048, green: −26.00 %, left out: interlock, beam stopped at 148 MU");
    const arrows = elementsOf(figure).filter(({ attributes }) => attributes["fill"] === "attention");
    // the one in the strip and the one in the legend
    expect(arrows).toHaveLength(2);
  });

  test("keep readings that count on the axis, whatever was left out", () => {
    const ticks = textBoxes(figure).map(({ text }) => text);
    expect(ticks).not.toContain("−20");
    expect(ticks).toContain("−0.2");
  });

  test("stand in the order of the table where no times were written down", () => {
    const readings = READINGS.readings.map((reading, k) => ({ ...reading, at: k + 1 }));
    const drawn = readingsInTime({ ...READINGS, timed: false, readings });
    expect(textBoxes(drawn).map(({ text }) => text)).toContain("reading, in the order of the table");
    expect(drawn.description).not.toContain("minutes");
  });
});
