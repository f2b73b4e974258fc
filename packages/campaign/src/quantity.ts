import { budget, type Evaluation, propagate, type Scalar } from "@alcedo-dosimetry/metrology";
import type { Quantity } from "./result.ts";

/** A node of the model as a reported quantity. The id is the node's key unless another is given. */
export function quantityOf(
  evaluation: Evaluation,
  node: Scalar,
  name: { readonly id: string; readonly symbol: string; readonly label: string },
): Quantity {
  const propagation = propagate(evaluation, node);
  const { value, u, dof, k, U, typeAUnknown } = propagation;
  const { id, label, symbol } = name;
  return {
    id,
    label,
    symbol,
    unit: node.unit.symbol,
    value,
    u,
    dof: finite(dof),
    k: finite(k),
    U: finite(U),
    ...(typeAUnknown && { typeA: "unknown" as const }),
    budget: budget(propagation),
  };
}

/** A number without uncertainty of its own, such as a χ². */
export function plainQuantity(
  name: { readonly id: string; readonly symbol: string; readonly label: string; readonly unit: string },
  value: number,
  more: { readonly dof?: number; readonly p?: number } = {},
): Quantity {
  const { id, label, symbol, unit } = name;
  return {
    id,
    label,
    symbol,
    unit,
    value,
    u: null,
    dof: more.dof ?? null,
    k: null,
    U: null,
    ...(more.p !== undefined && { p: more.p }),
    budget: [],
  };
}

const finite = (value: number) => (Number.isFinite(value) ? value : null);
