import { concisePercent, plain, STAGE_NAMES, type StageId } from "@alcedo-dosimetry/campaign";
import { memo, type ReactNode } from "react";
import type { ConditionRow, ShownQuantity } from "../../engine/orders.ts";
import { useDecimal } from "../../look/decimal.tsx";
import { Table, type TableColumn } from "../../look/table.tsx";
import { Origin, OriginNumber } from "./origin-number.tsx";
import { SymbolText } from "./symbol-text.tsx";

/** What the results of a stage are shown from. */
export interface StageResultsProps {
  readonly stage: StageId;
  readonly rows: readonly ConditionRow[];
  readonly quantities: ReadonlyMap<string, ShownQuantity>;
  readonly channels: readonly string[];
  readonly signalUnit: string;
  readonly onTrace: (id: string) => void;
}

/** What follows from the readings of a stage, condition by condition; each number leads to its origin. */
export const StageResults = memo(function StageResults(props: StageResultsProps) {
  const { stage, rows, quantities, channels, signalUnit, onTrace } = props;
  const decimal = useDecimal();
  const quantity = ({ ids }: ConditionRow, name: string) => quantities.get(ids[name] ?? "");
  const shows = (name: string) => rows.some((row) => quantity(row, name) !== undefined);
  const number = (name: string, title: ReactNode, strong = false): TableColumn<ConditionRow>[] =>
    shows(name)
      ? [
          {
            id: name,
            title,
            number: true,
            cell: (row) => <OriginNumber quantity={quantity(row, name)} onTrace={onTrace} bare strong={strong} />,
          },
        ]
      : [];
  const role: TableColumn<ConditionRow> = { id: "role", title: "role", cell: ({ role: own }) => own ?? "" };
  const columns: readonly TableColumn<ConditionRow>[] = [
    {
      id: "condition",
      title: stage === "output-factors" ? "field" : "condition",
      cell: ({ condition }) => condition,
      names: true,
    },
    ...(stage === "separation" ? [role] : []),
    ...(stage === "output-factors"
      ? [
          {
            id: "size",
            title: (
              <>
                FWHM
                <br />
                mm
              </>
            ),
            number: true,
            cell: ({ field }: ConditionRow) => decimal(field ?? ""),
          },
        ]
      : []),
    { id: "count", title: "n", number: true, cell: ({ count }) => count },
    ...channels.map((channel, k) => ({
      id: `signal-${channel}`,
      title: (
        <span className={k < 2 ? `channel-${k + 1}` : ""}>
          {channel}
          <br />
          {signalUnit}
        </span>
      ),
      number: true,
      cell: ({ signals }: ConditionRow) => (
        <span className={k < 2 ? `channel-${k + 1}` : ""}>
          {signals[k] === undefined ? "" : decimal(signals[k].toFixed(4).replace("-", "−"))}
        </span>
      ),
    })),
    ...(stage === "calibration" ? number("signal", `S, ${signalUnit}`, true) : []),
    ...(stage === "output-factors"
      ? []
      : number("load", <span title="stem load: how far the reading leans on the stem ratio">ℓ</span>)),
    ...(stage === "separation" && shows("verify")
      ? [
          {
            id: "verify",
            title: "from its group",
            number: true,
            cell: (row: ConditionRow) => (
              <InWords
                quantity={quantity(row, "verify")}
                onTrace={onTrace}
                words={({ value, u }) => decimal(concisePercent(value, u))}
              />
            ),
          },
        ]
      : []),
    ...(shows("square")
      ? [
          {
            id: "square",
            title: (
              <span title="equivalent square small field size">
                <SymbolText symbol="S_clin" />
                <br />
                mm
              </span>
            ),
            number: true,
            cell: (row: ConditionRow) => (
              <InWords
                quantity={quantity(row, "square")}
                onTrace={onTrace}
                // its uncertainty does not matter here
                words={({ value }) => decimal(plain(value, 3))}
              />
            ),
          },
        ]
      : []),
    ...number("factor", <var className="symbol">Ω</var>, true),
    ...(stage === "output-factors" && shows("factor")
      ? [
          {
            id: "most",
            title: "most from",
            cell: (row: ConditionRow) => {
              const most = quantity(row, "factor")?.most;
              return most ? (
                <span className="muted" title={`${decimal(most.share)} of the variance`}>
                  {most.name}
                </span>
              ) : (
                ""
              );
            },
          },
        ]
      : []),
  ];
  return (
    <Table
      label={`${STAGE_NAMES[stage]}: results by ${stage === "output-factors" ? "field" : "condition"}`}
      columns={columns}
      rows={rows}
      keyOf={({ condition }) => condition}
    />
  );
});

/** A result in words of the column's own: a number of three digits, a deviation in percent. */
function InWords({
  quantity,
  onTrace,
  words,
}: {
  readonly quantity: ShownQuantity | undefined;
  readonly onTrace: (id: string) => void;
  readonly words: (quantity: ShownQuantity) => string;
}) {
  if (!quantity) return null;
  return (
    <Origin quantity={quantity} onTrace={onTrace}>
      <span className="number">{words(quantity)}</span>
    </Origin>
  );
}
