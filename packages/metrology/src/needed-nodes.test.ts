import { describe, expect, it } from "vitest";
import { neededNodes } from "./needed-nodes.ts";
import { specimen } from "./testing/specimen.ts";

describe("nodes that a result needs", () => {
  it("MC-4: an operation needs its operands, a kernel's output the kernel's inputs", () => {
    const { model, ratio, light, result } = specimen();
    const needs = (asked: number, key: string) => neededNodes(model, [asked])[model.tape.find(key)!.index];
    expect(needs(ratio.index, "background/1")).toBe(1);
    expect(needs(ratio.index, "level/c2")).toBe(1);
    expect(needs(ratio.index, "weight/c1/0")).toBe(1);
    expect(needs(ratio.index, "light.c0")).toBe(0);
    expect(needs(result.index, "light.c0")).toBe(1);
    expect(needs(result.index, "light.c1")).toBe(0);
    expect(needs(light[1]!.index, "factor")).toBe(0);
  });

  it("MC-4: of several results, what either needs", () => {
    const { model, light } = specimen();
    const all = neededNodes(model, [light[0]!.index, light[1]!.index]);
    const [one, other] = [0, 1].map((k) => neededNodes(model, [light[k]!.index]));
    expect([...all]).toEqual([...one!].map((needed, node) => needed | other![node]!));
    expect(neededNodes(model, []).every((needed) => needed === 0)).toBe(true);
  });
});
