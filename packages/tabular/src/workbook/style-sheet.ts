import type { CellStyle } from "./written-workbook.ts";
import { xmlText } from "./xml-text.ts";

/** Collects the styles of a workbook's cells and gives each its number. */
export interface StyleSheet {
  /** The number of a style; `quoted` marks a text as one even when somebody edits it. */
  indexOf(style: CellStyle, quoted?: boolean): number;
  /** The part `styles.xml`. */
  xml(): string;
}

/** Number formats of our own have numbers from here on (ECMA-376 part 1, 18.8.30). */
const FIRST_FORMAT = 164;
const FONTS = ["", "<b/>", "<i/>", '<b/><sz val="14"/>'] as const;
const INK = "FF1F2328";
const GREY = "FF5F666D";
const HEADER_FILL = "FFE9E4D8";
const WARNING_FILL = "FFFCEFC7";

/** A sheet of styles with the plain one at 0. */
export function styleSheet(): StyleSheet {
  const formats: string[] = [];
  const cells: string[] = [cellXml({}, false, formats)];
  return {
    indexOf(style, quoted = false) {
      const xml = cellXml(style, quoted, formats);
      const known = cells.indexOf(xml);
      return known >= 0 ? known : cells.push(xml) - 1;
    },
    xml: () =>
      [
        '<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">',
        formats.length === 0
          ? ""
          : `<numFmts count="${formats.length}">${formats
              .map((code, i) => `<numFmt numFmtId="${FIRST_FORMAT + i}" formatCode="${xmlText(code)}"/>`)
              .join("")}</numFmts>`,
        `<fonts count="${FONTS.length}">${FONTS.map(fontXml).join("")}</fonts>`,
        '<fills count="4"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>',
        ...[HEADER_FILL, WARNING_FILL].map(
          (colour) =>
            `<fill><patternFill patternType="solid"><fgColor rgb="${colour}"/><bgColor indexed="64"/></patternFill></fill>`,
        ),
        "</fills>",
        '<borders count="2"><border><left/><right/><top/><bottom/><diagonal/></border>',
        `<border><left/><right/><top/><bottom style="thin"><color rgb="${GREY}"/></bottom><diagonal/></border></borders>`,
        '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" applyAlignment="1"><alignment vertical="top"/></xf></cellStyleXfs>',
        `<cellXfs count="${cells.length}">${cells.join("")}</cellXfs>`,
        '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>',
        "</styleSheet>",
      ].join(""),
  };
}

function fontXml(face: (typeof FONTS)[number], index: number): string {
  const size = face.includes("<sz") ? "" : '<sz val="11"/>';
  return `<font>${face}${size}<color rgb="${index === 2 ? GREY : INK}"/><name val="Calibri"/><family val="2"/></font>`;
}

function cellXml(style: CellStyle, quoted: boolean, formats: string[]): string {
  const format = formatNumber(style.format, formats);
  const font = style.title ? 3 : style.quiet ? 2 : style.bold || style.header ? 1 : 0;
  const fill = style.warning ? 3 : style.header ? 2 : 0;
  const border = style.header ? 1 : 0;
  const alignment = [
    style.align === undefined ? "" : ` horizontal="${style.align}"`,
    ' vertical="top"',
    style.wrap ? ' wrapText="1"' : "",
  ].join("");
  return [
    `<xf numFmtId="${format}" fontId="${font}" fillId="${fill}" borderId="${border}" xfId="0"`,
    quoted ? ' quotePrefix="1"' : "",
    format === 0 ? "" : ' applyNumberFormat="1"',
    font === 0 ? "" : ' applyFont="1"',
    fill === 0 ? "" : ' applyFill="1"',
    border === 0 ? "" : ' applyBorder="1"',
    ` applyAlignment="1"><alignment${alignment}/></xf>`,
  ].join("");
}

function formatNumber(code: string | undefined, formats: string[]): number {
  if (code === undefined) return 0;
  if (code === "@") return 49;
  const known = formats.indexOf(code);
  return FIRST_FORMAT + (known >= 0 ? known : formats.push(code) - 1);
}
