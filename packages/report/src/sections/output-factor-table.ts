import {
  ABSENT,
  largestContribution,
  numberText,
  type OutputFactorReading,
  plain,
  type Quantity,
  significant,
} from "@alcedo-dosimetry/campaign";
import type { Row, TableBlock } from "../document/document.ts";
import type { Material } from "./section-material.ts";

/** One field of the output-factor series, as its rows describe it. */
export interface Field {
  readonly condition: string;
  readonly role: "reference" | "field";
  readonly reading: OutputFactorReading;
  readonly count: number;
}

/** The fields in the order in which they were first read. */
export function fieldsOf({ interpretation }: Material): readonly Field[] {
  const readings = interpretation.series["output-factors"]?.readings ?? [];
  const first = new Map<string, Field>();
  for (const reading of readings) {
    const { condition, role } = reading;
    const known = first.get(condition);
    first.set(condition, known ? { ...known, count: known.count + 1 } : { condition, role, reading, count: 1 });
  }
  return [...first.values()];
}

/** The nominal field: `20×16`, `⌀ 12.5`. */
export function nominalSize({ shape, x_mm, y_mm, diameter_mm }: OutputFactorReading): string {
  if (shape === "circle") return diameter_mm === undefined ? ABSENT : `⌀ ${plain(diameter_mm)}`;
  return x_mm === undefined || y_mm === undefined ? ABSENT : `${plain(x_mm)}×${plain(y_mm)}`;
}

/** The measured widths at depth: `20.0×16.1`. */
export function measuredSize({ fwhm_x_mm, fwhm_y_mm }: OutputFactorReading): string {
  return fwhm_x_mm === undefined || fwhm_y_mm === undefined
    ? ABSENT
    : `${fwhm_x_mm.toFixed(1)}×${fwhm_y_mm.toFixed(1)}`;
}

/** The field output factors; undefined where there are none. */
export function outputFactorTable(material: Material): TableBlock | undefined {
  const { quantities } = material;
  const fields = fieldsOf(material);
  if (!fields.some(({ condition }) => quantities.has(`output-factor.${condition}`))) return undefined;
  const rows = fields.map(({ condition, role, reading, count }): Row => {
    const factor = quantities.get(`output-factor.${condition}`);
    const square = quantities.get(`equivalent-square.${condition}`);
    const most = factor && largestContribution(factor);
    return {
      cells: [
        condition,
        nominalSize(reading),
        measuredSize(reading),
        square ? square.value.toFixed(1) : ABSENT,
        role === "reference" ? "1" : [{ text: numberText(factor), tone: "strong" }],
        ...expandedCells(factor),
        `${count}`,
        role === "reference" ? "the reference, by definition" : most ? `${most.name} ${most.share}` : ABSENT,
      ],
      ...(role === "reference" && { tone: "reference" as const }),
    };
  });
  return {
    kind: "table",
    caption: "Field output factors",
    columns: [
      { head: "field", kind: "code" },
      { head: "nominal mm", kind: "number" },
      { head: "FWHM mm", kind: "number" },
      { head: "S mm", kind: "number" },
      { head: "Ω", kind: "number" },
      { head: "U", kind: "number" },
      { head: "U %", kind: "number" },
      { head: "k", kind: "number" },
      { head: "n", kind: "number" },
      { head: "most from", kind: "text" },
    ],
    rows,
    legend:
      "S: equivalent square small field size. FWHM: measured widths at depth, along x and y. n: readings that count. Most from: the largest part of u², and its share.",
  };
}

/** U, U in per cent of the value, and k. */
function expandedCells(factor: Quantity | undefined): [string, string, string] {
  if (!factor || factor.U === null || factor.k === null) return [ABSENT, ABSENT, ABSENT];
  return [significant(factor.U, 2), significant((100 * factor.U) / factor.value, 2), factor.k.toFixed(2)];
}
