import { expect, test } from "vitest";
import { isBlankRow } from "./table.ts";

test.each([
  [[], true],
  [[""], true],
  [["", " ", "\t", "\u00a0"], true],
  [["", "0"], false],
  [["", "."], false],
])("the row %j is blank: %s", (row, blank) => {
  expect(isBlankRow(row)).toBe(blank);
});
