import { type ConditionScatter, pooledCovariance } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { scatterModel } from "./scatter-model.ts";
import { normalStream } from "./testing/made-up-series.ts";

const scatter = (dof: number, variance: number): ConditionScatter => ({
  count: dof + 1,
  means: [1],
  covariance: dof === 0 ? null : [[variance]],
  dof,
});
const all = () => true;
const constant = (dof: number, ...variances: number[]) => ({
  covariances: variances.map((variance) => Float64Array.of(variance)),
  dof,
});
const variances = (model: ReturnType<typeof scatterModel>) => model.covariances!.map(([variance]) => variance!);

describe("the scatter of a reading", () => {
  it("TYPEA-7: without constant scatter is the pooled one throughout", () => {
    const model = scatterModel([scatter(4, 1), scatter(2, 4), scatter(0, 0)], all, undefined, 1);
    expect(variances(model)).toEqual([2, 2, 2]);
    expect(model.dof).toBe(6);
    expect(scatterModel([scatter(0, 0)], all, undefined, 1)).toEqual({ covariances: undefined, dof: undefined });
    expect(scatterModel([scatter(0, 0)], all, constant(8, 1), 1).covariances).toBeUndefined();
  });

  it("TYPEA-7: constant scatter that is alike in all conditions, or nil, changes nothing", () => {
    const scatters = [scatter(4, 1), scatter(2, 4)];
    for (const variance of [0, 0.5, 2]) {
      const model = scatterModel(scatters, all, constant(8, variance, variance), 1);
      for (const own of variances(model)) expect(own).toBeCloseTo(2, 13);
      expect(model.dof).toBeCloseTo(6, 12);
    }
  });

  it("TYPEA-7: what constant scatter departs by from its mean, the scatter of a condition departs by from the pooled one", () => {
    // Three rounds of P + A − Ā with weights 4/(V/P)² from 4 and 4, ν_w = 6.238031 and the conditions' 4.320801 and ν_w,
    // in Python: C.
    const model = scatterModel([scatter(4, 1), scatter(4, 3)], all, constant(8, 0.5, 1.5), 1);
    expect(variances(model)[0]).toBeCloseTo(1.234267056, 9);
    expect(variances(model)[1]).toBeCloseTo(2.234267056, 9);
    expect(model.dof).toBeCloseTo(5.10535479, 8);
  });

  it("TYPEA-7: a condition that is not counted has its scatter from the others", () => {
    const model = scatterModel(
      [scatter(4, 2), scatter(4, 2), scatter(4, 900)],
      (i) => i < 2,
      constant(8, 1, 1, 1.5),
      1,
    );
    expect(variances(model)).toEqual([2, 2, 2.5]);
  });

  it("TYPEA-7: it is taken for no more than the repeats show, chance allowed for", () => {
    // Ā = 10 of P = 1 at first; λ = 0.270635 in the end, V = 0.853175 and 3.559525, in Python: C
    const model = scatterModel([scatter(4, 1), scatter(4, 1)], all, constant(8, 5, 15), 1);
    expect(variances(model)[0]).toBeCloseTo(0.85317501, 8);
    expect(variances(model)[1]).toBeCloseTo(3.55952503, 8);
    expect(model.dof).toBeCloseTo(3.72957738, 8);
    expect(variances(scatterModel([scatter(4, 0), scatter(4, 0)], all, constant(8, 5, 15), 1))).toEqual([0, 0]);
  });

  it("TYPEA-7: with channels that share a fluctuation no combination of them gets a negative variance", () => {
    const both: ConditionScatter = {
      count: 5,
      means: [1, 1],
      covariance: [
        [1, 0.999],
        [0.999, 1],
      ],
      dof: 4,
    };
    const parts = [0.01, 0.9].map((variance) => Float64Array.of(variance, 0, 0, variance));
    const { covariances } = scatterModel([both, both], all, { covariances: parts, dof: 8 }, 2);
    for (const [a, b, , d] of covariances! as unknown as [number, number, number, number][]) {
      expect(a + d - 2 * b).toBeGreaterThanOrEqual(-1e-12);
      expect(a).toBeGreaterThan(0);
    }
  });

  it("TYPEA-7: simulated: relative and constant parts are found as they were made, and the degrees of freedom are honest", () => {
    // Two channels, five readings of sizes 10 to 1, 0.03 % in common and 0.004 constant; ten readings with the beam off.
    const normal = normalStream(20_261);
    const sizes = [10, 8, 6, 4, 2, 1];
    const [common, noise] = [0.0003, 0.004];
    const rounds = 3000;
    const estimates = sizes.map(() => ({ sum: 0, squares: 0 }));
    let dofs = 0;
    for (let round = 0; round < rounds; round++) {
      const readings = sizes.map((size) =>
        Array.from({ length: 5 }, () => {
          const output = 1 + common * normal();
          return [size * output + noise * normal(), size * output + noise * normal()];
        }),
      );
      const dark = [0, 1].map(() => Array.from({ length: 5 }, () => [noise * normal(), noise * normal()]));
      const off = pooledCovariance(dark, "absolute");
      const { conditions: scatters } = pooledCovariance(readings);
      const covariances = scatters.map(({ means }) =>
        Float64Array.from(off.covariance!.flat(), (value, k) => value / (means[Math.floor(k / 2)]! * means[k % 2]!)),
      );
      const model = scatterModel(scatters, all, { covariances, dof: off.dof! }, 2);
      dofs += model.dof!;
      model.covariances!.forEach(([variance], i) => {
        estimates[i]!.sum += variance!;
        estimates[i]!.squares += variance! * variance!;
      });
    }
    sizes.forEach((size, i) => {
      const mean = estimates[i]!.sum / rounds;
      const truth = common * common + (noise * noise) / (size * size);
      expect(mean / truth, `size ${size}`).toBeLessThan(1.15);
      // 2/ν of a variance is its relative variance: what is claimed is no more than what is there
      const relative = estimates[i]!.squares / rounds / (mean * mean) - 1;
      expect(2 / relative, `degrees of freedom of size ${size}`).toBeGreaterThan((0.9 * dofs) / rounds);
    });
    expect(dofs / rounds).toBeGreaterThan(5);
  });
});
