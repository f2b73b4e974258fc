import { bracketedRoot, Model, ONE, propagate, Tape, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  AIR_20_CELSIUS,
  AIR_22_CELSIUS,
  airDensityCorrection,
  linearRecombination,
  PULSED_RECOMBINATION,
  polarityCorrection,
  quadraticRecombination,
  type ReferenceAir,
} from "./chamber-corrections.ts";

const NANOCOULOMB = Unit.parse("nC");
const CELSIUS = Unit.parse("°C");
const KILOPASCAL = Unit.parse("kPa");

function air(temperature: number, pressure: number, reference: ReferenceAir) {
  const tape = new Tape();
  return airDensityCorrection(tape.input(temperature, CELSIUS), tape.input(pressure, KILOPASCAL), reference);
}

function charges(first: number, second: number) {
  const tape = new Tape();
  return [tape.input(first, NANOCOULOMB), tape.input(second, NANOCOULOMB)] as const;
}

describe("air density correction", () => {
  it("CHAMBER-1: 23.5 °C and 99.80 kPa give 1.027400 at 20 °C, 101.325 kPa (computed, C)", () => {
    expect(air(23.5, 99.8, AIR_20_CELSIUS).value).toBeCloseTo(1.0274, 6);
  });

  it("CHAMBER-1: the same air gives 1.020490 at 22 °C, 101.33 kPa (computed, C)", () => {
    expect(air(23.5, 99.8, AIR_22_CELSIUS).value).toBeCloseTo(1.02049, 6);
  });

  it("CHAMBER-1: reference air needs no correction", () => {
    expect(air(20, 101.325, AIR_20_CELSIUS).value).toBe(1);
    expect(air(22, 101.33, AIR_22_CELSIUS).value).toBe(1);
    expect(air(22, 101.33, AIR_22_CELSIUS).unit).toBe(ONE);
  });

  it("CHAMBER-1: thinner air, warmer or at lower pressure, is corrected upwards", () => {
    expect(air(21, 101.325, AIR_20_CELSIUS).value).toBeGreaterThan(1);
    expect(air(20, 101, AIR_20_CELSIUS).value).toBeGreaterThan(1);
  });

  it("CHAMBER-1: hectopascals, kelvins and what cannot be are refused", () => {
    const tape = new Tape();
    const t = tape.input(20, CELSIUS);
    const p = tape.input(101, KILOPASCAL);
    expect(() => airDensityCorrection(t, tape.input(1013, Unit.parse("hPa")), AIR_20_CELSIUS)).toThrow(
      "the pressure is needed in kPa, but is in hPa",
    );
    expect(() => airDensityCorrection(tape.input(293, Unit.parse("K")), p, AIR_20_CELSIUS)).toThrow(TypeError);
    expect(() => air(-300, 101, AIR_20_CELSIUS)).toThrow("the absolute temperature (in K)");
    expect(() => air(20, 0, AIR_20_CELSIUS)).toThrow("the pressure (in kPa)");
  });

  it("CHAMBER-1: the uncertainties of thermometer and barometer arrive in the correction", () => {
    const model = new Model();
    const one = { type: "B", symbol: "x", label: "x" } as const;
    const t = model.estimate({ ...one, key: "t", unit: CELSIUS, value: 20, u: 0.2932 });
    const p = model.estimate({ ...one, key: "p", unit: KILOPASCAL, value: 101.325, u: 0.101325 });
    // 0.1 % of the absolute temperature and 0.1 % of the pressure, by hand.
    expect(propagate(model, airDensityCorrection(t, p, AIR_20_CELSIUS)).u).toBeCloseTo(0.001 * Math.SQRT2, 12);
  });
});

describe("polarity correction", () => {
  it("CHAMBER-2: 20.10 in use and 20.04 at the other polarity give 0.998507 (computed, C)", () => {
    const k = polarityCorrection(...charges(20.1, 20.04));
    expect(k.value).toBeCloseTo(0.998507, 6);
    expect(k.unit).toBe(ONE);
  });

  it("CHAMBER-2: signs do not matter, the order does", () => {
    const k = polarityCorrection(...charges(20.1, 20.04)).value;
    for (const [used, other] of [
      [-20.1, 20.04],
      [20.1, -20.04],
      [-20.1, -20.04],
    ] as const)
      expect(polarityCorrection(...charges(used, other)).value).toBe(k);
    expect(polarityCorrection(...charges(20.04, 20.1)).value).toBeGreaterThan(1);
  });

  it("CHAMBER-2: a reading of zero and unlike units are refused", () => {
    expect(() => polarityCorrection(...charges(0, 20))).toThrow("the reading at the routine polarity");
    expect(() => polarityCorrection(...charges(20, 0))).toThrow("the reading at the opposite polarity");
    const tape = new Tape();
    expect(() => polarityCorrection(tape.input(20, NANOCOULOMB), tape.input(20, Unit.parse("pC")))).toThrow(TypeError);
  });
});

/** Boag's theory of recombination in pulses, f = ln(1 + x)/x with x ∝ 1/V: the reading ratio at a given correction. */
function boagReadingRatio(correction: number, voltageRatio: number): number {
  const efficiency = (x: number) => Math.log1p(x) / x;
  const x = bracketedRoot((at) => 1 / efficiency(at) - correction, 1e-9, 10);
  return efficiency(x) / efficiency(x * voltageRatio);
}

describe("recombination, simple form", () => {
  it("CHAMBER-3: voltage ratio 2 and reading ratio 1.005 give 1.005025 (from memory, M)", () => {
    const { node, valid } = linearRecombination(...charges(1.005, 1), 2);
    expect(node.value).toBeCloseTo(1.005025, 6);
    expect(node.unit).toBe(ONE);
    expect(valid).toBe(true);
  });

  it("CHAMBER-3: no rise, no correction", () => {
    expect(linearRecombination(...charges(20, 20), 2).node.value).toBe(1);
  });

  it("CHAMBER-3: for corrections up to 1.03 it stays within 0.001 of Boag's theory (computed here)", () => {
    for (const voltageRatio of [2, 2.5, 3])
      for (const correction of [1.002, 1.01, 1.02, 1.03]) {
        const m = boagReadingRatio(correction, voltageRatio);
        expect(Math.abs(linearRecombination(...charges(m, 1), voltageRatio).node.value - correction)).toBeLessThan(
          0.001,
        );
      }
  });

  it("CHAMBER-3: a reading that rises as steeply as the voltage is refused", () => {
    expect(() => linearRecombination(...charges(2, 1), 2)).toThrow(/rises by 2 for a voltage ratio of 2/);
    expect(() => linearRecombination(...charges(3, 1), 2)).toThrow(RangeError);
  });

  it("CHAMBER-3: a ratio upside down and a reading of zero are refused", () => {
    for (const ratio of [0.5, 1, -2, Number.NaN, Infinity])
      expect(() => linearRecombination(...charges(1.005, 1), ratio)).toThrow(`above one, but is ${ratio}`);
    expect(() => linearRecombination(...charges(1, 0), 2)).toThrow(RangeError);
    expect(() => linearRecombination(...charges(-1, 1), 2)).toThrow("the ratio of the readings");
  });
});

describe("recombination, quadratic fit", () => {
  // Coefficients from IAEA TRS-398, from memory, M; within 1.1e-3 of Boag's theory (computed, C).
  it.each(PULSED_RECOMBINATION.map(({ voltageRatio }) => voltageRatio))(
    "CHAMBER-4: at voltage ratio %d it stays within 1.1e-3 of Boag's theory up to 1.05",
    (voltageRatio) => {
      for (let correction = 1.001; correction < 1.05; correction += 0.0035) {
        const m = boagReadingRatio(correction, voltageRatio);
        const { node } = quadraticRecombination(...charges(m, 1), voltageRatio);
        expect(Math.abs(node.value - correction)).toBeLessThan(1.1e-3);
      }
    },
  );

  // IAEA TRS-398, from memory, M; the products computed by hand at m = 1.01.
  it.each([
    [2, 1.0098499],
    [2.5, 1.0075214],
    [3, 1.0048577],
    [3.5, 1.0048863],
    [4, 1.0032241],
    [5, 1.0034214],
  ])("CHAMBER-4: at voltage ratio %d a reading ratio of 1.01 gives %d (from memory, M)", (voltageRatio, expected) => {
    expect(quadraticRecombination(...charges(1.01, 1), voltageRatio).node.value).toBeCloseTo(expected, 7);
  });

  it("CHAMBER-4: a ratio that is not in the table is refused with those that are", () => {
    expect(() => quadraticRecombination(...charges(1.01, 1), 2.2)).toThrow(
      "the voltage ratio 2.2 is not in the table: measure at one of 2, 2.5, 3, 3.5, 4, 5",
    );
    expect(() => quadraticRecombination(...charges(1.01, 1), 6)).toThrow(RangeError);
  });

  it("CHAMBER-4: 0.3 kV over 0.1 kV is the ratio 3, rounding or not", () => {
    expect(0.3 / 0.1).not.toBe(3);
    expect(quadraticRecombination(...charges(1.01, 1), 0.3 / 0.1).node.value).toBeCloseTo(1.0048577, 7);
  });

  it("CHAMBER-4: nothing depends on the unit or the size of the readings but on their ratio", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1.04, noNaN: true }), // what a usable chamber shows
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }), // from pC to µC in nC
        (m, low) => {
          expect(quadraticRecombination(...charges(m * low, low), 3).node.value).toBeCloseTo(
            quadraticRecombination(...charges(m, 1), 3).node.value,
            12,
          );
        },
      ),
    );
  });
});

describe("whether a chamber suits the beam", () => {
  it("CHAMBER-5: a correction above 1.05 does not hold (AAPM TG-51, from memory, M)", () => {
    // 1/(2 − m) is 1.0493 and 1.0504.
    expect(linearRecombination(...charges(1.047, 1), 2).valid).toBe(true);
    expect(linearRecombination(...charges(1.048, 1), 2).valid).toBe(false);
    const strong = linearRecombination(...charges(1.06, 1), 2);
    expect(strong.valid).toBe(false);
    expect(strong.reason).toMatchObject({ quantity: "k_s", unit: "1", holds: "k_s <= 1.05" });
    expect(strong.reason!.value).toBe(strong.node.value);
    expect(quadraticRecombination(...charges(1.06, 1), 2).valid).toBe(false);
    expect(quadraticRecombination(...charges(1.04, 1), 2).valid).toBe(true);
  });

  it("CHAMBER-5: a reading that falls as the voltage rises does not hold: exchanged readings are seen", () => {
    const exchanged = { quantity: "m", unit: "1", holds: "m >= 1" };
    expect(linearRecombination(...charges(1, 1.005), 2)).toMatchObject({ valid: false, reason: exchanged });
    expect(quadraticRecombination(...charges(1, 1.005), 2)).toMatchObject({ valid: false, reason: exchanged });
  });
});
