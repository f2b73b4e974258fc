import { evaluate, interpret, readDescriptor } from "@alcedo-dosimetry/campaign";
import fc from "fast-check";
import { expect, test } from "vitest";
import { type Laboratory, noiseless, pointDetector } from "./laboratory.ts";
import { REGIMES } from "./regimes.ts";
import { simulate } from "./simulate.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { cells, differences, numbers } from "./testing/cells.ts";
import { moments, spreadTolerance } from "./testing/moments.ts";
import { trueQuantities } from "./truth.ts";

const regimes = Object.entries(REGIMES) as [string, () => Laboratory][];

/** Decimals to which a quantity over its truth is one: as many as twelve decimals of nC and the way of measuring allow. */
function decimals(regime: string, id: string): number {
  // without times nothing can follow the dark rate's drift: a mean is taken
  if (regime === "without-times") return 3;
  // a mean of quotients is not a quotient of means, and the temperature changes between readings
  return id.startsWith("background") || id.startsWith("stem-load") ? 8 : 9;
}

test.each(regimes)("%s: without noise and errors an evaluation returns the truth", (regime, laboratory) => {
  for (const seed of [1, 2]) {
    const { campaign, truth } = simulate(noiseless(pointDetector(laboratory())), seed);
    const { result } = evaluate(campaign);
    const reported = new Map(result.quantities.map(({ id, value }) => [id, value]));
    const known = trueQuantities(truth);
    const wanted = ["separation.stem-ratio", "calibration.coefficient", "background.blue", "output-factor.cone-5"];
    for (const id of [...wanted, "dose.separation.long", "stem-load.output-factors.cone-5"])
      expect(reported.has(id), id).toBe(true);
    for (const [id, value] of known) {
      const own = reported.get(id);
      if (own !== undefined) expect(own / value, id).toBeCloseTo(1, decimals(regime, id));
    }
  }
});

test("without noise, k_volume as the truth has it turns averaging signals into the true output factors", () => {
  const { campaign, truth } = simulate(noiseless(standardLaboratory()), 1);
  const table = campaign.tables["output-factors"]!;
  const rows = table.rows.map((row) => [...row, String(truth.volumeAveraging[row[1]!]), "0"]);
  const columns = [...table.columns, "k_volume", "k_volume_u"];
  const tables = { ...campaign.tables, "output-factors": { ...table, columns, rows } };
  const { result } = evaluate({ ...campaign, tables });
  const cone = result.quantities.find(({ id }) => id === "output-factor.cone-5")!;
  // only the place of the detector is left, and noiseless it stands at the centre and says so
  expect(cone.value / truth.outputFactors["cone-5"]!).toBeCloseTo(1, 9);
  expect(truth.volumeAveraging["cone-5"]).toBeGreaterThan(1.01);
});

test.each(regimes)("%s: the campaign is valid, and says that it is simulated", (_, laboratory) => {
  const { campaign } = simulate(laboratory(), 3);
  expect(readDescriptor(campaign.descriptor).findings).toEqual([]);
  expect(interpret(campaign).findings).toEqual([]);
  expect(campaign.descriptor.keywords).toEqual(["simulated"]);
  expect(campaign.descriptor.description).toMatch(/^Simulated/);
  // nothing is left to the defaults
  expect(evaluate(campaign).result.findings.map(({ code }) => code)).not.toContain("assumption-default");
});

test("the same seed gives the same bytes, another seed others, from a fresh laboratory as well", () => {
  fc.assert(
    fc.property(fc.maxSafeNat(), (seed) => {
      const laboratory = standardLaboratory();
      const first = JSON.stringify(simulate(laboratory, seed));
      expect(JSON.stringify(simulate(laboratory, seed))).toBe(first);
      expect(JSON.stringify(simulate(standardLaboratory(), seed))).toBe(first);
      const other = simulate(laboratory, seed === 0 ? 1 : seed - 1);
      expect(JSON.stringify(other.campaign.tables)).not.toBe(
        JSON.stringify(simulate(laboratory, seed).campaign.tables),
      );
    }),
    { numRuns: 10 },
  );
});

test("a bad seed is refused", () => {
  expect(() => simulate(standardLaboratory(), -1)).toThrow(/seed/);
  expect(() => simulate(standardLaboratory(), 1.5)).toThrow(/seed/);
});

test("an unknown mistake is refused, naming those there are", () => {
  const laboratory = { ...standardLaboratory(), mistakes: [{ kind: "dose-unequall", size: 1 }] };
  expect(() => simulate(laboratory, 1)).toThrow(/no mistake is called dose-unequall; there are .*dose-unequal/);
});

test("a regime does not change the numbers of another: without a monitor only its column is gone", () => {
  const withIt = simulate(standardLaboratory(), 9).campaign;
  const without = simulate({ ...standardLaboratory(), monitor: undefined }, 9).campaign;
  expect(new Set(differences(withIt, without).map((place) => place.split("/")[2]))).toEqual(new Set(["monitor"]));
});

test("signals are rounded to the reader's digits, and scatter as pulses and reader do", () => {
  const laboratory = pointDetector(standardLaboratory());
  const rounded = cells(simulate(laboratory, 1).campaign, "output-factors", "signal_blue");
  expect(rounded.every((cell) => /^\d+\.\d{4}$/.test(cell))).toBe(true);
  const { effects } = laboratory;
  const still = { ...laboratory, effects: { ...effects, typeB: false }, room: { ...laboratory.room, spread_C: 0 } };
  const count = 600;
  const first = Array.from(
    { length: count },
    (_, seed) => numbers(simulate(still, seed).campaign, "separation", "signal_green", "long")[0]!,
  );
  // pulses 0.05/√1600; reader 0.0003 ⊕ 0.02 % ⊕ 0.00005·√30 nC at 28 nC
  const expected = Math.hypot((0.05 / 40) * 28, 0.0003, 0.0002 * 28, 0.00005 * Math.sqrt(30));
  const { mean, sd } = moments(first);
  expect(Math.abs(mean - 28 - 0.0192)).toBeLessThan(0.002 + (4 * expected) / Math.sqrt(count));
  expect(Math.abs(sd / expected - 1)).toBeLessThan(spreadTolerance(count) + 0.002);
});

test("the monitor follows the pulses: the quotient scatters far less than the signal", () => {
  const laboratory = { ...standardLaboratory(), physicist: { ...standardLaboratory().physicist } };
  const { campaign } = simulate({ ...laboratory, beam: { ...laboratory.beam, pulseSpread: 0.5 } }, 4);
  const signals = numbers(campaign, "separation", "signal_green", "long");
  const monitor = numbers(campaign, "separation", "monitor", "long");
  const relative = (values: readonly number[]) => moments(values).sd / moments(values).mean;
  expect(relative(signals)).toBeGreaterThan(10 * relative(signals.map((signal, i) => signal / monitor[i]!)));
});
