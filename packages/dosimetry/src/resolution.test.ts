import { budget, propagate } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addNetSignals } from "./net-signal.ts";
import { conditionsOf } from "./readings.ts";
import { addResolution } from "./resolution.ts";
import { chainOf, exactChain, seriesOf } from "./testing/made-up-series.ts";

describe("what the display hides", () => {
  it("NET-6: it is the last digit over √12, and over √n for a mean of n", () => {
    const chain = chainOf();
    const [blue, green] = addResolution(chain, seriesOf("s", [["a", [1, 1]]]), "a", 4, [0.01, 0.002]);
    // a rectangular distribution of full width 0.01 has sd 0.01/√12 = 0.00288675 (GUM 4.3.7)
    expect(propagate(chain.model, blue!).u).toBeCloseTo(0.0028867513459481 / 2, 15);
    expect(propagate(chain.model, green!).u).toBeCloseTo(0.0005773502691896 / 2, 15);
    expect(blue!.value).toBe(0);
    expect(propagate(chain.model, blue!.plus(green!)).u).toBeCloseTo(0.0029439202887759 / 2, 15); // independent
    expect(chain.model.blocks.at(-1)).toMatchObject({ key: "s/a/resolution", type: "B", distribution: "rectangular" });
  });

  it("NET-6: identical repeats never have zero uncertainty", () => {
    const chain = exactChain();
    const series = seriesOf(
      "s",
      [0, 1, 2].map(() => ["a", [6.5, 3.5], { digits: [0.1, 0.1] }] as const),
    );
    const { conditions } = addNetSignals(chain, series, conditionsOf(series), { divisor: () => "none" });
    const { u, dof } = propagate(chain.model, conditions[0]!.plain[0]!);
    expect(u).toBeCloseTo(0.1 / Math.sqrt(12) / Math.sqrt(3), 15);
    expect(dof).toBe(Number.POSITIVE_INFINITY);
  });

  it("NET-6: a digit finer in one reading than in the others is that of the whole series: zeros at the end get lost", () => {
    const chain = exactChain();
    const series = seriesOf("s", [
      ["a", [6.5, 1], { digits: [0.1, 1] }],
      ["b", [6.503, 1], { digits: [0.001, 1] }],
    ]);
    const { conditions } = addNetSignals(chain, series, conditionsOf(series), { divisor: () => "none" });
    for (const { plain } of conditions) {
      const inputs = budget(propagate(chain.model, plain[0]!));
      expect(inputs.find(({ type }) => type === "B")!.u).toBeCloseTo(0.001 / Math.sqrt(12), 15);
    }
  });
});
