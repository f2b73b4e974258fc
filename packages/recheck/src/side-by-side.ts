import type { Result } from "@alcedo-dosimetry/campaign";
import type { Recheck } from "./recheck.ts";

/** A quantity by both routes. What a route does not give is null. */
export interface SideBySideRow {
  readonly id: string;
  readonly value: number | null;
  readonly recheckValue: number | null;
  /** Recheck minus evaluation. */
  readonly difference: number | null;
  readonly u: number | null;
  readonly recheckU: number | null;
}

/** Both routes side by side: the quantities of the result in its order, then those that only the recheck has. */
export function sideBySide(result: Pick<Result, "quantities">, rechecked: Recheck): SideBySideRow[] {
  const here = new Map(result.quantities.map((quantity) => [quantity.id, quantity]));
  const there = new Map(rechecked.map((quantity) => [quantity.id, quantity]));
  return [...new Set([...here.keys(), ...there.keys()])].map((id) => {
    const [one, other] = [here.get(id), there.get(id)];
    return {
      id,
      value: one?.value ?? null,
      recheckValue: other?.value ?? null,
      difference: one && other ? other.value - one.value : null,
      u: one?.u ?? null,
      recheckU: other?.u ?? null,
    };
  });
}
