import type { TrialBlocks } from "@alcedo-dosimetry/metrology";
import { beforeAll, describe, expect, it } from "vitest";
import type { Campaign } from "./campaign.ts";
import { type Evaluation, evaluate } from "./evaluate.ts";
import { blockMaker, monteCarloOf, monteCarloSteps } from "./monte-carlo.ts";
import type { Quantity } from "./result.ts";
import { demonstration, madeUpCampaign } from "./testing/made-up-campaign.ts";

const byId = ({ result }: Evaluation) => new Map(result.quantities.map((quantity) => [quantity.id, quantity]));

/** The evaluation with some of its quantities. */
function only(evaluation: Evaluation, ids: RegExp): Evaluation {
  const nodes = new Map([...evaluation.nodes].filter(([id]) => ids.test(id)));
  return {
    ...evaluation,
    nodes,
    result: { ...evaluation.result, quantities: evaluation.result.quantities.filter(({ id }) => nodes.has(id)) },
  };
}

describe("Monte Carlo of an evaluation", () => {
  it("adds interval, mean and standard deviation to each quantity, and how it was done to the result", () => {
    const evaluation = evaluate(madeUpCampaign());
    const { result, nodes } = monteCarloOf(evaluation, { trials: 5000, seed: 3 });
    expect(result.monteCarlo).toEqual({ trials: 6144, seed: 3, failures: 0 });
    for (const { id, interval95, mcMean, mcU, value, u } of result.quantities) {
      if (!nodes.has(id)) {
        expect([interval95, mcMean, mcU]).toEqual([undefined, undefined, undefined]);
        continue;
      }
      expect(interval95![0]).toBeLessThanOrEqual(interval95![1]);
      expect(Math.abs(mcMean! - value)).toBeLessThanOrEqual(0.2 * u! + 1e-12);
      // t with few degrees of freedom has a larger standard deviation than its scale
      if (mcU !== null) expect(mcU).toBeLessThanOrEqual(2 * u! + 1e-12);
    }
    // all else stays as it was
    expect(result.quantities.map(({ id, value, U, budget }) => ({ id, value, U, budget }))).toEqual(
      evaluation.result.quantities.map(({ id, value, U, budget }) => ({ id, value, U, budget })),
    );
  });

  it("gives the same bits for the same seed, and others for another", () => {
    const evaluation = evaluate(madeUpCampaign());
    const run = (seed: number) => JSON.stringify(monteCarloOf(evaluation, { trials: 3000, seed }).result);
    expect(run(7)).toBe(run(7));
    expect(run(8)).not.toBe(run(7));
  });

  it("gives the same bits whoever makes the blocks, in whatever order, for however many quantities", () => {
    const evaluation = evaluate(madeUpCampaign());
    const request = { trials: 20_000, seed: 5 };
    const whole = byId(monteCarloOf(evaluation, request));
    const steps = monteCarloSteps(evaluation, request);
    const [one, other] = [blockMaker(evaluation), blockMaker(evaluation)];
    let step = steps.next();
    while (!step.done) {
      const orders = step.value;
      expect(orders.length).toBeGreaterThan(2);
      const blocks = new Map<number, TrialBlocks>();
      [...orders].reverse().forEach((order, i) => {
        blocks.set(order.from, (i % 2 === 0 ? one : other)(order));
      });
      step = steps.next(orders.map(({ from }) => blocks.get(from)!));
    }
    expect(byId(step.value)).toEqual(whole);
    const some = byId(monteCarloOf(only(evaluation, /^output-factor\.5x5|stem-ratio/), request));
    for (const [id, quantity] of some) expect(quantity).toEqual(whole.get(id));
  });

  it("stops by itself when the figures are good, and says so", () => {
    const evaluation = only(evaluate(madeUpCampaign()), /^calibration\.coefficient$/);
    const { result } = monteCarloOf(evaluation, { trials: "adaptive", seed: 1 });
    expect(result.monteCarlo).toMatchObject({ settled: true, failures: 0 });
    expect(result.monteCarlo!.trials).toBeGreaterThan(20_000);
    const fixed = monteCarloOf(evaluation, { trials: result.monteCarlo!.trials, seed: 1 });
    expect(fixed.result.quantities).toEqual(result.quantities);
  });

  it("leaves alone what cannot be evaluated, and refuses trials that cannot be made", () => {
    const broken = evaluate(
      madeUpCampaign(({ separation }) => {
        separation[3]!["signal_blue"] = "six";
      }),
    );
    expect(monteCarloOf(broken, { trials: 1000, seed: 1 })).toBe(broken);
    const evaluation = evaluate(madeUpCampaign());
    for (const trials of [0, -1, 2.5, Number.NaN, 1e9])
      expect(() => monteCarloOf(evaluation, { trials, seed: 1 })).toThrow(`${trials} trials`);
    expect(() => monteCarloOf(evaluation, { trials: 100, seed: -1 })).toThrow("not -1");
  });

  it("has no interval where type A is unknown", () => {
    const once = evaluate(
      madeUpCampaign((tables) => {
        tables.calibration = tables.calibration.slice(0, 1);
      }),
    );
    const found = byId(monteCarloOf(only(once, /^calibration/), { trials: 3000, seed: 1 }));
    const { interval95, typeA, linear, mcU } = found.get("calibration.coefficient")!;
    expect([interval95, typeA, linear]).toEqual([null, "unknown", undefined]);
    expect(mcU).toBeGreaterThan(0);
  });

  it("gives an interval, and no standard deviation, where two degrees of freedom have none", () => {
    // three visits to the reference that wander: the wander has as many degrees of freedom as gaps, two
    const evaluation = only(evaluate(demonstration()), /^output-factor\.30x30$/);
    const { result } = monteCarloOf(evaluation, { trials: 20_000, seed: 2 });
    const [{ interval95, mcU, mcMean, value, U }] = result.quantities as [Quantity];
    expect(mcU).toBeNull();
    expect(mcMean).not.toBeNull();
    expect(Math.abs(interval95![1] - (value + U!))).toBeLessThan(0.05 * U!);
    expect(result.findings.map(({ code }) => code)).toContain("monte-carlo-without-variance");
  });
});

describe("the demonstration campaign", () => {
  const JUDGED = /^(separation\.stem-ratio|calibration\.coefficient|output-factor\.)/;
  const run = (campaign: Campaign) =>
    monteCarloOf(only(evaluate(campaign), JUDGED), { trials: 1_000_000, seed: 20_260_312 });

  describe("as it is", () => {
    let found: Map<string, Quantity>;
    let codes: string[];
    beforeAll(() => {
      const evaluation = run(demonstration());
      found = byId(evaluation);
      codes = evaluation.result.findings.map(({ code }) => code);
    }, 120_000);

    it("no trial fails: each has a half width, and no blur is nothing", () => {
      expect(found.size).toBe(11);
      for (const { id, mcFailures } of found.values()) expect([id, mcFailures]).toEqual([id, undefined]);
    });

    it("bears the law of propagation out within half of the second digit of u, in every field", () => {
      for (const { id, linear } of found.values()) expect([id, linear]).toEqual([id, "validated"]);
      expect(codes).not.toContain("linear-not-validated");
    });

    it("values are the means of the trials: what the curved corrections do to them is in the value", () => {
      for (const { id, value, mcMean, u } of found.values())
        expect(Math.abs(mcMean! - value), id).toBeLessThan(0.02 * u!);
    });
  });

  describe("without scans: the blur assumed between wide bounds, the centre to 0.1 mm", () => {
    /** k_vol and k_pos bend with the blur, and a misplaced tip only ever loses. */
    const CURVED = ["output-factor.cone-7.5", "output-factor.cone-5"];
    let found: Map<string, Quantity>;
    beforeAll(() => {
      found = byId(run(unscanned(demonstration())));
    }, 120_000);

    it("the law of propagation does not hold in the smallest cones, and the result says so", () => {
      for (const id of CURVED) expect([id, found.get(id)!.linear]).toEqual([id, "not-validated"]);
      expect(found.get("output-factor.10x10")!.linear).toBe("validated");
    });

    it("differs little even there: by less than a twentieth of U", () => {
      for (const id of CURVED) {
        const { interval95, value, U } = found.get(id)!;
        expect(Math.abs(interval95![0] - (value - U!))).toBeLessThan(0.05 * U!);
        expect(Math.abs(interval95![1] - (value + U!))).toBeLessThan(0.05 * U!);
      }
    });
  });
});

/** The campaign of somebody who took no scans. */
function unscanned(campaign: Campaign): Campaign {
  const { alcedo } = campaign.descriptor;
  const table = campaign.tables["output-factors"]!;
  const scanned = table.columns.map((column) => column.startsWith("sigma_"));
  return {
    ...campaign,
    descriptor: {
      ...campaign.descriptor,
      alcedo: { ...alcedo, assumptions: { ...alcedo.assumptions, positioning_u_mm: 0.1 } },
    },
    tables: {
      ...campaign.tables,
      "output-factors": { ...table, rows: table.rows.map((row) => row.map((cell, c) => (scanned[c] ? "" : cell))) },
    },
  };
}
