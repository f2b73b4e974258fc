import { describe, expect, it } from "vitest";
import { ONE, Unit } from "./unit.ts";

describe("units", () => {
  it("MODEL-1: the same unit written in another order is the same object", () => {
    expect(Unit.parse("Gy·s")).toBe(Unit.parse("s·Gy"));
    expect(Unit.parse("Gy/nC").times(Unit.parse("nC"))).toBe(Unit.parse("Gy"));
    expect(Unit.parse("nC").over(Unit.parse("nC"))).toBe(ONE);
  });

  it("MODEL-1: nC and pC are different units, for nothing is converted", () => {
    expect(Unit.parse("nC")).not.toBe(Unit.parse("pC"));
  });

  it.each(["1", "Gy/nC", "1/s", "mm²", "mm²/Gy·s", "nC^0.5"])("MODEL-1: %s is read back as it is written", (text) => {
    expect(Unit.parse(text).symbol).toBe(text);
  });

  it("MODEL-1: powers multiply exponents, and a root undoes a square", () => {
    const mm = Unit.parse("mm");
    expect(mm.power(2).symbol).toBe("mm²");
    expect(mm.power(2).power(0.5)).toBe(mm);
    expect(mm.power(-1).symbol).toBe("1/mm");
  });

  it.each(["", "Gy/", "a/b/c", "·s", "nC^1.2.3", "nC^x", "nC^", "mm²²", "mm²^2", "²"])(
    "MODEL-1: %j is refused",
    (text) => {
      expect(() => Unit.parse(text)).toThrow(RangeError);
    },
  );
});
