import {
  ABSENT,
  type LinearVerdict,
  numberText,
  type Quantity,
  type Result,
  significant,
} from "@alcedo-dosimetry/campaign";
import type { Page } from "./page.ts";
import { layTable, type TableLayout } from "./table.ts";

/** The figures that a campaign is made for: all others are in the JSON. */
const MAIN = /^(separation\.(stem-ratio|weight\.)|(separation|calibration)\.coefficient$|output-factor\.)/;

const VERDICTS: Readonly<Record<LinearVerdict, string>> = {
  validated: "● holds",
  undecided: "○ open",
  "not-validated": "✕ interval",
};

/** The main figures with U beside the interval of the trials. */
export function monteCarloTable({ quantities }: Result, { width, ink }: Omit<Page, "print">): TableLayout | undefined {
  const rows = quantities
    .filter(({ id, interval95 }) => MAIN.test(id) && interval95 !== undefined)
    .map((quantity) => [
      quantity.id,
      numberText(quantity),
      quantity.U === null ? ABSENT : `±${significant(quantity.U, 2)}`,
      ...ends(quantity),
      quantity.linear ? VERDICTS[quantity.linear] : ABSENT,
    ]);
  if (rows.length === 0) return undefined;
  const right = { align: "right" as const };
  const columns = [
    { head: "quantity" },
    { head: "value", ...right },
    { head: "U", ...right },
    { head: "95 % from", ...right, ink: ink.bold },
    { head: "to", ...right, ink: ink.bold },
    { head: "value ± U", flexible: true },
  ];
  return layTable(columns, rows, width, ink.dim);
}

/** Both ends to the second digit of u, and one more. */
function ends({ interval95, u }: Quantity): [string, string] {
  if (!interval95) return [ABSENT, ABSENT];
  const [, exponent] = (u ?? 0).toExponential().split("e");
  const decimals = Math.min(15, Math.max(0, 2 - Number(exponent)));
  const [low, high] = interval95.map((end) => end.toFixed(decimals).replace("-", "−"));
  return [low!, high!];
}
