import { budget, propagate } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import { addCalibration, type CalibrationReading } from "./calibration.ts";
import type { Chain } from "./chain.ts";
import { addSeparation, type SeparationReading } from "./separation.ts";
import { EXACT } from "./testing/exact-set.ts";
import { exactChain, type Row, repeated, seriesOf } from "./testing/made-up-series.ts";

type CalibrationRow = Row<CalibrationReading>;

/** The separation of the exact set, from single readings with a fine display and equal doses. */
function separationIn(chain: Chain) {
  const row = (name: string, signals: readonly number[]): Row<SeparationReading> => [
    name,
    signals,
    { doseGroup: "a", role: "fit", digits: [1e-9, 1e-9] },
  ];
  const rows = [0, 1].flatMap(() => [row("little", EXACT.little), row("much", EXACT.much)]);
  return addSeparation(chain, seriesOf<SeparationReading>("separation", rows), 0);
}

function calibrate(rows: readonly CalibrationRow[], chain: Chain = exactChain()) {
  const found = addCalibration(chain, seriesOf<CalibrationReading>("calibration", rows), separationIn(chain));
  const { u, value } = propagate(chain.model, found.coefficient);
  return { ...found, chain, relative: u / value };
}

const known = (dose_Gy: number, dose_u_percent = 0.7) => ({ dose_Gy, dose_u_percent });

describe("the calibration", () => {
  it("CAL-1: N_D = 1/Σ a·x with x = q/D: 0.258065 Gy/nC of the exact set (docs/checks.md, Light, C)", () => {
    const { coefficient, response, perDose } = calibrate([["ref", EXACT.little, known(1)]]);
    expect(coefficient.value).toBeCloseTo(0.258065, 6);
    expect(coefficient.value).toBeCloseTo(1 / 3.875, 12);
    expect(response.value).toBeCloseTo(3.875, 12);
    expect(perDose.map(({ value }) => value)).toEqual([6.5, 3.5]);
    expect([coefficient, response].map(({ unit }) => unit.symbol)).toEqual(["Gy/nC", "nC/Gy"]);
    expect(coefficient.tape.names.get(coefficient.index)?.key).toBe("calibration.coefficient");
  });

  it("CAL-1: mistakes with much fibre in the separation give the coefficients of docs/job.md (test set A, C)", () => {
    const coefficient = (much: readonly number[]) => {
      const chain = exactChain();
      const rows: Row<SeparationReading>[] = [
        ["little", EXACT.little, { doseGroup: "a", role: "fit" }],
        ["much", much, { doseGroup: "a", role: "fit" }],
      ];
      const separation = addSeparation(chain, seriesOf<SeparationReading>("separation", rows), 0.001);
      const series = seriesOf<CalibrationReading>("calibration", [["ref", EXACT.little, known(1)]]);
      return 100 * addCalibration(chain, series, separation).coefficient.value;
    };
    expect(coefficient(EXACT.much)).toBeCloseTo(25.8065, 4);
    expect(coefficient([17 * 1.01, 17.5 * 1.01])).toBeCloseTo(25.87, 3);
    expect(coefficient([17 * 1.03, 17.5 * 1.03])).toBeCloseTo(25.994, 3);
    expect(coefficient([17 * 1.05, 17.5 * 1.05])).toBeCloseTo(26.114, 3);
    expect(coefficient([17, 17.5 * 0.99])).toBeCloseTo(26.03, 2);
    expect(coefficient([17, 17.5 * 0.95])).toBeCloseTo(27.027, 3);
  });

  it("CAL-1: every reading is divided by its own dose", () => {
    const { coefficient } = calibrate([
      ["ref", EXACT.little, known(1)],
      ["ref", EXACT.little.map((signal) => 2 * signal), known(2)],
      ["ref", EXACT.little.map((signal) => 0.5 * signal), known(0.5)],
    ]);
    expect(coefficient.value).toBeCloseTo(1 / 3.875, 12);
  });

  it("CAL-1: several conditions count by their numbers of readings", () => {
    const rows: CalibrationRow[] = [
      ...repeated<CalibrationReading>(3, ["one", [6.5, 3.5], known(1)]),
      ["two", [6.9, 3.5], known(1)],
    ];
    const { response } = calibrate(rows);
    expect(response.value).toBeCloseTo((3 * 3.875 + 4.275) / 4, 12);
  });

  it("CAL-2: the dose's uncertainty is one input of the whole table: more rows do not shrink it", () => {
    for (const count of [1, 2, 10, 100]) {
      const { relative } = calibrate(repeated<CalibrationReading>(count, ["ref", EXACT.little, known(1, 0.7)]));
      expect(relative).toBeCloseTo(0.007, 6);
    }
    const { coefficient, chain } = calibrate(repeated<CalibrationReading>(10, ["ref", EXACT.little, known(1, 0.7)]));
    const line = budget(propagate(chain.model, coefficient)).find(({ input }) => input === "calibration/dose")!;
    expect(line).toMatchObject({ type: "B", value: 1 });
    expect(line.u).toBeCloseTo(0.007, 15);
    expect(line.sensitivity).toBeCloseTo(coefficient.value, 12); // a dose that is larger makes the coefficient larger
  });

  it("CAL-3: rows of different uncertainty lean on it in proportion", () => {
    const { relative } = calibrate([
      ["ref", EXACT.little, known(1, 0.5)],
      ["ref", EXACT.little, known(1, 1.5)],
    ]);
    expect(relative).toBeCloseTo(0.01, 6);
    const { relative: uneven } = calibrate([
      ["one", EXACT.little, known(1, 0.4)],
      ["two", EXACT.little, known(1, 0)],
      ["two", EXACT.little, known(1, 0)],
      ["two", EXACT.little, known(1, 0)],
    ]);
    expect(uneven).toBeCloseTo(0.001, 6);
  });

  it("CAL-3: a dose that is taken as exact adds nothing", () => {
    expect(calibrate([["ref", EXACT.little, known(1, 0)]]).relative).toBeLessThan(1e-6);
  });

  it("CAL-4: it is not normalised by the monitor, as the dose is that of the reading itself", () => {
    const rows = (monitors: readonly number[]) =>
      monitors.map((monitor): CalibrationRow => ["ref", EXACT.little, { ...known(1), monitor, mu: monitor }]);
    const { coefficient, net } = calibrate(rows([10, 11, 9.5]));
    expect(coefficient.value).toBeCloseTo(1 / 3.875, 12);
    expect(net.conditions[0]!.divisor).toBe("dose");
  });

  it("CAL-1: a reading that is left out counts neither for the signal nor for the uncertainty of the dose", () => {
    const { coefficient, relative } = calibrate([
      ["ref", EXACT.little, known(1, 0.7)],
      ["ref", [99, 1], { ...known(3, 15), exclude: "wrong depth" }],
    ]);
    expect(coefficient.value).toBeCloseTo(1 / 3.875, 12);
    expect(relative).toBeCloseTo(0.007, 6);
  });
});
