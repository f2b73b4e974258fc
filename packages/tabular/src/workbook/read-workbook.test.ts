import { zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import writeExcelFile from "write-excel-file/node";
import { readWorkbook } from "./read-workbook.ts";
import { packed, partsOf } from "./testing/parts.ts";
import type { Cell } from "./workbook.ts";
import { WorkbookFault } from "./workbook-fault.ts";

const LIMITS = { rows: 100, columns: 50, unpacked: 10_000_000, sheets: 5 };
const read = (rows: string, more?: Readonly<Record<string, string>>) =>
  readWorkbook(packed(partsOf(rows, more)), LIMITS);
const cells = (rows: string) => read(rows).sheets[0]!.rows.map((row) => row.cells.map(({ content }) => content));
const refusal = (bytes: Uint8Array) => {
  try {
    readWorkbook(bytes, LIMITS);
  } catch (error) {
    if (error instanceof WorkbookFault) return `${error.kind}: ${error.message}`;
    throw error;
  }
  return "none";
};

test("a workbook that an independent library wrote is read as it was meant", async () => {
  const data = [
    [{ value: "name" }, { value: 1.25, format: "0.000" }, { value: true }],
    [null, { value: "=1+1 & <b>" }, { value: new Date("2026-03-14T09:26:53Z"), format: "yyyy-mm-dd hh:mm" }],
  ];
  const buffer = await writeExcelFile(data as never, { sheet: "mine" }).toBuffer();
  const { sheets } = readWorkbook(new Uint8Array(buffer), LIMITS);
  expect(sheets.map(({ name }) => name)).toEqual(["mine"]);
  const flat: Cell[] = sheets[0]!.rows.flatMap((row) => row.cells);
  expect(flat.map(({ column, content }) => [column, content])).toEqual([
    [0, { kind: "text", text: "name" }],
    [1, { kind: "number", text: "1.25" }],
    [2, { kind: "boolean", value: true }],
    [1, { kind: "text", text: "=1+1 & <b>" }],
    [2, { kind: "number", text: expect.stringMatching(/^46095\.39\d+$/) as string }],
  ]);
  expect(flat[1]!.format).toEqual({ shows: "number", decimals: 3 });
  expect(flat[4]!.format).toEqual({ shows: "date" });
});

describe("cells", () => {
  test("of every type are taken as they are stored, numbers by their shortest text", () => {
    const row = [
      '<c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="inlineStr"><is><t>in_x000D_</t></is></c>',
      '<c r="D1"><v>6.5000000000000002</v></c><c r="E1" t="b"><v>1</v></c><c r="F1" t="e"><v>#DIV/0!</v></c>',
      '<c r="G1" t="str"><f>A1</f><v>text</v></c><c r="H1"><f>1+1</f></c><c r="I1" t="d"><v>2026-01-01T00:00:00</v></c>',
      '<c r="J1" s="1"/><c r="K1" t="inlineStr"><is><t></t></is></c>',
    ].join("");
    const { rows } = read(`<row r="1">${row}</row>`).sheets[0]!;
    expect(rows[0]!.cells.map(({ content, formula }) => [content, formula])).toEqual([
      [{ kind: "text", text: "plain" }, false],
      [{ kind: "text", text: "rich" }, false],
      [{ kind: "text", text: "in\r" }, false],
      [{ kind: "number", text: "6.5" }, false],
      [{ kind: "boolean", value: true }, false],
      [{ kind: "error", text: "#DIV/0!" }, false],
      [{ kind: "text", text: "text" }, true],
      [{ kind: "uncomputed" }, true],
      [{ kind: "iso-date", text: "2026-01-01T00:00:00" }, false],
    ]);
  });

  test("without addresses follow one another, and rows without content are left out", () => {
    expect(cells("<row><c><v>1</v></c><c/><c><v>2</v></c></row><row/>")).toEqual([
      [
        { kind: "number", text: "1" },
        { kind: "number", text: "2" },
      ],
    ]);
    const { rows } = read('<row r="5"><c r="C5"><v>1</v></c></row>').sheets[0]!;
    expect([rows[0]!.number, rows[0]!.cells[0]!.column]).toEqual([5, 2]);
  });

  test("come with what surrounds them: formats, hidden rows and columns, merged ranges, the calendar", () => {
    const sheet = `<worksheet><cols><col min="2" max="3" hidden="1"/></cols><sheetData><row r="1" hidden="1"><c r="A1" s="2"><v>45000</v></c></row></sheetData><mergeCells><mergeCell ref="A1:B1"/></mergeCells></worksheet>`;
    const calendar = partsOf("")["xl/workbook.xml"]!.replace("<sheets>", '<workbookPr date1904="1"/><sheets>');
    const workbook = read("", { "xl/worksheets/sheet1.xml": sheet, "xl/workbook.xml": calendar });
    expect(workbook.from1904).toBe(true);
    expect(workbook.sheets[0]).toMatchObject({
      rows: [{ number: 1, hidden: true, cells: [{ format: { shows: "date" } }] }],
      hiddenColumns: [1, 2],
      merged: ["A1:B1"],
    });
  });

  test("beyond the limits are not kept, and it is said", () => {
    const many = Array.from({ length: 101 }, () => "<row><c><v>1</v></c></row>").join("");
    const long = read(many).sheets[0]!;
    expect([long.rows.length, long.beyond]).toEqual([100, "rows"]);
    const wide = read(`<row>${"<c><v>1</v></c>".repeat(51)}</row>`).sheets[0]!;
    expect([wide.rows[0]!.cells.length, wide.beyond]).toEqual([50, "columns"]);
  });
});

describe("refused, with the reason:", () => {
  const cfb = (text: string) =>
    Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, ...[...text].flatMap((c) => [c.charCodeAt(0), 0]));
  test.each<[string, Uint8Array, RegExp]>([
    ["no bytes", new Uint8Array(), /^not-a-workbook: it is empty/],
    ["another text", new TextEncoder().encode("reading,condition"), /^not-a-workbook: it is no workbook/],
    ["an archive of something else", zipSync({ a: Uint8Array.of(1) }), /^not-a-workbook: it is a zip archive/],
    ["the older format", cfb("Workbook"), /^other-format: .*older binary format/],
    ["a password", cfb("EncryptedPackage"), /^encrypted:/],
    [
      "another office format",
      zipSync({ mimetype: new TextEncoder().encode("application/vnd.oasis.opendocument.spreadsheet") }),
      /^other-format: .*\(spreadsheet\)/,
    ],
    ["macros", packed(partsOf("", { "xl/vbaProject.bin": "x" })), /^macros:/],
    [
      "a binary workbook",
      packed({ "_rels/.rels": partsOf("")["_rels/.rels"]!.replace("workbook.xml", "workbook.bin") }),
      /^other-format: .*workbook\.bin/,
    ],
    [
      "a document type",
      packed(partsOf("", { "xl/styles.xml": '<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>' })),
      /^damaged: .*document type/,
    ],
    ["XML that is cut off", packed(partsOf("<row>")), /^damaged: .*not well-formed/],
    [
      "bytes that are no UTF-8",
      zipSync({
        ...Object.fromEntries(Object.entries(partsOf("")).map(([n, t]) => [n, new TextEncoder().encode(t)])),
        "xl/styles.xml": Uint8Array.of(0x3c, 0xff),
      }),
      /^damaged: .*not valid UTF-8/,
    ],
    [
      "a shared text that is not there",
      packed(partsOf('<row><c t="s"><v>9</v></c></row>')),
      /^damaged: .*shared text 9/,
    ],
    ["a number that is none", packed(partsOf("<row><c><v>6,5</v></c></row>")), /^damaged: .*number 6,5/],
    ["a row that goes back", packed(partsOf('<row r="2"/><row r="2"/>')), /^damaged: .*row 2 is out of order/],
    [
      "a cell of another row",
      packed(partsOf('<row r="2"><c r="A3"><v>1</v></c></row>')),
      /^damaged: .*A3 is out of order/,
    ],
  ])("%s", (_, bytes, reason) => expect(refusal(bytes)).toMatch(reason));

  test("more sheets than are allowed", () => {
    const sheets = Array.from({ length: 6 }, (_, i) => `<sheet name="${i}" r:id="r1"/>`).join("");
    const workbook = partsOf("")["xl/workbook.xml"]!.replace(/<sheet [^>]*>/, sheets);
    expect(refusal(packed(partsOf("", { "xl/workbook.xml": workbook })))).toMatch(/^too-large: it has 6 sheets/);
  });
});
