import { expect, test } from "vitest";
import { noiseless, pointDetector } from "../laboratory.ts";
import { simulate } from "../simulate.ts";
import { standardLaboratory } from "../standard-laboratory.ts";
import { numbers } from "../testing/cells.ts";
import { type MistakeKind, withMistake } from "./catalogue.ts";

const laboratory = noiseless(pointDetector(standardLaboratory()));
const clean = simulate(laboratory, 8).campaign;

/** Spoilt over clean, reading by reading, of one column. */
function quotients(kind: MistakeKind, size: number | undefined, series: string, column: string, condition?: string) {
  const { campaign } = simulate(withMistake(laboratory, kind, size), 8);
  const before = numbers(clean, series, column, condition);
  return numbers(campaign, series, column, condition).map((value, i) => value / before[i]!);
}

const OUTPUTS = "output-factors";
const both = ["signal_blue", "signal_green"] as const;

test("a saturated channel loses what is asked for at the fit condition with most fibre, and nothing where it is dark", () => {
  for (const [kind, column, other] of [
    ["first-channel-saturated", "signal_blue", "signal_green"],
    ["second-channel-saturated", "signal_green", "signal_blue"],
  ] as const) {
    // the dark reading saturates along: 0.036 of 27 nC
    expect(quotients(kind, 4, "separation", column, "long")[0]).toBeCloseTo(0.96, 3);
    expect(quotients(kind, 4, "separation", column, "short")[0]).toBe(1);
    expect(quotients(kind, 4, "separation", column, "longest")[0]).toBeLessThan(0.95);
    expect(quotients(kind, 4, "separation", other, "long")[0]).toBe(1);
  }
  expect(() => simulate(withMistake(laboratory, "first-channel-saturated", 60), 1)).toThrow(/less than 50 %/);
});

test("steps come once, in the middle of the output factors, and stay", () => {
  for (const [kind, size, column, factor] of [
    ["gain-changed", 2, "signal_blue", 1.02],
    ["connector-loosened", 2, "signal_green", 0.98],
    ["output-stepped", 2, "monitor", 1.02],
    ["monitor-range-changed", 2, "monitor", 1.02],
  ] as const) {
    const steps = quotients(kind, size, OUTPUTS, column);
    const first = steps.findIndex((step) => Math.abs(step - 1) > 1e-4);
    expect(first, kind).toBeGreaterThanOrEqual(Math.floor(steps.length / 3));
    expect(first, kind).toBeLessThanOrEqual(Math.ceil((2 * steps.length) / 3));
    // beside the light there is a dark reading of up to 1 %, which does not step along
    for (const step of steps.slice(first)) expect(Math.abs(step - factor), kind).toBeLessThan(3e-4);
    for (const step of steps.slice(0, first)) expect(step, kind).toBe(1);
  }
  expect(quotients("gain-changed", 2, OUTPUTS, "signal_green").every((step) => step === 1)).toBe(true);
});

test("output drifts within one field, from nothing to its size", () => {
  const { campaign, truth } = simulate(withMistake(laboratory, "output-drifts-within-condition", 2), 8);
  const condition = truth.mistakes[0]!.places[0]!.condition!;
  const before = numbers(clean, OUTPUTS, "monitor", condition);
  const steps = numbers(campaign, OUTPUTS, "monitor", condition).map((value, i) => value / before[i]!);
  expect(steps).toEqual([1, 1.005, 1.01, 1.015, 1.02].map((step) => expect.closeTo(step, 9) as number));
});

test("a beam that stops early is short by the same part in detector and monitor, with the monitor units as set", () => {
  const { campaign, truth } = simulate(withMistake(laboratory, "beam-stopped-early", 26), 8);
  const condition = truth.mistakes[0]!.places[0]!.condition!;
  const before = numbers(clean, OUTPUTS, "monitor", condition);
  const short = numbers(campaign, OUTPUTS, "monitor", condition).map((value, i) => value / before[i]!);
  expect(short.filter((part) => Math.abs(part - 0.74) < 1e-9)).toHaveLength(1);
  expect(new Set(numbers(campaign, OUTPUTS, "mu"))).toEqual(new Set([200]));
});

test("a field set too wide gives more, written down as it was meant", () => {
  const { campaign, truth } = simulate(withMistake(laboratory, "field-set-wrong", 1), 8);
  const condition = truth.mistakes[0]!.places[0]!.condition!;
  const [wide, meant] = [campaign, clean].map((own) => numbers(own, OUTPUTS, "signal_blue", condition)[0]!);
  expect(wide!).toBeGreaterThan(meant!);
  expect(numbers(campaign, OUTPUTS, "fwhm_x_mm")).toEqual(numbers(clean, OUTPUTS, "fwhm_x_mm"));
});

test("a monitor in the field reads less under small ones and as before in the reference", () => {
  const seen = (condition: string) => quotients("monitor-sees-field", 2, OUTPUTS, "monitor", condition)[0]!;
  expect(seen("100x100")).toBe(1);
  expect(seen("cone-5")).toBeLessThan(0.99);
  expect(seen("30x30")).toBeGreaterThan(seen("cone-5"));
});

test("a scintillator that slipped 3 mm deeper gets 1.35 % less dose; lost light and stem light go by channel", () => {
  // −0.45 % per mm (invented, of the size of 6 MV at 100 mm depth)
  for (const column of both)
    expect(quotients("scintillator-moved", 3, "separation", column, "long")[0]).toBeCloseTo(1 - 0.0135, 4);
  expect(quotients("fibre-bent", 2, "separation", "signal_blue", "long")[0]).toBeCloseTo(0.98, 4);
  expect(quotients("fibre-bent", 2, "separation", "signal_green", "long")[0]).toBe(1);
  expect(quotients("aged-between-days", 2, OUTPUTS, "signal_blue", "cone-5")[0]).toBeCloseTo(0.98, 3);
  expect(quotients("aged-between-days", 2, "separation", "signal_blue", "long")[0]).toBe(1);
});

test("background: lights before, afterglow behind, twice taken away", () => {
  expect(quotients("background-lights-on", 0.0012, "background", "signal_blue", "before")[0]).toBeCloseTo(2, 3);
  expect(quotients("background-lights-on", 0.0012, "background", "signal_blue", "after")[0]).toBe(1);
  const glow = quotients("afterglow", 0.0012, "background", "signal_blue", "after");
  expect(glow[0]).toBeGreaterThan(1.9);
  expect(glow).toEqual([...glow].sort((a, b) => b - a));
  const { campaign } = simulate(withMistake(laboratory, "already-net"), 8);
  const [net, raw] = [campaign, clean].map((own) => numbers(own, OUTPUTS, "signal_blue", "cone-5")[0]!);
  expect(raw! - net!).toBeCloseTo(0.036, 9);
  expect(numbers(campaign, "background", "signal_blue")).toEqual(numbers(clean, "background", "signal_blue"));
});

test("a reader that warms up reads low at first, and less so as time goes by", () => {
  const low = quotients("warm-up-skipped", 2, "separation", "signal_blue");
  expect(low[0]).toBeCloseTo(0.98, 3);
  expect(low).toEqual([...low].sort((a, b) => a - b));
  expect(quotients("warm-up-skipped", 2, OUTPUTS, "signal_blue", "cone-5")[0]).toBe(1);
});

test("noise grows in one field alone", () => {
  const noisy = pointDetector(standardLaboratory());
  const spread = (own: typeof noisy) => {
    const { campaign, truth } = simulate(own, 8);
    const [mistake] = truth.mistakes;
    const values = numbers(campaign, OUTPUTS, "signal_green", mistake ? mistake.places[0]!.condition : "cone-5");
    return Math.max(...values) / Math.min(...values) - 1;
  };
  expect(spread(withMistake(noisy, "channels-noisy", 100))).toBeGreaterThan(0.01);
  expect(spread(noisy)).toBeLessThan(0.01);
});

test("a dead channel shows the dark reading alone", () => {
  const { campaign, truth } = simulate(withMistake(laboratory, "channel-dead"), 8);
  const condition = truth.mistakes[0]!.places[0]!.condition!;
  for (const value of numbers(campaign, OUTPUTS, "signal_green", condition)) expect(value).toBeCloseTo(0.0195, 3);
});
