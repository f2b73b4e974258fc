import { gradient, Model, ONE, Tape, Unit } from "@alcedo-dosimetry/metrology";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { MILLIMETRE } from "./length-unit.ts";
import { outputFactorAt } from "./output-factor-curve.ts";
import { PUBLISHED_OUTPUT_FACTORS } from "./published-output-factors.ts";

const PER_MILLIMETRE = ONE.over(MILLIMETRE);

interface Numbers {
  readonly P: number;
  readonly l: number;
  readonly n: number;
  readonly S: number;
  readonly b: number;
}

/** The curve with its parameters on a tape. */
function curveOn(tape: Tape, { P, l, n, S, b }: Numbers) {
  return {
    primary: tape.input(P, ONE),
    half: tape.input(l, MILLIMETRE),
    exponent: tape.input(n, ONE),
    scatter: tape.input(S, ONE),
    rate: tape.input(b, PER_MILLIMETRE),
  };
}

function curveAt(numbers: Numbers, square: number): number {
  const tape = new Tape();
  return outputFactorAt(curveOn(tape, numbers), tape.input(square, MILLIMETRE)).value;
}

/** Invented, of the order of a 6 MV beam normalised at 100 mm. */
const INVENTED: Numbers = { P: 0.75, l: 3.1, n: 1.6, S: 0.3, b: 0.017 };

describe("output-factor curve", () => {
  it("CURVE-1: P·Sⁿ/(lⁿ + Sⁿ) + S∞·(1 − e^(−bS)) (form from memory, M), by hand in rationals", () => {
    // 0.5·16/(9 + 16) + 0.4·(1 − 1/2) = 0.52
    const numbers = { P: 0.5, l: 3, n: 2, S: 0.4, b: Math.LN2 / 4 };
    expect(curveAt(numbers, 4)).toBeCloseTo(0.52, 14);
    expect(curveAt(numbers, 3)).toBeCloseTo(0.25 + 0.4 * (1 - 2 ** -0.75), 14);
  });

  it("CURVE-1: it is the published form, computed another way", () => {
    const { P, l, n, S, b } = INVENTED;
    for (const s of [2, 5, 10, 30, 100, 400]) {
      const primary = (P * s ** n) / (l ** n + s ** n);
      expect(curveAt(INVENTED, s)).toBeCloseTo(primary + S * (1 - Math.exp(-b * s)), 14);
    }
  });

  it("CURVE-1: it rises with the field, and ends at P + S∞", () => {
    const size = fc.double({ min: 1, max: 400, noNaN: true });
    fc.assert(
      fc.property(size, (square) => {
        expect(curveAt(INVENTED, square + 0.1)).toBeGreaterThan(curveAt(INVENTED, square));
      }),
    );
    expect(curveAt(INVENTED, 1e9)).toBeCloseTo(INVENTED.P + INVENTED.S, 10);
  });

  it("CURVE-2: slope and parameter derivatives from the graph are those of differences", () => {
    const model = new Model();
    const curve = curveOn(model.tape, INVENTED);
    const square = model.tape.input(8, MILLIMETRE);
    const adjoints = gradient(model, outputFactorAt(curve, square).index);
    const h = 1e-5;
    expect(adjoints[square.index]).toBeCloseTo((curveAt(INVENTED, 8 + h) - curveAt(INVENTED, 8 - h)) / (2 * h), 8);
    for (const [name, node] of [
      ["P", curve.primary],
      ["l", curve.half],
      ["n", curve.exponent],
      ["S", curve.scatter],
      ["b", curve.rate],
    ] as const) {
      const up = { ...INVENTED, [name]: INVENTED[name] + h };
      const down = { ...INVENTED, [name]: INVENTED[name] - h };
      expect(adjoints[node.index], name).toBeCloseTo((curveAt(up, 8) - curveAt(down, 8)) / (2 * h), 8);
    }
  });

  it("CURVE-1: sizes and shapes that are not above zero, and other units, are refused by name", () => {
    expect(() => curveAt(INVENTED, 0)).toThrow("the equivalent square (in mm)");
    expect(() => curveAt({ ...INVENTED, l: -1 }, 5)).toThrow("the half size l (in mm)");
    expect(() => curveAt({ ...INVENTED, n: 0 }, 5)).toThrow("the exponent n");
    const tape = new Tape();
    const curve = curveOn(tape, INVENTED);
    const square = tape.input(5, MILLIMETRE);
    expect(() => outputFactorAt(curve, tape.input(0.5, Unit.parse("cm")))).toThrow("needed in mm, but is in cm");
    const perCentimetre = tape.input(0.17, Unit.parse("1/cm"));
    expect(() => outputFactorAt({ ...curve, rate: perCentimetre }, square)).toThrow("needed in 1/mm, but is in 1/cm");
  });
});

describe("published output factors", () => {
  // Followill et al., J. Appl. Clin. Med. Phys. 13(5), 282 (2012), Tables 2–3, V: side in cm, mean, standard deviation.
  it.each([
    ["A", 6, 0.93, 0.01],
    ["A", 4, 0.878, 0.015],
    ["A", 3, 0.842, 0.012],
    ["A", 2, 0.79, 0.007],
    ["B", 6, 0.914, 0.008],
    ["B", 4, 0.855, 0.01],
    ["B", 3, 0.82, 0.008],
    ["B", 2, 0.764, 0.01],
  ] as const)("CURVE-3: class %s, %d cm: %d (%d)", (machineClass, side, mean, sd) => {
    const table = PUBLISHED_OUTPUT_FACTORS.find((one) => one.machineClass === machineClass)!;
    expect(table.fields.find(({ side_mm }) => side_mm === side * 10)).toEqual({ side_mm: side * 10, mean, sd });
    expect(table).toMatchObject({ energy: "6 MV", depth_mm: 100 });
    expect(table.source).toMatch(/Followill/);
  });

  it("CURVE-3: each class falls from field to smaller field by more than its spread", () => {
    for (const { fields } of PUBLISHED_OUTPUT_FACTORS)
      for (const [i, { mean, sd }] of fields.slice(1).entries()) expect(mean).toBeLessThan(fields[i]!.mean - sd);
  });
});
