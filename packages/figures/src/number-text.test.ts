import { describe, expect, test } from "vitest";
import { fixed, plain, signed, significant } from "./number-text.ts";

describe("numbers as text", () => {
  test("have a true minus sign, and none before zero", () => {
    expect([fixed(-1.25, 1), fixed(-0.04, 1), fixed(0, 2)]).toEqual(["−1.3", "0.0", "0.00"]);
  });

  test("have a plus sign where asked for, and none before what is written as zero", () => {
    expect([signed(0.126, 2), signed(-0.126, 2), signed(0.001, 2), signed(-0.001, 2)]).toEqual([
      "+0.13",
      "−0.13",
      "0.00",
      "0.00",
    ]);
  });

  test("have as many significant digits as asked for", () => {
    expect([significant(0.0018049, 2), significant(12.3456, 4), significant(1234.5, 2), significant(0, 3)]).toEqual([
      "0.0018",
      "12.35",
      "1235",
      "0",
    ]);
  });

  test("are written with a power of ten where they are very small or very large", () => {
    expect([significant(0.0000064, 2), significant(-1.5e7, 2)]).toEqual(["6.4·10⁻⁶", "−1.5·10⁷"]);
  });

  test("lose zeros that say nothing, but none before the decimal point", () => {
    expect([plain(50), plain(12.5), plain(100), plain(0.1), plain(2000)]).toEqual(["50", "12.5", "100", "0.1", "2000"]);
  });
});
