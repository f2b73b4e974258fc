import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { ABSENT, concise, concisePercent, inLine, percent, plain, share, significant } from "./concise.ts";

const SUPERSCRIPTS = "⁰¹²³⁴⁵⁶⁷⁸⁹";

/** Reads concise notation back, as a person would. */
function read(text: string): { value: number; u: number; place: number; digits: string } {
  const match = /^(−?)([\d.]+)\(([\d.]+)\)(?:×10(⁻?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+))?$/.exec(text);
  if (!match) throw new Error(`not in concise notation: ${text}`);
  const [, sign, number = "", brackets = "", minus, power = ""] = match;
  const digits = [...power].map((digit) => SUPERSCRIPTS.indexOf(digit)).join("");
  const exponent = digits === "" ? 0 : Number(digits) * (minus ? -1 : 1);
  const decimals = number.split(".")[1]?.length ?? 0;
  const u = brackets.includes(".") ? `${brackets}e${exponent}` : `${brackets}e${exponent - decimals}`;
  return {
    value: Number(`${sign ? "-" : ""}${number}e${exponent}`),
    u: Number(u),
    // zeros behind two digits stand before the decimal point and were not rounded to
    place: Number(`1e${exponent - decimals + brackets.replace(".", "").length - 2}`),
    digits: brackets.replace(".", ""),
  };
}

describe("concise notation", () => {
  test.each([
    [0.61234, 0.0021, "0.6123(21)"],
    [0.7500424094966647, 0.0003954503020733591, "0.75004(40)"],
    [-0.61234, 0.0021, "−0.6123(21)"],
    // JCGM 100:2008, 7.2.2: m_S = 100.021 47(35) g
    [100.02147, 0.00035, "100.02147(35)"],
    [50000838, 32, "5.0000838(32)×10⁷"],
    [6.2, 0.0996, "6.20(10)"],
    [6.2, 0.00995, "6.200(10)"],
    [0.99999, 0.021, "1.000(21)"],
    [12.34, 4.5, "12.3(4.5)"],
    [123.4, 45, "123(45)"],
    [1234, 450, "1230(450)"],
    [1234, 4500, "1200(4500)"],
    [0, 0.0012, "0.0000(12)"],
    [-0.000071, 0.00124, "−0.0001(12)"],
    [-0.00001, 0.0012, "0.0000(12)"],
    [0.0012233, 0.0000014, "0.0012233(14)"],
    [0.00064667, 0.00000213, "6.467(21)×10⁻⁴"],
    [1e-7, 1.4e-5, "0.0(1.4)×10⁻⁵"],
    [6e-7, 1.4e-5, "0.1(1.4)×10⁻⁵"],
    [1.6e-19, 2.2e-27, "1.600000000(22)×10⁻¹⁹"],
    [12345678, 12, "1.2345678(12)×10⁷"],
    [9999999.6, 12, "10000000(12)"],
    [0.5, 5e-324, "0.5"],
  ])("%d with u %d is %s", (value, u, text) => {
    expect(concise(value, u)).toBe(text);
  });

  test.each([null, 0, -1, Number.NaN, Number.POSITIVE_INFINITY])(
    "without an uncertainty (%s) the value stands alone",
    (u) => {
      expect(concise(12.354916666666666, u)).toBe("12.3549");
      expect(concise(0, u)).toBe("0");
    },
  );

  test.each([Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])("a value of %d is absent", (value) => {
    expect(concise(value, 0.1)).toBe(ABSENT);
  });

  // From what a reader can tell apart to beyond any unit; u from 1e-12 of the value to 1e6 of it.
  const positive = fc
    .tuple(fc.double({ min: 1, max: 9.999999, noNaN: true }), fc.integer({ min: -30, max: 30 }))
    .map(([mantissa, exponent]) => Number(`${mantissa}e${exponent}`));
  const pair = fc
    .tuple(positive, fc.boolean(), fc.double({ min: 1, max: 9.999999, noNaN: true }), fc.integer({ min: -12, max: 6 }))
    .map(([size, negative, mantissa, ratio]) => ({
      value: negative ? -size : size,
      u: size * Number(`${mantissa}e${ratio}`),
    }));

  test("reads back to the value within half its last place, and to u within half of u's second digit", () => {
    fc.assert(
      fc.property(pair, ({ value, u }) => {
        const back = read(concise(value, u));
        expect(Math.abs(back.value - value)).toBeLessThanOrEqual(back.place * 0.5000001 + Math.abs(value) * 1e-15);
        expect(Math.abs(back.u - u)).toBeLessThanOrEqual(0.0500001 * u);
      }),
    );
  });

  test("shows two significant digits of u, and the value as far as they reach", () => {
    fc.assert(
      fc.property(pair, ({ value, u }) => {
        const { digits, u: shown, place } = read(concise(value, u));
        expect(digits).toMatch(/^[1-9]\d0*$/);
        expect(Math.round(shown / place)).toBeGreaterThanOrEqual(10);
        expect(Math.round(shown / place)).toBeLessThan(100);
      }),
    );
  });

  test("changes with the sign of the value in its minus alone", () => {
    fc.assert(
      fc.property(pair, ({ value, u }) => {
        expect(concise(-value, u).replace("−", "")).toBe(concise(value, u).replace("−", ""));
      }),
    );
  });

  test("says the same of what it has said: rounding twice is rounding once", () => {
    fc.assert(
      fc.property(pair, ({ value, u }) => {
        const once = concise(value, u);
        const back = read(once);
        expect(read(concise(back.value, back.u)).value).toBeCloseTo(
          back.value,
          12 - Math.floor(Math.log10(Math.abs(value))),
        );
        expect(read(concise(back.value, back.u)).digits).toBe(back.digits);
      }),
    );
  });
});

describe("numbers without brackets", () => {
  test.each([
    [22, "22"],
    [100, "100"],
    [1200000, "1200000"],
    [12.354916666666666, "12.3549"],
    [0.19999999999999996, "0.2"],
    [-0.0009, "−9×10⁻⁴"],
    [0.001, "0.001"],
    [9999999.7, "1×10⁷"],
    [1.5e-7, "1.5×10⁻⁷"],
    [3.2e-25, "3.2×10⁻²⁵"],
    [0, "0"],
    [-0, "0"],
    [Number.NaN, ABSENT],
  ])("%d is %s", (value, text) => {
    expect(plain(value)).toBe(text);
  });

  test.each([
    [0.0048, 2, "0.0048"],
    [0.98, 2, "0.98"],
    [9.96, 2, "10"],
    [0.9996, 3, "1.00"],
    [12.3, 2, "12"],
    [123, 2, "120"],
    [-4, 2, "−4.0"],
    [0, 2, "0"],
    [Number.NaN, 2, ABSENT],
  ])("%d to %d significant digits is %s", (value, digits, text) => {
    expect(significant(value, digits)).toBe(text);
  });

  test("a small deviation is written in concise notation, as a percentage with its sign", () => {
    expect(concisePercent(0.0034, 0.0012)).toBe("+0.34(12) %");
    expect(concisePercent(-0.00007, 0.0012)).toBe("−0.01(12) %");
    expect(concisePercent(0, 0.0012)).toBe("0.00(12) %");
    expect(concisePercent(0.25, null)).toBe("+25 %");
    expect(concisePercent(Number.NaN, null)).toBe(ABSENT);
  });

  test("percentages carry their sign where it matters", () => {
    expect(percent(0.0098)).toBe("0.98 %");
    expect(percent(0.0098, true)).toBe("+0.98 %");
    expect(percent(-0.0098, true)).toBe("−0.98 %");
    expect(percent(0, true)).toBe("0 %");
    expect(percent(Number.NaN)).toBe(ABSENT);
  });

  test.each([
    [1, "100 %"],
    [0.99616, "100 %"],
    [0.124, "12 %"],
    [0.0994, "9.9 %"],
    [0.0996, "10 %"],
    [0.00436, "0.4 %"],
    [0.00001, "< 0.1 %"],
    [-0.00001, "< 0.1 %"],
    [-0.021, "−2.1 %"],
    [0, "0 %"],
    [Number.NaN, ABSENT],
  ])("a share of %d is %s", (fraction, text) => {
    expect(share(fraction)).toBe(text);
  });

  test("a column's numbers end at one place, which the largest gives", () => {
    expect(inLine([10.39986, 27.2236, undefined, 5.599191], 6)).toEqual(["10.3999", "27.2236", ABSENT, "5.5992"]);
    expect(inLine([9.99999996, -0.5], 6)).toEqual(["10.0000", "−0.5000"]);
    expect(inLine([1234567, 2.5], 6)).toEqual(["1234567", "3"]);
    expect(inLine([0, 0], 3)).toEqual(["0.00", "0.00"]);
    expect(inLine([2e-9, Number.NaN], 3)).toEqual(["2.00×10⁻⁹", ABSENT]);
  });
});
