import { describe, expect, test } from "vitest";
import { budgetBars } from "./budget-bars.ts";
import { svgText } from "./svg-text.ts";
import { elementsOf, expectReadable } from "./testing/drawing-checks.ts";
import { BUDGET } from "./testing/samples.ts";
import { textBoxes } from "./testing/text-boxes.ts";

const figure = budgetBars(BUDGET);
const bars = (given = BUDGET) =>
  elementsOf(budgetBars(given)).filter(({ name, attributes }) => name === "rect" && Number(attributes["height"]) > 10);

describe("the bars of a budget", () => {
  test("are drawn as they were when they were last looked at", () => {
    expect(svgText(figure, "light")).toMatchSnapshot();
  });

  test("are readable, also with long names", () => {
    expectReadable(figure);
    expectReadable(
      budgetBars({ ...BUDGET, parts: BUDGET.parts.map((part) => ({ ...part, name: "scatter ".repeat(30) })) }),
    );
  });

  test("are as long as their shares, and go to the left where a correlation makes a share negative", () => {
    const [first, second, third] = bars().map(
      ({ attributes }) => [Number(attributes["x"]), Number(attributes["width"])] as const,
    );
    expect(second![1] / first![1]).toBeCloseTo(0.45 / 0.6, 2);
    expect(third![0] + third![1]).toBeCloseTo(first![0], 1);
    expect(third![1] / first![1]).toBeCloseTo(0.05 / 0.6, 2);
  });

  test("tell type A from type B without colour: one is filled, the other open", () => {
    const fills = bars().map(({ attributes }) => attributes["fill"]);
    expect(fills.slice(0, 3)).toEqual(["paper", "ink", "ink"]);
  });

  test("have alternative text with the result and every share, the largest first", () => {
    expect(figure.description).toContain(
      "0.4957 ± 0.0063 with 95 % coverage; standard uncertainty 0.0032 from 5 inputs",
    );
    expect(figure.description).toContain(
      "other output corrections 60 % (type B); scatter of net signal, blue 45 % (type A); scatter of net signal, green −5.0 % (type A); 2 others 0.0 %",
    );
  });

  test("put what is too small or too many into one bar, so that nothing is left away", () => {
    const parts = Array.from({ length: 30 }, (_, k) => ({
      name: `input ${k}`,
      type: "B" as const,
      share: 1 / 30,
      contribution: 1e-3,
    }));
    const texts = textBoxes(budgetBars({ ...BUDGET, parts })).map(({ text }) => text);
    expect(texts.filter((text) => text.startsWith("input "))).toHaveLength(10);
    expect(texts).toContain("20 others");
    expect(texts).toContain("67 %");
  });

  test("do not call all what is not all", () => {
    const parts = [
      { name: "a", type: "B" as const, share: 0.996, contribution: 1e-3 },
      { name: "b", type: "A" as const, share: 0.004, contribution: 1e-4 },
    ];
    expect(budgetBars({ ...BUDGET, parts }).description).toContain("a 99.6 % (type B); b 0.4 %");
  });
});
