import type { Formula, TraceStep } from "@alcedo-dosimetry/metrology";
import { describe, expect, test } from "vitest";
import { columnSymbols, formulaTexts } from "./formula-texts.ts";

const input = (node: number, symbol: string, value: number): TraceStep => ({
  node,
  symbol,
  label: symbol,
  unit: "1",
  value,
  u: 0,
  share: 0,
  input: "constant",
  inputs: [],
});
const step = (formula: Formula | undefined, inputs: readonly TraceStep[]): TraceStep => {
  const { input: _, ...own } = input(9, "y", 0);
  return { ...own, ...(formula && { formula }), inputs };
};
const reference = (node: number): Formula => ({ kind: "reference", node });
const times = (left: Formula, right: Formula): Formula => ({ kind: "operation", operation: "times", left, right });

describe("a step's formula as text", () => {
  test("stands in symbols and with the numbers put in, to seven digits", () => {
    const formula = times(reference(1), times(reference(2), { kind: "number", value: 0.19999999999999996 }));
    expect(formulaTexts(step(formula, [input(1, "ρ", 0.7500424094966647), input(2, "b", 0.00064)]))).toEqual({
      symbols: "ρ · b · 0.2",
      numbers: "0.7500424 · (6.4×10⁻⁴) · 0.2",
    });
  });

  test("names a step without a symbol by its number", () => {
    expect(formulaTexts(step(reference(7), [input(7, "", 3)]))).toEqual({ symbols: "x7", numbers: "3" });
  });

  test("is nothing for what comes from outside", () => {
    expect(formulaTexts(step(undefined, []))).toBeUndefined();
  });

  test("tells which columns it looks at, wherever they stand in it", () => {
    const column = (symbol: string): Formula => ({ kind: "symbol", symbol });
    const formula: Formula = {
      kind: "mean",
      count: 3,
      of: times(column("M_blue"), { kind: "power", base: column("t"), exponent: -1 }),
    };
    expect([...columnSymbols(times(formula, reference(1)))]).toEqual(["M_blue", "t"]);
  });
});
