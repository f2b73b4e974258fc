import { memo, type ReactNode } from "react";
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
  const { value, u, unit } = quantity;
  return (
    <Origin quantity={quantity} onTrace={onTrace} strong={strong}>
      <ConciseNumber value={value} u={u} {...(!bare && { unit })} />
    </Origin>
  );
});

/** What is shown of a quantity, whatever it is: pressed, it shows where the quantity comes from. */
export function Origin({
  quantity: { id, label },
  onTrace,
  strong = false,
  children,
}: {
  readonly quantity: ShownQuantity;
  readonly onTrace: (id: string) => void;
  readonly strong?: boolean;
  readonly children: ReactNode;
}) {
  return (
    <button
      type="button"
      className={`origin${strong ? " origin-strong" : ""}`}
      title={`${label}: where it comes from`}
      data-quantity={id}
      onClick={() => onTrace(id)}
    >
      {children}
    </button>
  );
}
