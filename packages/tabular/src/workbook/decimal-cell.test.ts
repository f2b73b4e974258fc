import { expect, test } from "vitest";
import { decimalCell } from "./decimal-cell.ts";

test.each([
  ["6.500", { value: 6.5, style: { format: "0.000" } }],
  ["100", { value: 100 }],
  ["-0.0010", { value: -0.001, style: { format: "0.0000" } }],
  ["0", { value: 0 }],
])("%s is a number that shows its decimals", (text, cell) => expect(decimalCell(text)).toEqual(cell));

test.each([
  "",
  "+6.5",
  "1e3",
  "007",
  ".5",
  "5.",
  "6,5",
  "-0",
  "-0.0",
  "0.12345678901234567890",
  "12345678901234567890",
  "0.0000000001",
])("%j is none: a number in a format would not show just this text", (text) =>
  expect(decimalCell(text)).toBeUndefined(),
);
