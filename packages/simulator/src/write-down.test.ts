import { expect, test } from "vitest";
import { type Laboratory, pointDetector } from "./laboratory.ts";
import type { Physicist } from "./physicist.ts";
import { REGIMES } from "./regimes.ts";
import { simulate } from "./simulate.ts";
import { standardLaboratory } from "./standard-laboratory.ts";
import { cells, numbers } from "./testing/cells.ts";
import { moments, spreadTolerance } from "./testing/moments.ts";

const changed = (change: Partial<Physicist>): Laboratory => ({
  ...standardLaboratory(),
  physicist: { ...standardLaboratory().physicist, ...change },
});
const columns = (laboratory: Laboratory, series: string) => simulate(laboratory, 1).campaign.tables[series]!.columns;

test("each series has its columns", () => {
  const common = ["reading", "condition", "time", "duration_s"];
  const signals = ["signal_blue", "signal_green"];
  const beamOn = [...common, "mu", "monitor", "temperature_C", ...signals];
  const laboratory = standardLaboratory();
  expect(columns(laboratory, "background")).toEqual([...common, "temperature_C", ...signals]);
  expect(columns(laboratory, "separation")).toEqual([...beamOn, "dose_group", "role", "fibre_mm"]);
  expect(columns(laboratory, "calibration")).toEqual([...beamOn, "dose_Gy", "dose_u_percent"]);
  expect(columns(laboratory, "output-factors")).toEqual([
    ...beamOn,
    ...["role", "shape", "x_mm", "y_mm", "diameter_mm", "fwhm_x_mm", "fwhm_y_mm"],
  ]);
});

test("what the physicist does not write is not there", () => {
  const bare = changed({ writes: { time: false, mu: false, temperature: false }, readsMonitorIn: ["calibration"] });
  expect(columns(bare, "output-factors")).not.toEqual(expect.arrayContaining(["time"]));
  expect(columns(bare, "output-factors").slice(0, 5)).toEqual([
    "reading",
    "condition",
    "duration_s",
    "signal_blue",
    "signal_green",
  ]);
  expect(columns(bare, "calibration")).toContain("monitor");
});

test("fields are written as meant, and measured widths with their error", () => {
  const usual = pointDetector(REGIMES["three-repeats"]());
  const stated = { ...usual.physicist.stated, penumbraSigma_u_mm: 0 };
  const laboratory = { ...usual, physicist: { ...usual.physicist, stated } };
  const widths = Array.from({ length: 600 }, (_, seed) => {
    const { campaign } = simulate(laboratory, seed);
    if (seed === 0) {
      expect(cells(campaign, "output-factors", "x_mm", "20x16")).toEqual(["20", "20", "20"]);
      expect(cells(campaign, "output-factors", "diameter_mm", "20x16")).toEqual(["", "", ""]);
      expect(cells(campaign, "output-factors", "diameter_mm", "cone-5")).toEqual(["5", "5", "5"]);
      expect(cells(campaign, "output-factors", "role", "100x100")).toEqual(new Array(9).fill("reference"));
    }
    return numbers(campaign, "output-factors", "fwhm_x_mm", "cone-5")[0]!;
  });
  // true width 4.979350 mm (scipy, C), stated u 0.1 mm
  const { mean, sd } = moments(widths);
  expect(Math.abs(mean - 4.97934953696126)).toBeLessThan(0.4 / Math.sqrt(600));
  expect(Math.abs(sd / 0.1 - 1)).toBeLessThan(spreadTolerance(600) + 0.002);
});

test("a chamber reads along with each reading, or one dose stands in all rows", () => {
  const each = simulate(standardLaboratory(), 2).campaign;
  expect(new Set(cells(each, "calibration", "dose_Gy")).size).toBeGreaterThan(1);
  const { plan } = standardLaboratory().physicist;
  const constant = changed({ plan: { ...plan, calibration: { ...plan.calibration!, dose: "constant" } } });
  const doses = new Set(cells(simulate(constant, 2).campaign, "calibration", "dose_Gy"));
  expect(doses.size).toBe(1);
  // the error of the chamber's calibration is one for the table
  expect(Number([...doses][0]) / 1.6).toBeCloseTo(moments(numbers(each, "calibration", "dose_Gy")).mean / 1.6, 2);
  expect([...doses][0]).not.toBe("1.6000");
});

test("known doses stand in the separation, with one uncertainty for the group", () => {
  const { campaign } = simulate(REGIMES["known-doses"](), 2);
  expect(new Set(cells(campaign, "separation", "dose_u_Gy"))).toEqual(new Set(["0.0080"]));
  const own = (condition: string) => moments(numbers(campaign, "separation", "dose_Gy", condition)).mean;
  expect(own("long")).toBeCloseTo(own("short"), 2);
});

test("times go through the evening in order", () => {
  const { campaign } = simulate(standardLaboratory(), 1);
  const times = ["separation", "calibration", "output-factors"].flatMap((series) => cells(campaign, series, "time"));
  expect(times[0]).toBe("2026-03-12T20:06:20+01:00");
  expect(times).toEqual([...times].sort());
});

test("the descriptor states what the physicist holds to be true, the penumbra with what it may be off", () => {
  const { alcedo } = simulate(standardLaboratory(), 7).campaign.descriptor;
  expect(alcedo.assumptions).toMatchObject({
    doseEquality_u_percent: 0.1,
    outputCorrection: { value: 1, u: 0.005 },
    intermediateLink: { value: 1, u: 0 },
    temperature_u_C: 1,
  });
  expect(alcedo.detector.temperatureCoefficient_perK).toEqual({ value: -0.0009, u: 0.0003 });
  const stated = alcedo.assumptions!.penumbraSigma_mm!;
  expect(stated).toEqual({ value: 1.5, u: 0.29 });
});
