import { describe, expect, it } from "vitest";
import { formulaOf, formulaText, references } from "./formula.ts";
import { type Scalar, Tape } from "./tape.ts";
import { specimen } from "./testing/specimen.ts";
import { formulaFor } from "./trace.ts";
import { ONE } from "./unit.ts";

/** a = 2, b = −3, c = 4. */
function letters() {
  const tape = new Tape();
  const [a, b, c] = (["a", "b", "c"] as const).map((key, i) =>
    tape.input([2, -3, 4][i]!, ONE).named(key, key, key),
  ) as [Scalar, Scalar, Scalar];
  return { tape, a, b, c };
}

const noOutput = (): never => {
  throw new Error("there is no kernel here");
};
const symbols = (tape: Tape) => (node: number) => tape.names.get(node)!.symbol;
const numbers = (tape: Tape) => (node: number) => `${tape.values[node]}`;

function written(write: (letters: { a: Scalar; b: Scalar; c: Scalar }) => Scalar, how = symbols): string {
  const { tape, ...rest } = letters();
  return formulaText(formulaOf(tape, write(rest).index, noOutput), how(tape));
}

/** The value of a line of sums, products, signs and brackets, by the rules of school. */
function arithmetic(text: string): number {
  const tokens = text.match(/[\d.]+|[-−+·/()]/gu)!;
  const sum = (): number => {
    let value = product();
    for (let sign = tokens[0]; sign === "+" || sign === "−"; sign = tokens[0]) {
      tokens.shift();
      value = sign === "+" ? value + product() : value - product();
    }
    return value;
  };
  const product = (): number => {
    let value = factor();
    for (let sign = tokens[0]; sign === "·" || sign === "/"; sign = tokens[0]) {
      tokens.shift();
      value = sign === "·" ? value * factor() : value / factor();
    }
    return value;
  };
  const factor = (): number => {
    const token = tokens.shift()!;
    if (token === "-" || token === "−") return -product();
    if (token !== "(") return Number(token);
    const value = sum();
    expect(tokens.shift()).toBe(")");
    return value;
  };
  const value = sum();
  expect(tokens).toEqual([]);
  return value;
}

type Write = (letters: { a: Scalar; b: Scalar; c: Scalar }) => Scalar;

describe("formulas", () => {
  it.each<[string, Write]>([
    ["a + b + c", ({ a, b, c }) => a.plus(b).plus(c)],
    ["a + b + c", ({ a, b, c }) => a.plus(b.plus(c))],
    ["a − b − c", ({ a, b, c }) => a.minus(b).minus(c)],
    ["a − (b − c)", ({ a, b, c }) => a.minus(b.minus(c))],
    ["a − (b + c)", ({ a, b, c }) => a.minus(b.plus(c))],
    ["a + b − c", ({ a, b, c }) => a.plus(b.minus(c))],
    ["a · b · c", ({ a, b, c }) => a.times(b.times(c))],
    ["a / b / c", ({ a, b, c }) => a.over(b).over(c)],
    ["a / (b / c)", ({ a, b, c }) => a.over(b.over(c))],
    ["a / (b · c)", ({ a, b, c }) => a.over(b.times(c))],
    ["a / b · c", ({ a, b, c }) => a.over(b).times(c)],
    ["a · b / c", ({ a, b, c }) => a.times(b.over(c))],
    ["(a + b) · c", ({ a, b, c }) => a.plus(b).times(c)],
    ["a · b + c", ({ a, b, c }) => a.times(b).plus(c)],
    ["a · (b − c)", ({ a, b, c }) => a.times(b.minus(c))],
    ["(a − b) / (a + b)", ({ a, b }) => a.minus(b).over(a.plus(b))],
  ])("TRACE-3: %s has the brackets that it needs, and no others", (text, write) => {
    expect(written(write)).toBe(text);
  });

  it.each<[string, Write]>([
    ["a^2", ({ a }) => a.power(2)],
    ["a · b^2", ({ a, b }) => a.times(b.power(2))],
    ["a / b^2", ({ a, b }) => a.over(b.power(2))],
    ["(a · b)^2", ({ a, b }) => a.times(b).power(2)],
    ["(a + b)^0.5", ({ a, b }) => a.plus(b).power(0.5)],
    ["(a^2)^3", ({ a }) => a.power(2).power(3)],
    ["a^(−1)", ({ a }) => a.power(-1)],
    ["√(a + b)", ({ a, b }) => a.plus(b).squareRoot()],
    ["exp(a) + ln(b)", ({ a, b }) => a.exponential().plus(b.logarithm())],
    ["sin(a) · cos(b)^2", ({ a, b }) => a.sine().times(b.cosine().power(2))],
    ["a · erf(b / c)", ({ a, b, c }) => a.times(b.over(c).errorFunction())],
  ])("TRACE-3: %s: powers bind closest, and functions bring their own brackets", (text, write) => {
    expect(written(write)).toBe(text);
  });

  it.each<[string, Write]>([
    ["−a", ({ a }) => a.negative()],
    ["−a + b", ({ a, b }) => a.negative().plus(b)],
    ["a + (−b)", ({ a, b }) => a.plus(b.negative())],
    ["a − (−b)", ({ a, b }) => a.minus(b.negative())],
    ["a + (−b + c)", ({ a, b, c }) => a.plus(b.negative().plus(c))],
    ["a · (−b)", ({ a, b }) => a.times(b.negative())],
    ["(−a) · b", ({ a, b }) => a.negative().times(b)],
    ["−a · b", ({ a, b }) => a.times(b).negative()],
    ["−(a + b)", ({ a, b }) => a.plus(b).negative()],
    ["−(−a)", ({ a }) => a.negative().negative()],
    ["(−a)^2", ({ a }) => a.negative().power(2)],
    ["−a^2", ({ a }) => a.power(2).negative()],
    ["exp(−a)", ({ a }) => a.negative().exponential()],
    ["a · (−0.5)", ({ a }) => a.times(-0.5)],
    ["a + (−0.5)", ({ a }) => a.plus(-0.5)],
    ["a − 0.5", ({ a }) => a.minus(0.5)],
    ["a / 3", ({ a }) => a.over(3)],
  ])("TRACE-3: %s: a minus sign never stands beside another sign", (text, write) => {
    expect(written(write)).toBe(text);
  });

  it("TRACE-3: numbers put in keep the meaning: a negative one stands in brackets", () => {
    expect(written(({ a, b, c }) => a.minus(b.times(c)), numbers)).toBe("2 − (-3) · 4");
    expect(written(({ b, c }) => b.power(2).over(c), numbers)).toBe("(-3)^2 / 4");
    expect(written(({ b }) => b.exponential(), numbers)).toBe("exp(-3)");
    expect(written(({ a, b }) => b.plus(a), numbers)).toBe("(-3) + 2");
  });

  it.each<[Write]>([
    [({ a, b, c }) => a.minus(b.minus(c).times(a.negative()))],
    [({ a, b, c }) => a.over(b.over(c)).plus(b.negative().times(c.minus(a)))],
    [({ a, b, c }) => a.plus(b).negative().minus(c.times(-2)).over(a.minus(c).times(b))],
    [({ a, b, c }) => c.over(a.times(b).over(c)).minus(a.minus(b.plus(c)).negative())],
  ])("TRACE-3: the text, read as arithmetic, gives the value of the node", (write) => {
    const { tape: _, ...rest } = letters();
    expect(arithmetic(written(write, numbers))).toBe(write(rest).value);
  });

  it("TRACE-4: a formula goes down to the next names and no further", () => {
    const { tape, a, b, c } = letters();
    const net = a.minus(b).named("net", "q", "net signal");
    const result = net.times(net).over(c.plus(1)).named("result", "D", "dose");
    const formula = formulaOf(tape, result.index, noOutput);
    expect(formulaText(formula, symbols(tape))).toBe("q · q / (c + 1)");
    expect(references(formula)).toEqual([net.index, c.index]);
    expect(formulaText(formulaOf(tape, net.index, noOutput), symbols(tape))).toBe("a − b");
    expect(formulaOf(tape, a.index, noOutput)).toEqual({ kind: "reference", node: a.index });
  });

  it("TRACE-4: references are found wherever they stand, each once, in their order", () => {
    const { tape, a, b, c } = letters();
    const result = c.power(2).plus(a.exponential()).minus(c.over(b.negative()));
    expect(references(formulaOf(tape, result.index, noOutput))).toEqual([c.index, a.index, b.index]);
    const mean = { kind: "mean", of: { kind: "reference", node: 4 }, count: 3 } as const;
    expect(references(mean)).toEqual([4]);
    expect(references({ kind: "solution", of: "a", where: "q = a" })).toEqual([]);
  });

  it("TRACE-5: a mean shows the program's columns, the model's nodes, and how many readings count", () => {
    const { model } = specimen();
    const text = (key: string) =>
      formulaText(formulaFor(model, model.tape.find(key)!.index), (node) => model.tape.names.get(node)!.symbol);
    // the program's own name for its gain is written out, and so is the product without a name that fills a slot
    expect(text("signal.c0.1")).toBe("mean of 4 of [(M_1 − b_1 · t) / (α · ΔT + 1)] + δ_1");
    expect(text("signal.c1.2")).toBe("mean of 3 of [(M_2 − b_2 · t) / (α · ΔT + 1)] + δ_2");
  });

  it("TRACE-5: a fit says what it solves, and stands in brackets inside a formula", () => {
    const { model, ratio } = specimen();
    const fitted = model.calls.find(({ kernel }) => kernel.kind === "structural-fit")!;
    const text = (node: number) => formulaText(formulaFor(model, node), (other) => model.tape.names.get(other)!.symbol);
    expect(text(fitted.first)).toBe("a, the best q_1 + a·q_2 = I·e through 3 conditions");
    expect(text(ratio.index)).toBe("−(a, the best q_1 + a·q_2 = I·e through 3 conditions)");
    expect(text(fitted.first + 1)).toMatch(/^I, the best/);
  });

  it("TRACE-5: an equation that is solved shows its slots' symbols, and its own names written out", () => {
    const { model } = specimen();
    const { first } = model.calls.find(({ kernel }) => kernel.kind === "implicit-root")!;
    expect(formulaText(formulaFor(model, first), String)).toBe("y, for which y^3 + r · y − r · k · 3 = 0");
  });

  it("TRACE-5: a mean inside a product or a power stands in brackets", () => {
    const mean = { kind: "mean", of: { kind: "symbol", symbol: "M" }, count: 3 } as const;
    const half = { kind: "number", value: 0.5 } as const;
    const text = (formula: Parameters<typeof formulaText>[0]) => formulaText(formula, String);
    expect(text({ kind: "power", base: mean, exponent: 2 })).toBe("(mean of 3 of [M])^2");
    expect(text({ kind: "operation", operation: "times", left: half, right: mean })).toBe("0.5 · (mean of 3 of [M])");
    expect(text({ kind: "operation", operation: "plus", left: mean, right: half })).toBe("mean of 3 of [M] + 0.5");
  });
});
