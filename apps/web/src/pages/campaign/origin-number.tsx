import { memo } from "react";
import type { ShownQuantity } from "../../engine/orders.ts";
import { ConciseNumber } from "../../look/concise-number.tsx";
import "./origin-number.css";

/** What a number that leads to its origin is made of. */
export interface OriginNumberProps {
  readonly quantity: ShownQuantity | undefined;
  readonly onTrace: (id: string) => void;
  /** Leaves the unit to the column's heading. */
  readonly bare?: boolean;
  readonly strong?: boolean;
}

/** A result: pressed, it shows where it comes from. */
export const OriginNumber = memo(function OriginNumber({
  quantity,
  onTrace,
  bare = false,
  strong = false,
}: OriginNumberProps) {
  if (!quantity) return <span className="muted">—</span>;
  const { id, label, value, u, unit } = quantity;
  return (
    <button
      type="button"
      className={`origin${strong ? " origin-strong" : ""}`}
      title={`${label}: where it comes from`}
      data-quantity={id}
      onClick={() => onTrace(id)}
    >
      <ConciseNumber value={value} u={u} {...(!bare && { unit })} />
    </button>
  );
});
