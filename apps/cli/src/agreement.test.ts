import type { SideBySideRow } from "@alcedo-dosimetry/recheck";
import { describe, expect, test } from "vitest";
import { agreementOf, agrees } from "./agreement.ts";

const row = (id: string, [value, u]: [number, number | null], [recheckValue, recheckU]: [number, number | null]) => ({
  ...{ id, value, recheckValue, u, recheckU },
  difference: recheckValue - value,
});

const agreeing = (one: SideBySideRow) => agreementOf([one]).compared.map(agrees)[0];

describe("two routes", () => {
  test.each([
    ["separation.stem-ratio", 0.75, 5e-10, true],
    ["separation.stem-ratio", 0.75, 1e-9, false],
    ["separation.stem-ratio", -0.75, -1e-9, false],
    // a quadrature lies behind these
    ["output-factor.cone-5", 0.5, 4e-7, true],
    ["output-factor.cone-5", 0.5, 6e-7, false],
    // near zero by nature: of one, not of itself
    ["output-factors.drift", 1e-5, 9e-10, true],
    ["output-factors.drift", 1e-5, 2e-9, false],
    ["separation.chi2", 1e-25, 5e-13, true],
    ["separation.chi2", 2, 3e-9, false],
  ])("agree or not in %s = %d, apart by %d: %s", (id, value, apart, expected) => {
    expect(agreeing(row(id, [value, 0.01], [value + apart, 0.01]))).toBe(expected);
  });

  test.each([
    [0.01, 0.010199, true],
    [0.01, 0.010201, false],
    [0.01, 0.009799, false],
    [0, 0, true],
    [1e-100, 0, true],
    [null, null, true],
    [null, 0.01, false],
    [0.01, null, false],
  ])("with uncertainties of %s and %s agree: %s", (u, recheckU, expected) => {
    const { compared } = agreementOf([row("dose.calibration.reference", [1, u], [1, recheckU])]);
    expect(compared.map(({ valueAgrees, uAgrees }) => [valueAgrees, uAgrees])).toEqual([[true, expected]]);
  });

  test("are apart in units of u, unless u is none or lost in the value's rounding", () => {
    const { compared } = agreementOf([
      row("a", [1, 0.25], [1.5, 0.25]),
      row("b", [1, 1e-28], [1, 0]),
      row("c", [2, null], [2, null]),
    ]);
    expect(compared.map(({ differenceInU }) => differenceInU)).toEqual([2, null, null]);
  });

  test("do not agree where a value is no number", () => {
    expect(agreeing(row("a", [1, 0.25], [Number.NaN, 0.25]))).toBe(false);
    expect(agreeing(row("a", [1, 0.25], [1, Number.NaN]))).toBe(false);
  });

  test("name what only one of them has", () => {
    const none = { value: null, recheckValue: null, difference: null, u: null, recheckU: null };
    const rows = [
      { ...none, id: "a", value: 1, u: 0.1 },
      { ...none, id: "b", recheckValue: 1 },
    ];
    expect(agreementOf(rows)).toEqual({ compared: [], onlyEvaluated: ["a"], onlyRechecked: ["b"] });
  });
});
