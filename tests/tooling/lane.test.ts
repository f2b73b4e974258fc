import { describe, expect, test } from "vitest";
import { countVitest, runLane, tallyLine } from "../../scripts/lane.mjs";

describe("the tally", () => {
  const clean = { passed: 7, failed: 0, outside: 0, skipped: [], unexplained: [] };

  test("a clean run counts its tests", () => {
    expect(countVitest({ ...clean, skipped: ["a: no browser"] }, 0)).toEqual({
      passed: 7,
      failed: 0,
      skipped: ["a: no browser"],
    });
  });

  test("errors outside a test are failures too, and so is a skip without a reason", () => {
    expect(countVitest({ ...clean, failed: 1, outside: 2 }, 1).failed).toBe(3);
    expect(countVitest({ ...clean, unexplained: ["a"] }, 0).failed).toBe(1);
  });

  test("a run that ends badly never counts as clean, whatever its tally says", () => {
    expect(countVitest(clean, 1).failed).toBe(1);
    expect(countVitest(undefined, 1)).toEqual({ passed: 0, failed: 1, skipped: [] });
  });

  test("a run that executed nothing is a failure", () => {
    expect(countVitest({ ...clean, passed: 0 }, 0).failed).toBe(1);
    expect(countVitest(undefined, 0).failed).toBe(1);
  });

  test("the closing line adds the steps up and names skipped tests only where there are some", () => {
    const types = { name: "types", passed: 1, failed: 0, skipped: [] };
    const unit = { name: "unit", passed: 12, failed: 2, skipped: [] };
    expect(tallyLine([types, unit])).toBe("13 passed, 2 failed");
    expect(tallyLine([types, { ...unit, skipped: ["a", "b"] }])).toBe("13 passed, 2 failed, 2 skipped");
  });
});

describe("a lane", () => {
  test("goes on after a failing step and counts it", async () => {
    const printed: string[] = [];
    const outcomes = await runLane(
      [
        { name: "throws", work: () => Promise.reject(new Error("no build")) },
        { name: "ends badly", command: ["-e", "console.error('line 3 is wrong'); process.exit(3)"] },
        { name: "good", command: ["-e", "console.log('chatter')"] },
      ],
      (text: string) => printed.push(text),
    );
    expect(outcomes.map(({ passed, failed }) => [passed, failed])).toEqual([
      [0, 1],
      [0, 1],
      [1, 0],
    ]);
    expect(printed[0]).toMatch(/^FAILED throws: .* s\nError: no build/);
    expect(printed[1]).toMatch(/^FAILED ends badly: .* s\nline 3 is wrong/);
    expect(printed[2]).toMatch(/^ok {4} good: [\d.]+ s$/);
  });
});
