import { expect, test } from "vitest";
import { cellReference, columnLetters, readReference } from "./cell-reference.ts";

test.each([
  [0, "A"],
  [25, "Z"],
  [26, "AA"],
  [51, "AZ"],
  [701, "ZZ"],
  [702, "AAA"],
  [16383, "XFD"],
])("column %i is %s", (column, letters) => expect(columnLetters(column)).toBe(letters));

test("an address is read back, for every column that there is", () => {
  for (let column = 0; column < 16384; column += 37)
    expect(readReference(cellReference(column, column + 1))).toEqual({ column, row: column + 1 });
});

test.each(["", "A", "1", "A0", "$A$1", "a1", "XFE1", "A1:B2", "AAAA1"])("%j is no address of one cell", (text) =>
  expect(readReference(text)).toBeUndefined(),
);
