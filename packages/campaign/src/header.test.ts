import { describe, expect, test } from "vitest";
import { columnsOf } from "./columns.ts";
import { findingList } from "./finding-list.ts";
import { columnName, isNeeded, matchHeader } from "./header.ts";
import type { TableSeriesKind } from "./read-descriptor.ts";
import { sampleTable } from "./testing/sample-campaign.ts";

function match(series: TableSeriesKind, header: string, hasBackground = false) {
  const where = { series, file: `${series}.csv` };
  const findings = findingList(where);
  const columns = columnsOf(series, ["blue", "green"]);
  const table = sampleTable(where.file, header);
  const positions = matchHeader({ table, where, columns, hasBackground, findings });
  return {
    positions,
    findings: findings.all(),
    codes: findings.all().map(({ code, where: at }) => `${code} ${at?.column ?? "-"}`),
  };
}

const LEAST = "reading,condition,signal_blue,signal_green";

test("columns are found wherever they stand, blanks around their names aside", () => {
  const { positions, findings } = match("background", "signal_green, reading ,condition,signal_blue");
  expect(findings).toEqual([]);
  expect(Object.fromEntries(positions)).toEqual({ reading: 1, condition: 2, signal_blue: 3, signal_green: 0 });
});

describe("a needed column", () => {
  test("that is missing is named with what it should hold, in its unit", () => {
    const { findings } = match("calibration", `${LEAST},dose_u_percent`);
    expect(findings).toMatchObject([
      {
        code: "column-missing",
        message: "calibration.csv: the needed column dose_Gy is missing.",
        remedy: "Add the column dose_Gy: reference dose of this reading, in Gy.",
      },
    ]);
  });

  test("of every channel is a signal", () => {
    expect(match("background", "reading,condition").codes).toEqual([
      "column-missing signal_blue",
      "column-missing signal_green",
    ]);
  });

  test("is the integration time where there is a background series, and says why", () => {
    expect(match("background", LEAST, false).codes).toEqual([]);
    const { findings } = match("background", LEAST, true);
    expect(findings[0]?.message).toBe(
      "background.csv: the needed column duration_s is missing; it is needed because the campaign has a background series.",
    );
  });

  test.each([
    ["Reading,condition,signal_blue,signal_green", "reading"],
    ["reading,conditon,signal_blue,signal_green", "condition"],
    ["reading,condition,signal_bleu,signal_green", "signal_blue"],
    ["reading,condition,signal_blue,SIGNAL_GREEN", "signal_green"],
    ["reding,condition,signal_blue,signal_green", "reading"],
  ])("with a slip in its name (%s) is one error, not two", (header, meant) => {
    const { findings } = match("background", header);
    expect(findings).toMatchObject([
      { level: "error", code: "column-misspelt", remedy: `Rename the column to ${meant}.` },
    ]);
  });
});

describe("an unknown column", () => {
  test("is kept with a notice that names the nearest known one", () => {
    const { findings } = match("background", `${LEAST},temperature_K_x`);
    expect(findings).toMatchObject([{ level: "notice", code: "column-unknown", facts: { nearest: "temperature_C" } }]);
  });

  test("far from every known one gets no such name", () => {
    const { findings } = match("background", `${LEAST},humidity_percent`);
    expect(findings[0]?.message).toBe('background.csv: the column "humidity_percent" is unknown: kept, not evaluated.');
  });

  test.each(["exlude", "monitr", "temprature_C", "duraton_s", "Note"])(
    "%s, a slip of an optional one, is a warning: it changes what is evaluated",
    (name) => {
      expect(match("background", `${LEAST},${name}`).findings).toMatchObject([
        { level: "warning", code: "column-doubtful" },
      ]);
    },
  );

  test("near an optional one that is there is no slip of it", () => {
    expect(match("background", `${LEAST},note,notes`).codes).toEqual(["column-unknown notes"]);
  });

  test("of two or three letters is no slip of a short name", () => {
    expect(match("background", `${LEAST},mm`).codes).toEqual(["column-unknown mm"]);
  });

  test("of a channel that the detector lacks is an error that lists those it has", () => {
    const { findings } = match("background", `${LEAST},signal_infrared`);
    expect(findings).toMatchObject([{ level: "error", code: "channel-unknown" }]);
    expect(findings[0]?.remedy).toContain("signal_blue, signal_green");
  });

  test("that looks like a signal means nothing in a table without signals", () => {
    expect(match("reference-set", "condition,output_factor,u_percent,source,signal_blue").codes).toEqual([
      "column-unknown signal_blue",
    ]);
  });
});

test("two columns of one name, blanks aside, are one too many", () => {
  const { findings } = match("background", `${LEAST},note, note `);
  expect(findings).toMatchObject([
    { code: "column-duplicate", message: "background.csv: columns 5 and 6 are both called note." },
  ]);
});

test("two columns of one unknown name as well, since nobody could say which is meant", () => {
  expect(match("background", `${LEAST},serial,serial`).codes).toContain("column-duplicate serial");
});

test("a column without a name is an error at its position", () => {
  expect(match("background", `reading,,condition,signal_blue,signal_green`).findings[0]?.message).toBe(
    "background.csv: column 2 has no name.",
  );
});

test("a channel's name in a column is fitted, as long as it is a known channel", () => {
  const known = ["signal_blue", "signal_green"];
  expect(columnName(" signal_Blue ", known)).toBe("signal_blue");
  expect(columnName("signal_Red", known)).toBe("signal_Red");
  expect(columnName("Signal_blue", known)).toBe("Signal_blue");
});

test("what is needed depends on the background only where it says so", () => {
  const columns = columnsOf("separation", []);
  const needed = (hasBackground: boolean) =>
    columns.filter((column) => isNeeded(column, hasBackground)).map(({ name }) => name);
  expect(needed(false)).toEqual(["reading", "condition", "dose_group", "role"]);
  expect(needed(true)).toEqual(["reading", "condition", "duration_s", "dose_group", "role"]);
});
