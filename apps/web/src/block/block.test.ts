import { columnsOf } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { type BlockRows, blockRows, inDecimal, numberedOn } from "./block-table.ts";
import { recall, remember } from "./mapping-memory.ts";
import { type Block, decimalOf, parseBlock } from "./parse-block.ts";
import { hasHeader, recognise } from "./recognise.ts";

const channels = ["blue", "green"];
const block = (text: string): Block => {
  const parsed = parseBlock(text);
  if ("fault" in parsed) throw new Error(parsed.fault);
  return parsed;
};

describe("a block from the clipboard", () => {
  test("is cells between tabs, rows between line breaks of any kind, without blank rows at its end", () => {
    expect(block("a\tb\r\n1\t2\r\n\r\n").cells).toEqual([
      ["a", "b"],
      ["1", "2"],
    ]);
    expect(block("a\tb\r1\t2").cells).toEqual(block("a\tb\n1\t2").cells);
  });

  test("keeps a cell in quotation marks together, tab and line break and all", () => {
    expect(block('note\tx\n"two\nlines\tand a tab ""quoted"""\t1').cells[1]).toEqual([
      'two\nlines\tand a tab "quoted"',
      "1",
    ]);
  });

  test("fills shorter rows up, and keeps a blank row between others", () => {
    expect(block("a\tb\tc\n1\n\n4\t5\t6").cells).toEqual([
      ["a", "b", "c"],
      ["1", "", ""],
      ["", "", ""],
      ["4", "5", "6"],
    ]);
  });

  test("may have semicolons, as files with decimal commas have", () => {
    expect(block("a;b\n1,5;2,5").cells[1]).toEqual(["1,5", "2,5"]);
  });

  test("with a quotation mark that is not closed says in which row", () => {
    expect(parseBlock('a\tb\n"1\t2')).toEqual({ fault: "Row 2: the quotation mark that opens here is not closed." });
  });

  test.each([
    ["1,5\t2,25", ","],
    ["1.5\t2.25", "."],
    ["1\t2", undefined],
    ["1,5\t2.25\t3,5", ","],
    ["-0,5e-3", ","],
    ["a, b", undefined],
  ])("%j has the decimal sign %j", (text, sign) =>
    expect(decimalOf({ cells: [text.split("\t")], width: 1 })).toBe(sign),
  );
});

describe("headers", () => {
  test("are recognised in any order, by name, with units, and by the words of the trade", () => {
    expect(
      recognise(
        ["Green (nC)", "temp [°C]", "signal_blue", "Cone", "MU", "Integration time / s", "Remarks", "unheard of"],
        "background",
        channels,
      ),
    ).toEqual(["signal_green", "temperature_C", "signal_blue", "condition", "mu", "duration_s", "note", null]);
  });

  test("are those of the series: a diameter is nothing to a background", () => {
    expect(recognise(["diameter", "FWHM x", "x_mm"], "output-factors", channels)).toEqual([
      "diameter_mm",
      "fwhm_x_mm",
      "x_mm",
    ]);
    expect(recognise(["diameter"], "background", channels)).toEqual([null]);
  });

  test("go into one column each: the exact name wins over a similar one before it", () => {
    expect(recognise(["Blue", "signal_blue"], "background", channels)).toEqual([null, "signal_blue"]);
  });

  test("are taken for what they were taken for before, leaving out included", () => {
    const stored = new Map<string, string>();
    const memory = {
      getItem: (key: string) => stored.get(key) ?? null,
      setItem: (key: string, text: string) => void stored.set(key, text),
    };
    remember("background", ["PMT 1", "Blue"], ["signal_blue", null], memory);
    const remembered = recall("background", memory);
    expect(recognise(["pmt_1", "BLUE"], "background", channels, remembered)).toEqual(["signal_blue", null]);
    expect(recall("separation", memory)).toEqual({});
    expect(recognise(["pmt 1"], "background", ["red", "green"], remembered)).toEqual([null]);
  });

  test("are forgotten where the storage holds something else", () => {
    for (const text of ["[", "3", '{"a":4}'])
      expect(recall("background", { getItem: () => text, setItem: () => undefined })).toEqual({});
  });

  test.each([
    ["reading\tcondition\n1\tbefore", true],
    ["Blue\tGreen\n1.5\t2.5", true],
    ["PMT one\tPMT two\n1,5\t2,5", true],
    ["1.5\t2.5\n1.6\t2.6", false],
    ["b001\t1.5\nb002\t1.6", false],
  ])("%j begins with one: %j", (text, expected) =>
    expect(hasHeader(block(text).cells, columnsOf("background", channels))).toBe(expected),
  );
});

describe("the rows of a block", () => {
  const table = {
    columns: ["reading", "condition", "signal_blue", "signal_green"],
    rows: [["b009", "before", "0.1", "0.2"]],
    decimal: "." as const,
  };

  test("go into the table's columns with its decimal sign; new columns stand behind, readings are numbered on", () => {
    const { added, rows }: BlockRows = blockRows(table, [["0,31", "0,12", "x", "1.234,5"]], {
      mapping: ["signal_green", "signal_blue", null, "note"],
      decimal: ",",
      constants: { condition: "after", duration_s: "30" },
    });
    expect(added).toEqual(["note", "duration_s"]);
    expect(rows).toEqual([["b010", "after", "0.12", "0.31", "1.234,5", "30"]]);
  });

  test("keep what the block says over what stands for all, and the block's own names of readings", () => {
    const { rows } = blockRows(
      table,
      [
        ["mine", "before"],
        ["", ""],
      ],
      {
        mapping: ["reading", "condition"],
        decimal: ".",
        constants: { condition: "after" },
      },
    );
    expect(rows.map((row) => row.slice(0, 2))).toEqual([
      ["mine", "before"],
      ["b010", "after"],
    ]);
  });

  test.each([
    ["1,5", ",", ".", "1.5"],
    ["1.5", ".", ",", "1,5"],
    ["1.5", ",", ".", "1.5"],
    ["cone-7,5", ",", ".", "cone-7,5"],
    ["1.234,5", ",", ".", "1.234,5"],
    ["12", ",", ".", "12"],
  ] as const)("%s out of a block with %s into a table with %s is %s", (cell, from, to, expected) =>
    expect(inDecimal(cell, from, to)).toBe(expected),
  );

  test("new readings are never called like old ones", () => {
    const next = numberedOn(new Set(["r002", "r001"]));
    expect([next(), next()]).toEqual(["r003", "r004"]);
    expect(numberedOn(new Set(["a", "b"]))()).toBe("r001");
    expect(numberedOn(new Set(["s9", "s10"]))()).toBe("s11");
  });
});
