import { type Evaluated, propagate } from "@alcedo-dosimetry/campaign";
import type { Interval } from "@alcedo-dosimetry/figures";

/** A node of the model, as the chain hands it out. */
export type Node = Parameters<typeof propagate>[1];

/** The value of a node with its expanded uncertainty, from the model; null where no repeats tell it. */
export function nodeInterval({ model }: Evaluated, node: Node): Interval {
  const { value, U } = propagate(model, node);
  return { value, U: Number.isFinite(U) ? U : null };
}
