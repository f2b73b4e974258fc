import { describe, expect, test } from "vitest";
import type { Column } from "./columns.ts";
import { RANGES } from "./range.ts";
import { type CellFault, cellFinding, isCellFault, readCell } from "./read-cell.ts";

const dose: Column = { name: "dose_Gy", kind: "number", needed: "no", range: RANGES.dose_Gy, meaning: "dose" };
const role: Column = { name: "role", kind: "choice", needed: "always", choices: ["fit", "verify"], meaning: "role" };
const time: Column = { name: "time", kind: "time", needed: "no", meaning: "time" };
const note: Column = { name: "note", kind: "text", needed: "no", meaning: "note" };

test("a cell is typed by its column", () => {
  expect(readCell("1.00", dose, ".")).toEqual({ text: "1.00", number: 1, digit: 0.01 });
  expect(readCell("fit", role, ".")).toEqual({ text: "fit" });
  expect(readCell("1970-01-01T00:01Z", time, ".")).toEqual({ text: "1970-01-01T00:01Z", number: 60 });
  expect(readCell("=1+1", note, ".")).toEqual({ text: "=1+1" });
});

describe("a cell at fault", () => {
  const fault = (text: string, column: Column) => {
    const outcome = readCell(text, column, ".");
    if (!isCellFault(outcome)) throw new Error("the cell was read");
    return outcome;
  };

  test.each([
    ["0", "number-range", "above 0 and up to 10000 Gy"],
    ["-1", "number-range", "above 0 and up to 10000 Gy"],
    ["100 cGy", "number-malformed", "letters"],
    ["1e999", "number-not-finite", "too large"],
  ])("as a dose, %j: %s", (text, code, words) => {
    expect(fault(text, dose).code).toBe(code);
    expect(fault(text, dose).fault).toContain(words);
  });

  test("with an impossible value carries the figures", () => {
    expect(fault("20000", dose).facts).toEqual({ value: 20000, min: 0, max: 10000 });
  });

  test("as a word is told the nearest possible one, or all", () => {
    expect(fault("verfiy", role).remedy).toBe("Write verify.");
    expect(fault("reference", role).remedy).toBe("Write one of: fit, verify.");
  });

  test("as a time is told what a time looks like", () => {
    expect(fault("yesterday", time)).toMatchObject({ code: "time-malformed", fault: "is not a time of ISO 8601" });
  });

  test("becomes a finding at its place, with the cell shown", () => {
    const where = { series: "calibration", file: "c.csv", row: 3, line: 4, column: "dose_Gy" };
    const details: CellFault = fault("100 cGy", dose);
    expect(cellFinding(details, where)).toEqual({
      level: "error",
      code: "number-malformed",
      message: 'c.csv, row 3 (line 4), column dose_Gy: "100 cGy" has letters after the digits.',
      remedy: "Write the number alone; the unit is in the column's name.",
      where,
    });
  });
});
