import { applyEdits, evaluate, readDescriptor } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { blockEdits } from "../block/block-edits.ts";
import { asFarAsComplete } from "../engine/as-far-as-complete.ts";
import { channelsIn, emptyTable, tableEdits } from "../readings/new-table.ts";
import { guessed } from "./guess.ts";
import { CHAIN_SERIES, FIRST_DESCRIPTOR, nameFor, newCampaign } from "./new-campaign.ts";

const { alcedo } = FIRST_DESCRIPTOR;
const descriptor = {
  ...FIRST_DESCRIPTOR,
  alcedo: { ...alcedo, detector: { ...alcedo.detector, id: "F-1" }, beam: { ...alcedo.beam, id: "B-1" } },
};
const begun = newCampaign(descriptor, "Cones, bunker 3 (invented)", CHAIN_SERIES, ",");

describe("a campaign from scratch", () => {
  test("has an empty table for each series, with the columns that it needs and the person's decimal sign", () => {
    expect(begun.descriptor.name).toBe("cones-bunker-3-invented");
    expect(begun.descriptor.resources.map(({ name, path }) => [name, path])).toEqual(
      CHAIN_SERIES.map((series) => [series, `${series}.csv`]),
    );
    expect(Object.values(begun.tables).map(({ decimal, rows }) => [decimal, rows.length])).toEqual([
      ...[
        [",", 0],
        [",", 0],
        [",", 0],
        [",", 0],
      ],
    ]);
    expect(begun.tables["background"]!.columns).toEqual([
      ...["reading", "condition", "duration_s", "signal_blue", "signal_green"],
    ]);
    expect(begun.tables["output-factors"]!.columns).toContain("duration_s"); // there is a background
  });

  test("has nothing wrong with it but that nothing is measured", () => {
    expect(readDescriptor(begun.descriptor).findings.filter(({ level }) => level === "error")).toEqual([]);
    expect(new Set(evaluate(begun).result.findings.map(({ code }) => code))).toEqual(new Set(["table-empty"]));
    expect(asFarAsComplete(begun).findings).toEqual([]);
  });

  test("without a background asks for no integration time", () => {
    const { tables } = newCampaign(descriptor, "x", ["separation"], ".");
    expect(tables["separation"]!.columns).not.toContain("duration_s");
  });

  test.each([
    ["Cones, bunker 3", "cones-bunker-3"],
    ["  ", "campaign"],
    ["שדות", "campaign"],
    ["A".repeat(200), "a".repeat(80)],
  ])("called %j has the name %j", (title, name) => expect(nameFor(title)).toBe(name));
});

describe("a table that is added", () => {
  test("gets another name and another file where its own are taken", () => {
    const table = emptyTable("background", ["blue", "green"], { decimal: ".", withBackground: true });
    const { name, edits } = tableEdits(begun, "background", table);
    const after = applyEdits(begun, edits);
    expect(name).toBe("background-2");
    expect(after.descriptor.resources.at(-1)).toMatchObject({ name, path: "background-2.csv" });
    expect(after.tables[name]!.path).toBe("background-2.csv");
  });

  test("names its channels by its signal columns", () => {
    expect(channelsIn(["reading", "signal_red", " signal_blue "])).toEqual(["red", "blue"]);
  });
});

describe("the rows of a block", () => {
  test("go behind those of the table, new columns behind its columns, lines counted on", () => {
    const [edit] = blockEdits(begun, "background", { added: ["note"], rows: [["b1", "dark", "30", "1", "2", "x"]] });
    const { columns, rows, lines } = applyEdits(begun, [edit!]).tables["background"]!;
    expect([columns.at(-1), rows, lines]).toEqual(["note", [["b1", "dark", "30", "1", "2", "x"]], [2]]);
    const filled = applyEdits(begun, [edit!]);
    const more = applyEdits(
      filled,
      blockEdits(filled, "background", { added: [], rows: [["b2", "dark", "30", "1", "2", ""]] }),
    );
    expect(more.tables["background"]!.rows.map(([reading]) => reading)).toEqual(["b1", "b2"]);
  });
});

describe("what a header tells", () => {
  test.each([
    ["signal_red\tsignal_blue\trole\tdose group\n1,5\t2,5\tfit\ta", "separation", ["red", "blue"], ","],
    ["Blue\tGreen\tx_mm\ty_mm\n1.5\t2.5\t10\t10", "output-factors", ["blue", "green"], "."],
    ["Blue\tGreen\tdose_u_percent\tdose_Gy\n1\t2\t1\t1", "calibration", ["blue", "green"], "."],
    ["one\ttwo\n1\t2", "background", ["blue", "green"], "."],
    ['"open', "background", ["blue", "green"], "."],
  ])("of %j: %s", (text, series, channels, decimal) => expect(guessed(text)).toEqual({ series, channels, decimal }));
});
