import { plain, type Stage } from "@alcedo-dosimetry/campaign";
import { memo, useEffect, useRef, useState } from "react";
import type { ConditionRow, ShownQuantity } from "../../engine/orders.ts";
import { useDecimal } from "../../look/decimal.tsx";
import { OriginNumber } from "./origin-number.tsx";

/** What stands in the margin of a stage. */
export interface StageMarginProps {
  readonly id: string;
  readonly title: string;
  readonly stage: Stage | undefined;
  readonly quantities: ReadonlyMap<string, ShownQuantity>;
  readonly channels: readonly string[];
  readonly rows: readonly ConditionRow[];
  readonly onTrace: (id: string) => void;
}

/** A stage's own result, beside the line; the line's mark tells its standing, and stirs when the result has changed. */
export const StageMargin = memo(function StageMargin(props: StageMarginProps) {
  const { id, title, stage, quantities, channels, rows, onTrace } = props;
  const decimal = useDecimal();
  const ids = mainIds(id, channels, quantities);
  const stirred = useStirred(ids.map((own) => quantities.get(own)?.value).join(" "));
  const of = (own: string) => <OriginNumber quantity={quantities.get(own)} onTrace={onTrace} strong />;
  const verified = quantities.get("separation.verified-stem-load");
  const fields = rows.filter(({ ids: own }) => own["factor"] !== undefined);
  return (
    <>
      <div className="margin">
        <p className="margin-title" aria-hidden="true">
          {title}
        </p>
        {id === "background" &&
          channels.map((channel, k) =>
            quantities.has(`background.${channel}`) ? (
              <p key={channel} className={k < 2 ? `channel-${k + 1}` : ""}>
                <span className="small">{channel}</span> {of(`background.${channel}`)}
              </p>
            ) : null,
          )}
        {id === "separation" &&
          ids.map((own) => (
            <p key={own}>
              {of(own)}
              <span className="margin-note">
                {own === "separation.stem-ratio" ? "stem ratio ρ" : quantities.get(own)?.symbol}
              </span>
            </p>
          ))}
        {id === "separation" && verified && (
          <p className="margin-note">verified to stem load {decimal(plain(verified.value, 2))}</p>
        )}
        {id === "calibration" && quantities.has("calibration.coefficient") && (
          <p>
            {of("calibration.coefficient")}
            <span className="margin-note">dose per corrected light</span>
          </p>
        )}
        {id === "output-factors" && fields.length > 0 && (
          <p>
            <span className="number margin-count">{fields.length === 1 ? "1 field" : `${fields.length} fields`}</span>
            <span className="margin-note">{smallest(fields, quantities, decimal)}</span>
          </p>
        )}
      </div>
      <div className={`line line-${stage?.standing ?? "none"}`}>
        <span key={stirred} className={`line-mark${stirred > 0 ? " line-stirred" : ""}`} aria-hidden="true">
          <LineShape standing={stage?.standing} />
        </span>
      </div>
    </>
  );
});

function LineShape({ standing }: { readonly standing: Stage["standing"] | undefined }) {
  return (
    <svg viewBox="0 0 20 20" className="line-shape" aria-hidden="true">
      <circle cx="10" cy="10" r="8.5" className="line-ring" />
      {standing === "sound" && <circle cx="10" cy="10" r="4.5" className="line-fill" />}
      {standing === "stale" && <path d="M10 4 A6 6 0 0 0 10 16 Z" className="line-fill" />}
      {standing === "broken" && <path d="M6 6 L14 14 M14 6 L6 14" className="line-cross" />}
    </svg>
  );
}

function mainIds(id: string, channels: readonly string[], quantities: ReadonlyMap<string, ShownQuantity>): string[] {
  if (id === "background") return channels.map((channel) => `background.${channel}`);
  if (id === "separation")
    return ["separation.stem-ratio", ...channels.map((channel) => `separation.weight.${channel}`)].filter((own) =>
      quantities.has(own),
    );
  if (id === "calibration") return ["calibration.coefficient"];
  return [...quantities.keys()].filter((own) => own.startsWith("output-factor."));
}

function smallest(
  fields: readonly ConditionRow[],
  quantities: ReadonlyMap<string, ShownQuantity>,
  decimal: (text: string) => string,
): string {
  const sizes = fields.flatMap(({ ids }) => {
    const square = quantities.get(ids["square"] ?? "");
    return square ? [square.value] : [];
  });
  return sizes.length === 0 ? "" : `smallest ${decimal(plain(Math.min(...sizes), 2))} mm`;
}

/** Counts how often a result has changed since the stage was first shown. */
function useStirred(signature: string): number {
  const before = useRef(signature);
  const [count, setCount] = useState(0);
  useEffect(() => {
    if (before.current === signature) return;
    const first = before.current.trim() === "";
    before.current = signature;
    if (!first) setCount((own) => own + 1);
  }, [signature]);
  return count;
}
