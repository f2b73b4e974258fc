import { describe, expect, test } from "vitest";
import { byFamily } from "./attribution-text.ts";

describe("ids in short", () => {
  test("put those together that differ in their condition alone, points in conditions' names included", () => {
    expect(
      byFamily([
        "background.blue",
        "separation.stem-ratio",
        "separation.verify.half",
        "separation.verify.turned",
        "calibration.coefficient",
        "dose.output-factors.cone-12.5",
        "dose.output-factors.6x6",
        "output-factor.cone-12.5",
        "output-factor.6x6",
      ]),
    ).toEqual([
      "background.blue",
      "separation.stem-ratio",
      "separation.verify: half, turned",
      "calibration.coefficient",
      "dose.output-factors: cone-12.5, 6x6",
      "output-factor: cone-12.5, 6x6",
    ]);
    expect(byFamily([])).toEqual([]);
  });
});
