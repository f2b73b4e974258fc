import { describe, expect, it } from "vitest";
import { type Standing, worst } from "./standing.ts";

describe("the worst of several standings", () => {
  it("goes from sound over untested and stale to broken", () => {
    const order: Standing[] = ["sound", "untested", "stale", "broken"];
    for (const [i, a] of order.entries())
      for (const [j, b] of order.entries()) {
        expect(worst([a, b])).toBe(order[Math.max(i, j)]);
        expect(worst(["sound", a, b])).toBe(order[Math.max(i, j)]);
      }
  });

  it("of none is sound", () => {
    expect(worst([])).toBe("sound");
  });
});
