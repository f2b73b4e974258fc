import { toUtf8 } from "../text-codec.ts";
import { packZip } from "./pack-zip.ts";
import { sheetXml } from "./sheet-xml.ts";
import { styleSheet } from "./style-sheet.ts";
import type { WrittenSheet } from "./written-workbook.ts";
import { xmlText } from "./xml-text.ts";

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/** Names of sheets have at most so many characters. */
export const SHEET_NAME_LIMIT = 31;

/**
 * Writes a workbook (Office Open XML, ECMA-376, `.xlsx`). The same sheets give the same bytes. Texts are stored as texts, so that
 * none becomes a formula; formulas are those that the sheets state, each with its value beside it, and programs are told to
 * compute all of them on opening.
 *
 * Our own writer over a library's deflate: it is a few strings, it has no clock, and formulas keep their stored values.
 *
 * @throws Error for a text that a cell cannot hold, a number that is not finite, a sheet's name that cannot be one
 */
export function writeWorkbook(sheets: readonly WrittenSheet[]): Uint8Array {
  checkNames(sheets.map(({ name }) => name));
  const styles = styleSheet();
  const contents = sheets.map((sheet, i) => sheetXml(sheet, styles, i === 0));
  const numbers = sheets.map((_, i) => i + 1);
  const parts: Record<string, string> = {
    "[Content_Types].xml": [
      `<Types xmlns="${PACKAGE}/content-types">`,
      '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>',
      '<Default Extension="xml" ContentType="application/xml"/>',
      `<Override PartName="/xl/workbook.xml" ContentType="${TYPES}.sheet.main+xml"/>`,
      `<Override PartName="/xl/styles.xml" ContentType="${TYPES}.styles+xml"/>`,
      ...numbers.map((n) => `<Override PartName="/xl/worksheets/sheet${n}.xml" ContentType="${TYPES}.worksheet+xml"/>`),
      "</Types>",
    ].join(""),
    "_rels/.rels": relations([["officeDocument", "xl/workbook.xml"]]),
    "xl/workbook.xml": [
      `<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}"><bookViews><workbookView/></bookViews><sheets>`,
      ...sheets.map(({ name }, i) => `<sheet name="${xmlText(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`),
      '</sheets><calcPr calcId="191029" fullCalcOnLoad="1"/></workbook>',
    ].join(""),
    "xl/_rels/workbook.xml.rels": relations([
      ...numbers.map((n) => ["worksheet", `worksheets/sheet${n}.xml`] as const),
      ["styles", "styles.xml"],
    ]),
    "xl/styles.xml": styles.xml(),
    ...Object.fromEntries(contents.map((xml, i) => [`xl/worksheets/sheet${i + 1}.xml`, xml])),
  };
  return packZip(new Map(Object.entries(parts).map(([name, xml]) => [name, toUtf8(HEAD + xml)])));
}

function relations(targets: readonly (readonly [type: string, target: string])[]): string {
  const list = targets.map(
    ([type, target], i) => `<Relationship Id="rId${i + 1}" Type="${OFFICE}/${type}" Target="${target}"/>`,
  );
  return `<Relationships xmlns="${PACKAGE}/relationships">${list.join("")}</Relationships>`;
}

function checkNames(names: readonly string[]): void {
  const seen = new Set<string>();
  for (const name of names) {
    if (name === "" || name.length > SHEET_NAME_LIMIT || /[[\]:*?/\\]|^'|'$/.test(name))
      throw new Error(`no sheet can be called ${JSON.stringify(name)}`);
    if (seen.has(name.toLowerCase())) throw new Error(`two sheets are called ${name}`);
    seen.add(name.toLowerCase());
  }
  if (names.length === 0) throw new Error("a workbook has at least one sheet");
}
