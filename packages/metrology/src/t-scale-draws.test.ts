import { describe, expect, it } from "vitest";
import { chiSquareUpper, tCdf } from "./distributions.ts";
import { RandomStream } from "./random-stream.ts";
import { standardNormal } from "./symmetric-draws.ts";
import { TScale } from "./t-scale-draws.ts";
import { kolmogorov } from "./testing/kolmogorov.ts";

const COUNT = 100_000;

function scalesOf(dof: number): Float64Array {
  const scales = new Float64Array(COUNT);
  new TScale(dof).fill(scales, COUNT, new RandomStream("scale"), new Int32Array(2 * COUNT));
  return scales;
}

describe("draws of √(ν/χ²)", () => {
  it.each([0.7, 1, 1.5, 2, 3, 8.8, 100])("MC-2: ν/s² follows χ² with %s degrees of freedom", (dof) => {
    const chi2 = scalesOf(dof).map((s) => dof / (s * s));
    expect(kolmogorov(chi2, (x) => 1 - chiSquareUpper(x, dof))).toBeLessThan(1.95);
  });

  it.each([1, 3, 20])("MC-2: normal draws times s follow t with %s degrees of freedom", (dof) => {
    const normal = new Float64Array(COUNT);
    standardNormal().fill(normal, COUNT, new RandomStream("normal"), new Int32Array(2 * COUNT), 1, 0);
    const scales = scalesOf(dof);
    expect(
      kolmogorov(
        normal.map((z, i) => z * scales[i]!),
        (x) => tCdf(x, dof),
      ),
    ).toBeLessThan(1.95);
  });

  it("MC-2: with very many degrees of freedom s is one", () => {
    for (const s of scalesOf(1e12).subarray(0, 1000)) expect(s).toBeCloseTo(1, 5);
  });
});
