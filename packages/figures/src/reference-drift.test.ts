import { describe, expect, test } from "vitest";
import { referenceDrift } from "./reference-drift.ts";
import { svgText } from "./svg-text.ts";
import { expectReadable } from "./testing/drawing-checks.ts";
import { DRIFT } from "./testing/samples.ts";
import { textBoxes } from "./testing/text-boxes.ts";

const figure = referenceDrift(DRIFT);

describe("the reference over a series", () => {
  test("is drawn as it was when it was last looked at", () => {
    expect(svgText(figure, "light")).toMatchSnapshot();
  });

  test("is readable, also with many visits", () => {
    expectReadable(figure);
    const visits = Array.from({ length: 40 }, (_, k) => ({
      name: `100x100/${k + 1}`,
      at: 5 * k,
      move: { value: 1e-4 * (k % 7), U: 5e-4 },
    }));
    expectReadable(referenceDrift({ ...DRIFT, visits }));
  });

  test("has alternative text with every visit and the largest move", () => {
    expect(figure.description).toContain(
      "100x100/2 after 44 min +0.013 ± 0.067 %; 100x100/3 after 80.7 min −0.038 ± 0.067 %",
    );
    expect(figure.description).toContain("Its largest move is +0.052 ± 0.066 %.");
  });

  test("counts visits where no times were written down", () => {
    const visits = DRIFT.visits.map((visit, k) => ({ ...visit, at: k + 1 }));
    const drawn = referenceDrift({ ...DRIFT, timed: false, visits, fields: [] });
    const texts = textBoxes(drawn).map(({ text }) => text);
    expect(texts).toContain("visit");
    expect(texts.filter((text) => /^[123]$/.test(text))).toEqual(["1", "2", "3"]);
    expect(drawn.description).not.toContain("min");
  });

  test("does not make a stable reference look as if it moved", () => {
    const still = DRIFT.visits.map((visit) => ({ ...visit, move: { value: 0, U: 1e-6 } }));
    const ticks = textBoxes(referenceDrift({ ...DRIFT, visits: still, fields: [] })).map(({ text }) => text);
    expect(ticks).toContain("0.10");
  });
});
