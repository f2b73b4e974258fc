import {
  ABSENT,
  type Campaign,
  type Evaluation,
  interpret,
  largestContribution,
  numberText,
  type Quantity,
  quantitiesById,
  significant,
} from "@alcedo-dosimetry/campaign";
import type { Page } from "./page.ts";
import { layTable, type TableLayout } from "./table.ts";

/** The fields with their output factors: size, Ω, U, what contributes most; dose and stem load where there is room. */
export function outputFactorTable(
  campaign: Campaign,
  { result }: Evaluation,
  { width, ink }: Omit<Page, "print">,
): TableLayout | undefined {
  const readings = interpret(campaign).series["output-factors"]?.readings ?? [];
  const quantities = quantitiesById(result);
  if (![...quantities.keys()].some((id) => id.startsWith("output-factor."))) return undefined;
  const conditions = [...new Map(readings.map((reading) => [reading.condition, reading])).values()];
  const rows = conditions.map(({ condition, role, fwhm_x_mm, fwhm_y_mm }) => {
    const factor = quantities.get(`output-factor.${condition}`);
    const most = factor && largestContribution(factor);
    const square = quantities.get(`equivalent-square.${condition}`);
    return [
      condition,
      fwhm_x_mm === undefined || fwhm_y_mm === undefined ? ABSENT : `${fwhm_x_mm.toFixed(1)}×${fwhm_y_mm.toFixed(1)}`,
      square ? square.value.toFixed(1) : ABSENT,
      role === "reference" ? "1 (ref.)" : numberText(factor),
      ...expanded(factor),
      most ? `${most.name} ${most.share}` : ABSENT,
      numberText(quantities.get(`dose.output-factors.${condition}`)),
      numberText(quantities.get(`stem-load.output-factors.${condition}`)),
    ];
  });
  const right = { align: "right" as const };
  const columns = [
    { head: "field" },
    { head: "FWHM mm", ...right },
    { head: "S mm", ...right },
    { head: "Ω", ...right, ink: ink.bold },
    { head: "U", ...right },
    { head: "U %", ...right },
    { head: "most from", flexible: true, least: 24 },
    { head: "dose Gy", ...right, optional: true },
    { head: "stem load", ...right, optional: true },
  ];
  return layTable(columns, rows, width, ink.dim);
}

/** U, and U in per cent of the value. */
function expanded(factor: Quantity | undefined): [string, string] {
  if (!factor || factor.U === null) return [ABSENT, ABSENT];
  return [significant(factor.U, 2), significant((100 * factor.U) / factor.value, 2)];
}
