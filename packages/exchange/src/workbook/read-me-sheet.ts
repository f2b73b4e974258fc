import { columnsOf, type Outline } from "@alcedo-dosimetry/campaign";
import type { WrittenCell, WrittenSheet } from "@alcedo-dosimetry/tabular/workbook";

const GENERAL = [
  "The sheet campaign says what was used: one key per row; an empty value means that nothing is stated.",
  "Each other sheet holds one series, one row per reading. Columns may be in any order, and more may be added from the list below.",
  "A unit that differs from the one below is written in the header, in brackets: dose (cGy), x (cm), signal blue (pC). It is converted with a notice.",
  "Write times as texts with the offset from UTC (2026-03-14T09:26:53+01:00), or as dates under the header time (+01:00).",
  "Nothing is ever deleted: give the reason in the column exclude, and a reading is left out.",
];

/** The sheet for people: what to do, and every column that a series may have. */
export function readMeSheet({ channels, resources }: Outline, introduction: readonly string[]): WrittenSheet {
  const paragraph = (value: string): WrittenCell[] => [value];
  const header = ["sheet", "column", "unit", "needed", "meaning"].map(
    (value): WrittenCell => ({ value, style: { header: true } }),
  );
  const columns = resources.flatMap(({ series }) =>
    columnsOf(series, channels).map(({ name, unit, needed, meaning, choices }): WrittenCell[] => [
      series,
      { value: name, style: { bold: true } },
      unit ?? "",
      needed === "always" ? "yes" : needed === "with-background" ? "with background" : "",
      { value: choices ? `${choices.join(" or ")}: ${meaning}` : meaning, style: { wrap: true } },
    ]),
  );
  return {
    name: "read me",
    rows: [
      [{ value: "How to fill in this workbook", style: { title: true } }],
      ...introduction.map(paragraph),
      ...GENERAL.map(paragraph),
      [],
      header,
      ...columns,
    ],
    columns: [{ width: 16 }, { width: 22 }, { width: 8 }, { width: 17 }, { width: 90 }],
    landscape: true,
  };
}
