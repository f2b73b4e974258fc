import { describe, expect, test } from "vitest";
import { layTable } from "./table.ts";

const plain = (text: string) => text;
const rows = [
  ["short", "10.4", "output correction", "5"],
  ["longest-name", "9.9", "repeats of the field", "12"],
];
const columns = [
  { head: "name" },
  { head: "nC", align: "right" as const },
  { head: "most from", flexible: true },
  { head: "n", align: "right" as const, optional: true },
];

describe("a table on the terminal", () => {
  test("lines up names left and numbers right", () => {
    expect(layTable(columns, rows, 80, plain)).toEqual({
      lines: [
        "name            nC  most from              n",
        "short         10.4  output correction      5",
        "longest-name   9.9  repeats of the field  12",
      ],
      leftOut: [],
    });
  });

  test("wraps the flexible column before anything else", () => {
    const { lines, leftOut } = layTable(columns, rows, 40, plain);
    expect(leftOut).toEqual([]);
    expect(lines).toEqual([
      "name            nC  most from          n",
      "short         10.4  output             5",
      "                    correction",
      "longest-name   9.9  repeats of the    12",
      "                    field",
    ]);
  });

  test("leaves optional columns out where there is no room, and says which", () => {
    const { lines, leftOut } = layTable(columns, rows, 36, plain);
    expect(leftOut).toEqual(["n"]);
    expect(lines[0]).toBe("name            nC  most from");
  });

  test("moves the columns together where nothing more can be left out", () => {
    const narrow = [{ head: "a" }, { head: "b" }];
    expect(layTable(narrow, [["12345", "67890"]], 11, plain).lines[1]).toBe("12345 67890");
    expect(layTable(narrow, [["12345", "67890"]], 12, plain).lines[1]).toBe("12345  67890");
  });

  test("colours finished cells, so that colour moves nothing", () => {
    const ink = (text: string) => `<${text}>`;
    expect(layTable([{ head: "blue", align: "right", ink }, { head: "x" }], [["1.5", "y"]], 80, plain).lines).toEqual([
      "blue  x",
      "< 1.5>  y",
    ]);
  });
});
