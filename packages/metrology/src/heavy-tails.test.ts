import { describe, expect, it } from "vitest";
import { tailsOf } from "./heavy-tails.ts";
import { type Block, Model } from "./model.ts";
import type { Scalar } from "./tape.ts";
import { specimen } from "./testing/specimen.ts";
import { ONE } from "./unit.ts";

function modelOf(...blocks: (Partial<Block> & { u?: number; value?: number })[]): { model: Model; nodes: Scalar[] } {
  const model = new Model();
  const nodes = blocks.map(({ u = 0.1, value = 1, ...block }, i) =>
    model.estimate({ key: `x${i}`, symbol: "x", label: "x", type: "A", unit: ONE, value, u, ...block }),
  );
  return { model, nodes };
}

describe("which moments a result has", () => {
  it.each([
    [0.5, false, false],
    [1, false, false],
    [1.01, true, false],
    [2, true, false],
    [2.01, true, true],
    [Number.POSITIVE_INFINITY, true, true],
  ])("MC-11: with a group of %s degrees of freedom: mean %s, variance %s", (dof, meanExists, varianceExists) => {
    const { model, nodes } = modelOf({}, { dof });
    const sum = nodes[0]!.plus(nodes[1]!);
    expect(tailsOf(model, sum)).toEqual({ typeAUnknown: false, meanExists, varianceExists });
    // and what does not lean on it has both
    expect(tailsOf(model, nodes[0]!.times(2))).toEqual({ typeAUnknown: false, meanExists: true, varianceExists: true });
  });

  it("MC-11: the heaviest group decides", () => {
    const { model, nodes } = modelOf({ dof: 1.5 }, { dof: 0.9 }, { dof: 50 });
    expect(tailsOf(model, nodes[0]!.plus(nodes[2]!)).meanExists).toBe(true);
    expect(tailsOf(model, nodes[0]!.plus(nodes[1]!)).meanExists).toBe(false);
  });

  it("MC-11: a group without variance weighs nothing", () => {
    const { model, nodes } = modelOf({ dof: 1, u: 0 });
    expect(tailsOf(model, nodes[0]!.times(3)).varianceExists).toBe(true);
  });

  it("MC-11: an unknown variance is passed on to what depends on it, and its degrees of freedom do not matter", () => {
    const { model, nodes } = modelOf({}, { unknown: true, dof: 0, u: 0 });
    const product = nodes[0]!.times(nodes[1]!);
    expect(tailsOf(model, product)).toEqual({ typeAUnknown: true, meanExists: true, varianceExists: true });
    expect(tailsOf(model, nodes[0]!.plus(1)).typeAUnknown).toBe(false);
  });

  it("MC-11: at an extremum, where the gradient is zero, dependence is still seen", () => {
    const { model, nodes } = modelOf({ value: 0, dof: 2 }, { value: 0, unknown: true, u: 0 });
    expect(tailsOf(model, nodes[0]!.times(nodes[0]!))).toMatchObject({ varianceExists: false, typeAUnknown: false });
    expect(tailsOf(model, nodes[1]!.times(nodes[1]!)).typeAUnknown).toBe(true);
    expect(tailsOf(model, nodes[1]!.cosine()).typeAUnknown).toBe(true);
  });

  it("MC-11: what is multiplied by zero is no dependence, though the formula names it", () => {
    const { model, nodes } = modelOf({}, { dof: 1 }, { unknown: true, u: 0 });
    const sum = nodes[0]!.plus(nodes[1]!.times(0)).plus(nodes[2]!.times(0));
    expect(tailsOf(model, sum)).toEqual({ typeAUnknown: false, meanExists: true, varianceExists: true });
  });

  it("MC-11: kernels pass it on", () => {
    const { model, ratio, result } = specimen();
    expect(tailsOf(model, ratio)).toEqual({ typeAUnknown: false, meanExists: true, varianceExists: true });
    const more = model.estimate({
      key: "more",
      symbol: "m",
      label: "m",
      type: "A",
      unit: ONE,
      value: 1,
      u: 0.1,
      dof: 2,
    });
    expect(tailsOf(model, result.times(more)).varianceExists).toBe(false);
  });
});
