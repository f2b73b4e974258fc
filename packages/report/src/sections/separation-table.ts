import {
  ABSENT,
  concise,
  inLine,
  netSignals,
  numberText,
  plain,
  type Quantity,
  significant,
  verificationVerdict,
} from "@alcedo-dosimetry/campaign";
import type { TableBlock } from "../document/document.ts";
import { user } from "../document/text.ts";
import { channelPlace } from "./channel-place.ts";
import type { Material } from "./section-material.ts";

const VERDICTS = { fails: "✕ fails", open: "○ open", agrees: "● agrees", absent: ABSENT } as const;

/** The separation's conditions: role, net light, how far each leans on the stem ratio, and what became of those kept aside. */
export function separationTable({
  campaign,
  evaluation,
  interpretation,
  quantities,
}: Material): TableBlock | undefined {
  const { channels, series } = interpretation;
  const readings = series.separation?.readings ?? [];
  if (readings.length === 0) return undefined;
  const net = netSignals(evaluation, "separation", channels);
  const conditions = [...new Set(readings.map(({ condition }) => condition))];
  const light = channels.map((_, c) =>
    inLine(
      conditions.map((condition) => net(condition)[c]),
      6,
    ),
  );
  const unit = campaign.descriptor.alcedo.detector.signalUnit;
  return {
    kind: "table",
    caption: "Conditions of the separation",
    columns: [
      { head: "condition", kind: "code" },
      { head: "dose group", kind: "code" },
      { head: "role", kind: "text" },
      { head: "n", kind: "number" },
      { head: "fibre mm", kind: "number" },
      ...channels.map((channel, c) => ({
        head: [user(`${channel} ${unit}`)],
        kind: "number" as const,
        ...channelPlace(c),
      })),
      { head: "stem load", kind: "number" },
      { head: "off group %", kind: "number" },
      { head: "U %", kind: "number" },
      { head: "verdict", kind: "text" },
    ],
    rows: conditions.map((condition, i) => {
      const own = readings.filter((reading) => reading.condition === condition);
      const { role, fibre_mm, doseGroup } = own[0]!;
      const verify = role === "verify";
      return {
        cells: [
          condition,
          [user(doseGroup)],
          role,
          `${own.length}`,
          fibre_mm === undefined ? ABSENT : plain(fibre_mm),
          ...light.map((column) => column[i]!),
          numberText(quantities.get(`stem-load.separation.${condition}`)),
          ...(verify ? residual(quantities.get(`separation.verify.${condition}`)) : ["", ""]),
          verify ? VERDICTS[verificationVerdict(evaluation, condition)] : "",
        ],
      };
    }),
    legend: "Mean net signals of a reading. Off group: corrected signal over that of its dose group, less one.",
  };
}

/** How far a condition is off its group, and U of that, in per cent. */
function residual(quantity: Quantity | undefined): [string, string] {
  if (!quantity) return [ABSENT, ABSENT];
  const { value, u, U } = quantity;
  return [concise(100 * value, u === null ? null : 100 * u), U === null ? ABSENT : significant(100 * U, 2)];
}
