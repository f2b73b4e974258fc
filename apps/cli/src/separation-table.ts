import {
  ABSENT,
  type Campaign,
  concise,
  type Evaluation,
  inLine,
  interpret,
  netSignals,
  numberText,
  plain,
  type Quantity,
  quantitiesById,
  significant,
  verificationVerdict,
} from "@alcedo-dosimetry/campaign";
import { channelInk } from "./channel-ink.ts";
import type { Page } from "./page.ts";
import { layTable, type TableLayout } from "./table.ts";

/** The separation's conditions: role, net light, how far each leans on the stem ratio, and what became of those kept aside. */
export function separationTable(
  campaign: Campaign,
  evaluation: Evaluation,
  { width, ink }: Omit<Page, "print">,
): TableLayout | undefined {
  const { channels, series } = interpret(campaign);
  const readings = series.separation?.readings ?? [];
  if (readings.length === 0) return undefined;
  const quantities = quantitiesById(evaluation.result);
  const net = netSignals(evaluation, "separation", channels);
  const conditions = [...new Set(readings.map(({ condition }) => condition))];
  const groups = new Set(readings.map(({ doseGroup }) => doseGroup));
  const unit = campaign.descriptor.alcedo.detector.signalUnit;
  const light = channels.map((_, c) =>
    inLine(
      conditions.map((condition) => net(condition)[c]),
      6,
    ),
  );
  const rows = conditions.map((condition, i) => {
    const own = readings.filter((reading) => reading.condition === condition);
    const { role, fibre_mm, doseGroup } = own[0]!;
    return [
      condition,
      ...(groups.size > 1 ? [doseGroup] : []),
      role,
      ...light.map((column) => column[i]!),
      numberText(quantities.get(`stem-load.separation.${condition}`)),
      ...residual(role, quantities.get(`separation.verify.${condition}`)),
      verdict(role, condition, evaluation),
      `${own.length}`,
      fibre_mm === undefined ? ABSENT : plain(fibre_mm),
    ];
  });
  const columns = [
    { head: "condition" },
    ...(groups.size > 1 ? [{ head: "group" }] : []),
    { head: "role" },
    ...channels.map((channel) => ({
      head: `${channel} ${unit}`,
      align: "right" as const,
      ink: channelInk(channel, ink),
    })),
    { head: "stem load", align: "right" as const },
    { head: "off group %", align: "right" as const },
    { head: "U %", align: "right" as const },
    { head: "verdict" },
    { head: "n", align: "right" as const, optional: true },
    { head: "fibre mm", align: "right" as const, optional: true },
  ];
  return layTable(columns, rows, width, ink.dim);
}

/** How far a condition is off its group, and U of that, in per cent; nothing to say of those that the fit was made with. */
function residual(role: string, quantity: Quantity | undefined): [string, string] {
  if (role === "fit") return ["", ""];
  if (!quantity) return [ABSENT, ABSENT];
  const { value, u, U } = quantity;
  return [concise(100 * value, u === null ? null : 100 * u), U === null ? ABSENT : significant(100 * U, 2)];
}

/** What became of those that were kept aside, by shape and word. */
const VERDICTS = { fails: "✕ fails", open: "○ open", agrees: "● agrees", absent: ABSENT } as const;

function verdict(role: string, condition: string, evaluation: Evaluation): string {
  return role === "fit" ? "" : VERDICTS[verificationVerdict(evaluation, condition)];
}
