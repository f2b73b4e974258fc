import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { interpret } from "./readings.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const HEADER = "reading,condition,signal_blue,signal_green,dose_Gy,dose_u_percent,exclude,note";

function calibration(...rows: string[]) {
  const campaign = sampleCampaign({
    background: null,
    separation: null,
    "output-factors": null,
    calibration: [HEADER, ...rows].join("\n"),
  });
  const { series, findings } = interpret(campaign);
  return { ...series.calibration!, findings };
}

describe("blank rows", () => {
  test("are skipped with one notice, and the others keep their numbers", () => {
    const { readings, findings } = calibration("c1,ref,6.5,3.5,1,1,,", ",,,,,,,", "c2,ref,6.5,3.5,1,1,,", " , ,,,,,,");
    expect(readings.map(({ id, row, line }) => [id, row, line])).toEqual([
      ["c1", 1, 2],
      ["c2", 3, 4],
    ]);
    expect(findings).toMatchObject([
      {
        code: "row-blank",
        message: "calibration.csv: 2 blank rows are skipped, the first at line 3.",
        facts: { blank: 2 },
      },
    ]);
  });
});

describe("an excluded reading", () => {
  test("may lack everything but its reason", () => {
    const { readings, excluded, findings } = calibration("c1,ref,6.5,3.5,1,1,,", ",,,,,,door open,");
    expect(readings).toHaveLength(1);
    expect(excluded).toEqual([{ row: 2, line: 3, exclude: "door open", signals: [undefined, undefined] }]);
    expect(findings).toEqual([]);
  });

  test("may hold anything: what can be read is given, what cannot is noticed", () => {
    const { excluded, findings } = calibration("c1,ref,6.5,3.5,1,1,,", "c2,Ref 2,6.4,OVL,-1,1,over range,see log");
    expect(excluded).toEqual([
      {
        id: "c2",
        row: 2,
        line: 3,
        condition: "ref-2",
        exclude: "over range",
        note: "see log",
        dose_u_percent: 1,
        signals: [6.4, undefined],
      },
    ]);
    expect(findings).toMatchObject([{ level: "notice", code: "excluded-unreadable" }]);
    expect(findings[0]?.message).toContain("(signal_green, dose_Gy)");
  });

  test("does not make its condition's name collide with another", () => {
    expect(calibration("c1,ref,6.5,3.5,1,1,,", "c2,REF,6.5,3.5,1,1,typing,").findings).toEqual([]);
  });

  test("still needs an id of its own", () => {
    const { findings } = calibration("c1,ref,6.5,3.5,1,1,,", "c1,ref,6.5,3.5,1,1,again,");
    expect(findings).toMatchObject([{ level: "error", code: "reading-duplicate", where: { row: 2 } }]);
  });

  test("alone makes a table empty", () => {
    expect(calibration("c1,ref,6.5,3.5,1,1,why,").findings).toMatchObject([
      { level: "error", code: "table-empty", message: "calibration.csv: every reading of the table is excluded." },
    ]);
  });
});

test("an id three times is two errors, each naming the first", () => {
  const { findings } = calibration("c1,ref,6.5,3.5,1,1,,", "c1,ref,6.5,3.5,1,1,,", " c1 ,ref,6.5,3.5,1,1,,");
  expect(findings.map(({ code, where, facts }) => [code, where?.row, facts?.["otherRow"]])).toEqual([
    ["reading-duplicate", 2, 1],
    ["reading-duplicate", 3, 1],
  ]);
});

const amount = fc.integer({ min: 1, max: 99_999 }).map((whole) => (whole / 1000).toFixed(3));
const rows = fc
  .array(fc.tuple(amount, amount, amount, fc.boolean()), { minLength: 2, maxLength: 8 })
  .map((list) =>
    list.map(
      ([blue, green, dose, out], i) => `c${i},ref,${blue},${green},${dose},1,${out && i > 0 ? "spike" : ""},n${i}`,
    ),
  );

test("readings in force and those left out are all the rows, each once, in the table's order", () => {
  fc.assert(
    fc.property(rows, (list) => {
      const { readings, excluded, findings } = calibration(...list);
      expect(findings).toEqual([]);
      const all = [...readings, ...excluded].map(({ row }) => row).sort((a, b) => a - b);
      expect(all).toEqual(list.map((_, i) => i + 1));
      for (const part of [readings, excluded]) {
        expect(part.map(({ row }) => row)).toEqual(part.map(({ row }) => row).sort((a, b) => a - b));
      }
    }),
  );
});

test("leaving a reading out gives the same readings as taking its row away, row numbers aside", () => {
  fc.assert(
    fc.property(rows, (list) => {
      const values = (kept: readonly string[]) =>
        calibration(...kept).readings.map(({ row: _r, line: _l, ...rest }) => rest);
      expect(values(list)).toEqual(values(list.filter((row) => !row.includes("spike"))));
    }),
  );
});
