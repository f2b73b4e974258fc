import { evaluate, visitsOf } from "@alcedo-dosimetry/campaign";
import { simulate, standardLaboratory, withMistake, withRepeats } from "@alcedo-dosimetry/simulator";
import { describe, expect, test } from "vitest";
import { isOpen, lineAt, openingLine, runSheet, visitState } from "./run-sheet.ts";

const made = (repeats: number, spoilt = false) => {
  const laboratory = withRepeats(standardLaboratory(), repeats);
  const { campaign, truth } = simulate(spoilt ? withMistake(laboratory, "outlier", 8) : laboratory, 4);
  return { visits: visitsOf(campaign, evaluate(campaign)), truth };
};
const { visits } = made(5);
const run = runSheet(visits);
const CHANNELS = ["blue", "green"];

describe("the run sheet", () => {
  test("has a line for each visit, the reference as often as it was come back to", () => {
    expect(run).toHaveLength(visits.length);
    expect(run.filter(({ condition }) => condition === "100x100").map(({ id }) => id)).toEqual([
      "output-factors/100x100/1",
      "output-factors/100x100/2",
      "output-factors/100x100/3",
    ]);
  });

  test("counts what counts, and says what is enough: five readings of a clean run are", () => {
    expect(run.every(({ count }) => count === 5)).toBe(true);
    expect(run.every(({ enough }) => enough.enough)).toBe(true);
  });

  test("two readings are enough nowhere; with the beam off it takes five", () => {
    const short = runSheet(made(2).visits);
    expect(short.some(({ enough }) => enough.enough)).toBe(false);
    expect(short[0]!.enough.more).toBe(3);
  });
});

describe("the console opens", () => {
  test("at the first condition that has not enough readings", () => {
    expect(openingLine(runSheet(made(2).visits))!.condition).toBe("before");
  });

  test("at the last one where all have, and nowhere where nothing is planned", () => {
    expect(openingLine(run)).toBe(run.at(-1));
    expect(openingLine([])).toBeUndefined();
  });
});

describe("what a visit says", () => {
  test("is silent about readings that fit", () => {
    for (const line of run) expect(visitState(visits, line, CHANNELS).misfits.size, line.id).toBe(0);
  });

  test("names the reading that does not", () => {
    const spoilt = made(5, true);
    const place = spoilt.truth.mistakes[0]!.places[0]!;
    const found = runSheet(spoilt.visits).flatMap((line) => [
      ...visitState(spoilt.visits, line, CHANNELS).misfits.keys(),
    ]);
    expect(
      found.some(
        (id) =>
          spoilt.visits.find(({ readings }) => readings.some((one) => one.id === id))!.condition === place.condition,
      ),
    ).toBe(true);
  });

  test("has nothing to say of a visit that has not begun", () => {
    const { line } = lineAt(run, { series: "output-factors", condition: "cone-4" });
    expect(visitState(visits, line, CHANNELS)).toMatchObject({ statistics: [], misfits: new Map() });
  });
});

describe("a visit goes on", () => {
  test("only at the end of its table; in another one the next reading begins a visit anew", () => {
    const open = run.filter((line) => isOpen(run, line)).map(({ id }) => id);
    expect(open).toEqual([
      "background/after/1",
      "separation/longest/1",
      "calibration/reference/1",
      "output-factors/100x100/3",
    ]);
  });
});

describe("the next reading of a condition", () => {
  test("goes on with its visit where that stands at the end of the table", () => {
    const { run: same, line } = lineAt(run, { series: "output-factors", condition: "100x100" });
    expect(line.id).toBe("output-factors/100x100/3");
    expect(same).toBe(run);
  });

  test("begins another visit where others were read since, behind those of its series", () => {
    const { run: more, line } = lineAt(run, { series: "separation", condition: "short" });
    expect(line).toMatchObject({ id: "separation/short/2", count: 0, readings: [] });
    expect(more.findIndex(({ id }) => id === line.id)).toBe(
      run.findLastIndex(({ series }) => series === "separation") + 1,
    );
  });

  test("of a series without readings stands at the end", () => {
    const { run: more, line } = lineAt([], { series: "background", condition: "before" });
    expect(more).toEqual([line]);
  });
});
