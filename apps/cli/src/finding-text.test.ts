import { countInWords, type Finding } from "@alcedo-dosimetry/campaign";
import { describe, expect, test } from "vitest";
import { findingLines, findingsByFile } from "./finding-text.ts";
import { pageOn } from "./page.ts";

const { ink } = pageOn({ write: () => true }, {});
const finding = (more: Partial<Finding>): Finding => ({
  level: "error",
  code: "trial",
  message: "Something is wrong.",
  ...more,
});

describe("a finding as text", () => {
  test("says level, message, code, effect and remedy, in line", () => {
    expect(findingLines(finding({ effect: "No result is given.", remedy: "Mend it." }), 80, ink)).toEqual([
      "✕ error    Something is wrong. [trial]",
      "           Effect: No result is given.",
      "           Remedy: Mend it.",
    ]);
    expect(findingLines(finding({ level: "warning" }), 80, ink)[0]).toMatch(/^▲ warning {2}Something/);
    expect(findingLines(finding({ level: "notice" }), 80, ink)[0]).toMatch(/^· notice {3}Something/);
  });

  test("adds the place where the message does not name it", () => {
    const where = { file: "separation.csv", row: 4, line: 5, column: "role" };
    expect(findingLines(finding({ where }), 120, ink)[0]).toContain(
      "wrong. (separation.csv, row 4 (line 5), column role) [",
    );
    expect(findingLines(finding({ where, message: "separation.csv, row 4: wrong." }), 120, ink)[0]).not.toContain(
      "(line 5)",
    );
    const key = { file: "datapackage.json", key: "/alcedo/beam" };
    expect(findingLines(finding({ where: key }), 120, ink)[0]).toContain("(datapackage.json, key /alcedo/beam)");
    expect(findingLines(finding({ where: { series: "separation" } }), 120, ink)[0]).toContain("wrong. [trial]");
  });

  test("wraps behind its mark", () => {
    const lines = findingLines(finding({ message: "one two three four five six seven eight nine" }), 40, ink);
    expect(lines.length).toBeGreaterThan(1);
    for (const line of lines.slice(1)) expect(line).toMatch(/^ {11}\S/);
  });
});

describe("several findings", () => {
  test("are counted by level", () => {
    expect(countInWords([finding({}), finding({ level: "notice" }), finding({ level: "notice" })])).toBe(
      "1 error, 2 notices",
    );
    expect(countInWords([])).toBe("");
  });

  test("stand file by file, those of no file first", () => {
    const lines = findingsByFile(
      [
        finding({ where: { file: "b.csv" }, message: "b.csv: one." }),
        finding({ message: "none" }),
        finding({ where: { file: "a.csv" }, message: "a.csv: two." }),
        finding({ where: { file: "b.csv" }, message: "b.csv: three.", level: "warning" }),
      ],
      80,
      ink,
    );
    expect(lines).toEqual([
      "✕ error    none [trial]",
      "",
      "b.csv: 1 error, 1 warning",
      "✕ error    b.csv: one. [trial]",
      "▲ warning  b.csv: three. [trial]",
      "",
      "a.csv: 1 error",
      "✕ error    a.csv: two. [trial]",
    ]);
  });
});
