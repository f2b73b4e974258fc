import { strToU8, zipSync } from "fflate";

const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

/** The parts of a small workbook with one sheet, its rows as XML. */
export function partsOf(rows: string, more: Readonly<Record<string, string>> = {}): Record<string, string> {
  return {
    "_rels/.rels": `<Relationships><Relationship Id="r1" Type="${OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    "xl/workbook.xml": `<workbook xmlns:r="${OFFICE}"><sheets><sheet name="one" sheetId="1" r:id="r1"/></sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="r1" Type="${OFFICE}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="r2" Type="${OFFICE}/sharedStrings" Target="/xl/sharedStrings.xml"/><Relationship Id="r3" Type="${OFFICE}/styles" Target="./styles.xml"/></Relationships>`,
    "xl/sharedStrings.xml":
      "<sst><si><t>plain</t></si><si><r><t>ri</t></r><r><t>ch</t></r><rPh><t>x</t></rPh></si></sst>",
    "xl/styles.xml":
      '<styleSheet><numFmts><numFmt numFmtId="164" formatCode="0.000"/></numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="14"/></cellXfs></styleSheet>',
    "xl/worksheets/sheet1.xml": `<worksheet><sheetData>${rows}</sheetData></worksheet>`,
    ...more,
  };
}

/** Parts as the bytes of an archive. */
export function packed(parts: Readonly<Record<string, string>>): Uint8Array {
  return zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])));
}
