import { expect, test } from "vitest";
import { isError, placeInWords } from "./finding.ts";

test("a place reads as words, as much of it as is known", () => {
  expect(placeInWords({ file: "a.csv", row: 4, line: 5, column: "mu", series: "separation" })).toBe(
    "a.csv, row 4 (line 5), column mu",
  );
  expect(placeInWords({ series: "separation", column: "mu" })).toBe("series separation, column mu");
  expect(placeInWords({ file: "a.csv", line: 5 })).toBe("a.csv, line 5");
  expect(placeInWords({ file: "a.csv", row: 4 })).toBe("a.csv, row 4");
});

test("only errors stand in the way of a result", () => {
  const levels = ["error", "warning", "notice"] as const;
  expect(levels.map((level) => isError({ level, code: "c", message: "m" }))).toEqual([true, false, false]);
});
