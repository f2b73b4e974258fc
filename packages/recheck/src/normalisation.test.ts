import { describe, expect, it } from "vitest";
import { fieldNormalisation, monitorSeesField, normalisation } from "./normalisation.ts";
import { typedField, typedReading } from "./testing/typed-readings.ts";

describe("normalisation", () => {
  it("is by the monitor, scaled by its mean", () => {
    const readings = [typedReading("a", { monitor: 9, mu: 100 }), typedReading("b", { monitor: 11, mu: 200 })];
    const factor = normalisation(readings);
    expect(readings.map(factor)).toEqual([10 / 9, 10 / 11]);
  });

  it("is by MU without a monitor, and not at all without either", () => {
    const readings = [typedReading("a", { monitor: 9, mu: 100 }), typedReading("b", { mu: 300 })];
    expect(readings.map(normalisation(readings))).toEqual([2, 200 / 300]);
    expect(normalisation([typedReading("a"), typedReading("b", { mu: 3 })])(typedReading("b", { mu: 3 }))).toBe(1);
    expect(normalisation([])(typedReading("a"))).toBe(1);
  });
});

describe("a monitor that sees the field", () => {
  const visit = (role: "reference" | "field", ...monitors: number[]) =>
    monitors.map((monitor, i) => typedField(`${role}${i}`, { role, condition: role, monitor, mu: 100 }));
  const quiet = visit("reference", 10, 10.005, 9.995);

  it("differs by more than 0.3 % and by more than U", () => {
    expect(monitorSeesField([quiet, visit("field", 9.95, 9.955, 9.945)])).toBe(true);
    expect(monitorSeesField([quiet, visit("field", 9.98, 9.985, 9.975)])).toBe(false);
    // 0.5 % away, but s = 0.4 % on four degrees of freedom: U = 2.776 · 0.4 % · √(2/3) = 0.9 %.
    expect(monitorSeesField([visit("reference", 10, 10.04, 9.96), visit("field", 9.95, 9.99, 9.91)])).toBe(false);
  });

  it("cannot be told without repeats, MU or a reference", () => {
    expect(monitorSeesField([visit("reference", 10), visit("field", 9)])).toBe(false);
    expect(monitorSeesField([visit("field", 10, 10), visit("field", 9, 9)])).toBe(false);
    const bare = quiet.map(({ mu: _, ...rest }) => rest);
    expect(monitorSeesField([bare, visit("field", 9, 9)])).toBe(false);
  });

  it("gives way to MU", () => {
    const seen = visit("field", 9.5, 9.5, 9.5);
    expect(fieldNormalisation([quiet, seen])(seen[0]!)).toBe(1);
    const unseen = visit("field", 10, 10, 10);
    expect(fieldNormalisation([quiet, unseen])(quiet[1]!)).toBeCloseTo(10 / 10.005, 12);
  });
});
