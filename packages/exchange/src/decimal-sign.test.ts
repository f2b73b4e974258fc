import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { findDecimalSign } from "./decimal-sign.ts";

const cells = (texts: readonly string[], column = "signal_blue") =>
  texts.map((text, i) => ({ text, column, row: i + 1, line: i + 2 }));
const find = (texts: readonly string[], delimiter = ";") => findDecimalSign(cells(texts), delimiter);

describe("the decimal sign is found", () => {
  test.each([
    [".", []],
    [".", ["6", "17"]],
    [".", ["6.5"]],
    [",", ["6,5"]],
    [",", ["6,500", "3,50"]],
    [",", ["6,500", "0,512"]],
    [".", ["12.500", "1.2e-3"]],
    [",", ["1,234", "1,234e0"]],
    [",", ["1234,567"]],
    [",", ["6,", "7,"]],
    [",", [",512"]],
    [",", ["-0,001"]],
    [".", ["1.234", "12345"]],
    [".", ["NaN", "6.5 nC", "6.5"]],
  ] as const)("%j in %j", (decimal, texts) => {
    expect(find(texts)).toEqual({ decimal });
  });

  test("as a point in a file with commas between cells, where decimal commas cannot stand", () => {
    expect(find(["1.234", "12.500"], ",")).toEqual({ decimal: "." });
  });
});

describe("no guess is made", () => {
  test.each([[["1,234"]], [["1.234"]], [["1,234", "12,500", "999"]], [["-1.234", "+12.500"]]])(
    "where every number could have thousands divided: %j",
    (texts) => {
      expect(find(texts)).toMatchObject({ why: "ambiguous", cell: { text: texts[0], row: 1, line: 2 } });
      expect(find(texts, "\t")).toMatchObject({ why: "ambiguous" });
    },
  );

  test("with commas in quotes in a comma-delimited file either", () => {
    expect(find(["1,234"], ",")).toMatchObject({ why: "ambiguous" });
  });

  test("where points and commas are mixed, both shown", () => {
    expect(find(["6.5", "3,5", "7.5"])).toMatchObject({ why: "mixed", point: { row: 1 }, comma: { row: 2 } });
    expect(find(["6.5", "1,234"])).toMatchObject({ why: "mixed" });
    expect(find(["1.234", "1,234"])).toMatchObject({ why: "mixed" });
  });

  test("from undivided thousands in another column", () => {
    const both = [...cells(["1,234"]), ...cells(["12345"], "mu")];
    expect(findDecimalSign(both, ";")).toMatchObject({ why: "ambiguous" });
  });
});

test("cells with several signs do not count: they are faults of their own", () => {
  expect(find(["1.234,5", "6,5"])).toEqual({ decimal: "," });
  expect(find(["1.234.567"])).toEqual({ decimal: "." });
});

test("numbers written with one sign and up to two decimals are never read with the other", () => {
  const number = fc.tuple(fc.nat(9999), fc.nat(99));
  fc.assert(
    fc.property(
      fc.array(number, { minLength: 1 }),
      fc.constantFrom(".", ","),
      delimiters(),
      (numbers, sign, delimiter) => {
        const texts = numbers.map(([whole, part]) => `${whole}${sign}${part}`);
        expect(find(texts, delimiter)).toEqual({ decimal: sign });
      },
    ),
  );
});

function delimiters() {
  return fc.constantFrom(",", ";", "\t");
}
