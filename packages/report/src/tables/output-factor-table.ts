import {
  type Campaign,
  type Evaluation,
  interpret,
  type OutputFactorReading,
  type Quantities,
  quantitiesById,
} from "@alcedo-dosimetry/campaign";
import { numberField, type ResultTable, textField } from "./result-table.ts";

/** One field per row, in the order of the readings: sizes, output factor, and what entered it. */
export function outputFactorsTable(campaign: Campaign, { result }: Evaluation): ResultTable {
  const quantities = quantitiesById(result);
  return {
    name: "output-factors",
    title: "Field output factors",
    fields: [
      textField("condition", "the field"),
      textField("role", "reference or field"),
      textField("shape", "rectangle or circle"),
      numberField("x_mm", "nominal width along x, or diameter", "mm"),
      numberField("y_mm", "nominal width along y, or diameter", "mm"),
      numberField("fwhm_x_mm", "measured width along x", "mm"),
      numberField("fwhm_y_mm", "measured width along y", "mm"),
      numberField("equivalent_square_mm", "equivalent square small field size", "mm"),
      numberField("output_factor", "field output factor Ω; the reference has 1"),
      numberField("u", "standard uncertainty of Ω"),
      numberField("k", "coverage factor for 95 %"),
      numberField("U", "expanded uncertainty of Ω"),
      numberField("dof", "effective degrees of freedom; empty for infinite or unknown"),
      numberField("k_volume", "volume-averaging correction of that field alone"),
      numberField("k_positioning", "positioning correction of that field alone"),
      numberField("signal", "mean corrected signal of a reading, not normalised"),
      numberField("dose_Gy", "mean dose of a reading", "Gy"),
      numberField("stem_load", "stem light over scintillation light"),
    ],
    rows: fieldsOf(campaign, quantities).map((field) => row(field, quantities)),
  };
}

/** One reading of each condition that has an output factor or is the reference. */
function fieldsOf(campaign: Campaign, quantities: Quantities): readonly OutputFactorReading[] {
  const readings = interpret(campaign).series["output-factors"]?.readings ?? [];
  const first = new Map<string, OutputFactorReading>();
  for (const reading of readings) if (!first.has(reading.condition)) first.set(reading.condition, reading);
  const hasResult = [...quantities.keys()].some((id) => id.startsWith("output-factor."));
  return hasResult ? [...first.values()] : [];
}

function row(field: OutputFactorReading, quantities: Quantities) {
  const { condition, role, shape, x_mm, y_mm, diameter_mm, fwhm_x_mm, fwhm_y_mm } = field;
  const value = (id: string) => quantities.get(id)?.value ?? null;
  const factor = quantities.get(`output-factor.${condition}`);
  return [
    condition,
    role,
    shape,
    x_mm ?? diameter_mm ?? null,
    y_mm ?? diameter_mm ?? null,
    fwhm_x_mm ?? null,
    fwhm_y_mm ?? null,
    value(`equivalent-square.${condition}`),
    factor?.value ?? (role === "reference" ? 1 : null),
    factor?.u ?? null,
    factor?.k ?? null,
    factor?.U ?? null,
    factor?.dof ?? null,
    value(`volume-averaging.${condition}`),
    value(`positioning.${condition}`),
    value(`signal.output-factors.${condition}`),
    value(`dose.output-factors.${condition}`),
    value(`stem-load.output-factors.${condition}`),
  ];
}
