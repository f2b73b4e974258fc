import { evaluate } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { noiseless, pointDetector, withRepeats } from "./laboratory.ts";
import { REGIMES, type RegimeName } from "./regimes.ts";
import { simulate } from "./simulate.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { cells } from "./testing/cells.ts";

const campaignOf = (name: RegimeName) => simulate(REGIMES[name](), 1).campaign;
const quantity = (name: RegimeName, id: string) => {
  const { result } = evaluate(simulate(noiseless(pointDetector(REGIMES[name]())), 1).campaign);
  return result.quantities.find((own) => own.id === id)?.value;
};

test.each([
  ["three-repeats", 3],
  ["five-repeats", 5],
  ["ten-repeats", 10],
  ["no-monitor-three-repeats", 3],
  ["random-walk-three-repeats", 3],
] as const)("%s: each condition is read %s times, the background too", (name, repeats) => {
  const campaign = campaignOf(name);
  expect(cells(campaign, "separation", "reading", "long")).toHaveLength(repeats);
  expect(cells(campaign, "output-factors", "reading", "cone-5")).toHaveLength(repeats);
  expect(cells(campaign, "background", "reading", "before")).toHaveLength(repeats);
});

test("contrast is strong or weak", () => {
  expect(quantity("five-repeats", "separation.contrast")).toBeCloseTo(5, 2);
  expect(quantity("weak-contrast", "separation.contrast")).toBeCloseTo(1.8, 2);
});

test("the reference is read once, several times, or after every field", () => {
  const visits = (name: RegimeName) => cells(campaignOf(name), "output-factors", "reading", "100x100").length / 5;
  expect([visits("one-reference"), visits("five-repeats"), visits("many-references")]).toEqual([1, 3, 7]);
});

test("there is a monitor, or none, or none while the output walks", () => {
  const has = (name: RegimeName, series: string) => campaignOf(name).tables[series]!.columns.includes("monitor");
  expect([has("five-repeats", "output-factors"), has("no-monitor", "separation")]).toEqual([true, false]);
  expect([has("random-walk", "separation"), has("random-walk", "output-factors")]).toEqual([true, false]);
  expect(REGIMES["random-walk"]().beam.walk_perRootHour).toBeGreaterThan(0);
});

test("times, temperatures and doses are written or not", () => {
  const has = (name: RegimeName, series: string, column: string) =>
    campaignOf(name).tables[series]!.columns.includes(column);
  expect(has("without-times", "output-factors", "time")).toBe(false);
  expect(has("temperature-not-read", "separation", "temperature_C")).toBe(false);
  expect(has("known-doses", "separation", "dose_Gy")).toBe(true);
  expect(quantity("known-doses", "separation.coefficient")).toBeCloseTo(0.2580645, 6);
});

test("an unflattened beam says so and has a peak", () => {
  expect(campaignOf("flattening-free").descriptor.alcedo.beam.flatteningFilter).toBe(false);
  const { truth } = simulate(REGIMES["flattening-free"](), 1);
  expect(truth.volumeAveraging["100x100"]).toBeGreaterThan(1 + 1e-6);
});

test("the laboratory without a background keeps none when its repeats are changed", () => {
  const laboratory = standardLaboratory();
  const { background: _, ...plan } = laboratory.physicist.plan;
  const net = withRepeats({ ...laboratory, physicist: { ...laboratory.physicist, plan } }, 4);
  expect(net.physicist.plan.repeats).toBe(4);
  expect(net.physicist.plan.background).toBeUndefined();
});

test("a clean campaign of every regime holds nothing that breaks it", () => {
  for (const [name, laboratory] of Object.entries(REGIMES)) {
    const { result } = evaluate(simulate(pointDetector(laboratory()), 11).campaign);
    expect(
      result.findings.filter(({ level }) => level === "error"),
      name,
    ).toEqual([]);
    expect(result.standing, name).not.toBe("broken");
  }
});
