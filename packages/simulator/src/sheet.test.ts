import { expect, test } from "vitest";
import { changed, fixed, tableOf } from "./sheet.ts";

test("a number is written with its decimals, really rounded, and zero has no sign", () => {
  expect(fixed(6.50004, 4)).toBe("6.5000");
  expect(fixed(6.50006, 4)).toBe("6.5001");
  expect(fixed(-0.00001, 3)).toBe("0.000");
  expect(fixed(-0.2, 0)).toBe("0");
  expect(fixed(-1.25, 1)).toBe("-1.3");
});

test("a changed cell keeps its decimals", () => {
  expect(changed("6.500", (value) => value * 10)).toBe("65.000");
  expect(changed("200", (value) => value * 2)).toBe("400");
  expect(changed("30", (value) => value / 4)).toBe("8");
});

test("a sheet becomes a table with a cell for every column", () => {
  const sheet = {
    series: "background" as const,
    columns: ["reading", "condition", "note"],
    rows: [
      { reading: "b001", condition: "before" },
      { reading: "b002", condition: "before", note: "x" },
    ],
  };
  expect(tableOf(sheet)).toEqual({
    path: "background.csv",
    decimal: ".",
    columns: ["reading", "condition", "note"],
    rows: [
      ["b001", "before", ""],
      ["b002", "before", "x"],
    ],
    lines: [2, 3],
  });
});
