import { ABSENT, concise } from "./concise.ts";
import type { Quantity, Result } from "./result.ts";

/** The quantities of a result by id. */
export type Quantities = ReadonlyMap<string, Quantity>;

/** Indexes a result's quantities. */
export function quantitiesById({ quantities }: Result): Quantities {
  return new Map(quantities.map((quantity) => [quantity.id, quantity]));
}

/** A quantity in concise notation with its unit; absent where there is none. */
export function quantityText(quantity: Quantity | undefined): string {
  if (!quantity) return ABSENT;
  const { value, u, unit } = quantity;
  return unit === "1" ? concise(value, u) : `${concise(value, u)} ${unit}`;
}

/** A quantity in concise notation, the unit said elsewhere. */
export function numberText(quantity: Quantity | undefined): string {
  return quantity ? concise(quantity.value, quantity.u) : ABSENT;
}
