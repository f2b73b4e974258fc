import { describe, expect, test } from "vitest";
import { decimalsOf, linearTicks, logarithmicTicks } from "./ticks.ts";

const texts = (ticks: readonly { readonly text: string }[]) => ticks.map(({ text }) => text);

describe("ticks of an even axis", () => {
  // by hand: 1, 2 or 5 times a power of ten apart, the count nearest to that asked for
  test.each([
    [[0, 10], 5, ["0", "2", "4", "6", "8", "10"]],
    [[-0.5, 0.5], 4, ["−0.4", "−0.2", "0.0", "0.2", "0.4"]],
    [[0.43, 0.97], 5, ["0.5", "0.6", "0.7", "0.8", "0.9"]],
    [[9990, 10010], 4, ["9990", "9995", "10000", "10005", "10010"]],
  ] as const)("of %j, about %d, are %j", (domain, count, expected) => {
    expect(texts(linearTicks(domain, count))).toEqual(expected);
  });

  test("have as many decimals as their step", () => {
    expect([0.1, 0.25, 5, 1e-4].map(decimalsOf)).toEqual([1, 1, 0, 4]);
  });
});

describe("ticks of a logarithmic axis", () => {
  const place = (low: number, high: number, width: number) => (value: number) =>
    (width * Math.log(value / low)) / Math.log(high / low);

  test("are round places of the decades, as many as have room", () => {
    expect(texts(logarithmicTicks([4, 110], place(4, 110, 550), 11))).toEqual([
      "5",
      "7",
      "10",
      "20",
      "30",
      "50",
      "70",
      "100",
    ]);
    expect(texts(logarithmicTicks([4, 110], place(4, 110, 130), 11))).toEqual(["5", "10", "20", "50", "100"]);
  });

  test("have the decimals of their decade", () => {
    expect(texts(logarithmicTicks([0.04, 3], place(0.04, 3, 400), 11))).toEqual([
      "0.05",
      "0.1",
      "0.2",
      "0.5",
      "1",
      "2",
    ]);
  });

  test("are even where the domain is too narrow for round places of a decade", () => {
    expect(texts(logarithmicTicks([60.2, 61.1], place(60.2, 61.1, 400), 11))).toEqual([
      "60.2",
      "60.4",
      "60.6",
      "60.8",
      "61.0",
    ]);
  });
});
