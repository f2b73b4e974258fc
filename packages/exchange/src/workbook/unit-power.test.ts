import { expect, test } from "vitest";
import { isUnit, spelledUnit, unitPower } from "./unit-power.ts";

test.each([
  ["pC", "nC", -3],
  ["nC", "pC", 3],
  ["µC", "nC", 3],
  ["μC", "µC", 0],
  ["uC", "nC", 3],
  ["C", "nC", 9],
  ["cGy", "Gy", -2],
  ["mGy", "Gy", -3],
  ["cm", "mm", 1],
  ["m", "mm", 3],
  ["µm", "mm", -3],
  ["ms", "s", -3],
  ["C", "°C", 0],
  ["degC", "°C", 0],
  ["percent", "%", 0],
  ["mV", "V", -3],
])("%s to %s is a power of ten: %i (SI prefixes, BIPM brochure, table 7)", (unit, wanted, power) =>
  expect(unitPower(spelledUnit(unit), wanted)).toBe(power),
);

test.each([
  ["°F", "°C"],
  ["F", "°C"],
  ["K", "°C"],
  ["min", "s"],
  ["rad", "Gy"],
  ["mm", "Gy"],
  ["nA", "nC"],
  ["inch", "mm"],
  ["counts", "nC"],
  ["°C", "nC"],
])("%s to %s is none", (unit, wanted) => expect(unitPower(spelledUnit(unit), wanted)).toBeUndefined());

test("words that end a header are told from units", () => {
  expect(["cGy", "mm", "°F", "percent", "MU", "nC"].every(isUnit)).toBe(true);
  expect(["x", "blue", "group", "volume", "role"].some(isUnit)).toBe(false);
});
