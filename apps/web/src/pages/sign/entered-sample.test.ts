import { expect, test } from "vitest";
import { entryKey, missingEntries } from "./entered-sample.ts";

const sample = {
  readings: [
    { table: "separation", reading: "s001", columns: ["signal_blue", "signal_green"] },
    { table: "background", reading: "s001", columns: ["signal_blue"] },
  ],
};

test("what is missing is counted cell by cell; blanks are nothing", () => {
  expect(missingEntries(sample, new Map())).toBe(3);
  const entered = new Map([
    [entryKey("separation", "s001", "signal_blue"), "10.44"],
    [entryKey("separation", "s001", "signal_green"), "  "],
  ]);
  expect(missingEntries(sample, entered)).toBe(2);
});

test("readings of one name in two tables are two, and no name can be mistaken for two", () => {
  expect(entryKey("separation", "s001", "signal_blue")).not.toBe(entryKey("background", "s001", "signal_blue"));
  expect(entryKey("a", "b/c", "d")).not.toBe(entryKey("a/b", "c", "d"));
});
