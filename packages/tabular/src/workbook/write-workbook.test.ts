import fc from "fast-check";
import { unzipSync } from "fflate";
import readExcelFile from "read-excel-file/node";
import { describe, expect, test } from "vitest";
import { readWorkbook } from "./read-workbook.ts";
import { writeWorkbook } from "./write-workbook.ts";
import type { WrittenCell, WrittenSheet } from "./written-workbook.ts";

const LIMITS = { rows: 1000, columns: 50, unpacked: 10_000_000, sheets: 5 };
const sheet = (rows: readonly (readonly WrittenCell[])[], more: Partial<WrittenSheet> = {}): WrittenSheet => ({
  name: "one",
  rows,
  ...more,
});
const part = (bytes: Uint8Array, name: string) => new TextDecoder().decode(unzipSync(bytes)[name]);
const xml = (rows: readonly (readonly WrittenCell[])[], more?: Partial<WrittenSheet>) =>
  part(writeWorkbook([sheet(rows, more)]), "xl/worksheets/sheet1.xml");

test("an independent library reads what is written", async () => {
  const bytes = writeWorkbook([
    sheet([
      ["name", 1.25, true, null, "=1+1"],
      [{ value: 0.5, formula: "B1/2.5", style: { format: "0.0%" } }, '<b> & "q"'],
    ]),
    { name: "two & more", rows: [["x"]] },
  ]);
  const sheets = await readExcelFile(Buffer.from(bytes));
  expect(sheets.map(({ sheet: name }) => name)).toEqual(["one", "two & more"]);
  expect(sheets[0]!.data).toEqual([
    ["name", 1.25, true, null, "=1+1"],
    [0.5, '<b> & "q"', null, null, null],
  ]);
});

test("the same sheets give the same bytes, in whatever time zone", () => {
  const bytes = () => writeWorkbook([sheet([["a", 1, { value: 2, formula: "B1*2" }]])]);
  const first = bytes();
  const zone = process.env["TZ"];
  try {
    for (const name of ["Pacific/Kiritimati", "America/Los_Angeles"]) {
      process.env["TZ"] = name;
      expect(bytes()).toEqual(first);
    }
  } finally {
    if (zone === undefined) delete process.env["TZ"];
    else process.env["TZ"] = zone;
  }
});

describe("texts", () => {
  test.each(["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "=cmd|' /C calc'!A0", '=HYPERLINK("http://x")'])(
    "%j is stored as a text, marked so that it stays one when it is edited, and there is no formula",
    (text) => {
      const bytes = writeWorkbook([sheet([[text]])]);
      const [row] = readWorkbook(bytes, LIMITS).sheets[0]!.rows;
      expect(row!.cells[0]).toMatchObject({ content: { kind: "text", text }, formula: false });
      expect(part(bytes, "xl/worksheets/sheet1.xml")).not.toContain("<f>");
      expect(part(bytes, "xl/styles.xml")).toContain('quotePrefix="1"');
    },
  );

  test("of every kind come back whole: markup, right to left, very long words, control characters", () => {
    const any = fc.string({
      unit: fc.oneof(
        fc.constantFrom("<", "&", '"', "\u202e", "\r", "\n", "_x000D_", "\u0001", "א", "😀"),
        fc.string({ unit: "grapheme", minLength: 1, maxLength: 1 }),
      ),
      minLength: 1,
    });
    fc.assert(
      fc.property(fc.array(any, { minLength: 1, maxLength: 5 }), (texts) => {
        const [row] = readWorkbook(writeWorkbook([sheet([texts])]), LIMITS).sheets[0]!.rows;
        expect(row!.cells.map(({ content }) => content)).toEqual(texts.map((text) => ({ kind: "text", text })));
      }),
    );
    const long = "m".repeat(32_767);
    expect(readWorkbook(writeWorkbook([sheet([[long]])]), LIMITS).sheets[0]!.rows[0]!.cells[0]!.content).toEqual({
      kind: "text",
      text: long,
    });
  });
});

test("numbers come back to the last bit", () => {
  fc.assert(
    fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
      const { content } = readWorkbook(writeWorkbook([sheet([[value]])]), LIMITS).sheets[0]!.rows[0]!.cells[0]!;
      expect(content.kind === "number" && Number(content.text)).toBe(value === 0 ? 0 : value);
    }),
  );
});

test("formulas stand beside their values, and programs are told to compute them on opening", () => {
  expect(
    xml([
      [
        { value: 2, formula: "1+1" },
        { value: "a<b", formula: 'IF(1<2,"a<b","")' },
        { value: null, formula: '""' },
      ],
    ]),
  ).toContain(
    '<f>1+1</f><v>2</v></c><c r="B1" t="str"><f>IF(1&lt;2,&quot;a&lt;b&quot;,&quot;&quot;)</f><v>a&lt;b</v></c><c r="C1" t="str"><f>&quot;&quot;</f><v></v></c>',
  );
  expect(part(writeWorkbook([sheet([])]), "xl/workbook.xml")).toContain('fullCalcOnLoad="1"');
});

test("headers stay in view, filters and widths are set, wrapped rows are high enough", () => {
  const text = xml([["h"], [{ value: "word ".repeat(40), style: { wrap: true } }]], {
    frozen: { rows: 1, columns: 1 },
    filterRow: 1,
    columns: [{ width: 20 }],
  });
  expect(text).toContain('<pane xSplit="1" ySplit="1" topLeftCell="B2" activePane="bottomRight" state="frozen"/>');
  expect(text).toContain('<autoFilter ref="A1:A2"/>');
  expect(text).toContain('<col min="1" max="1" width="20" customWidth="1"/>');
  expect(text).toContain('<row r="2" ht="165" customHeight="1">');
});

describe("refused:", () => {
  test.each([
    ["", "no sheet can be called"],
    ["a".repeat(32), "no sheet can be called"],
    ["a/b", "no sheet can be called"],
    ["'a", "no sheet can be called"],
  ])("the sheet name %j", (name, message) => expect(() => writeWorkbook([{ name, rows: [] }])).toThrow(message));

  test("two sheets of one name, letter case aside; no sheet at all", () => {
    expect(() => writeWorkbook([sheet([]), { name: "ONE", rows: [] }])).toThrow("two sheets are called ONE");
    expect(() => writeWorkbook([])).toThrow("at least one sheet");
  });

  test("a number that is not finite, a text that no cell holds, half a character", () => {
    expect(() => writeWorkbook([sheet([[Number.NaN]])])).toThrow("A1 would hold NaN");
    expect(() => writeWorkbook([sheet([["m".repeat(32_768)]])])).toThrow("longer than a cell");
    expect(() => writeWorkbook([sheet([["\ud800"]])])).toThrow("lone surrogate");
  });
});
