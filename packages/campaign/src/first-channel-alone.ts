import type { Evaluation } from "./evaluate.ts";
import { netSignals } from "./net-signals.ts";

/**
 * What the first channel alone would make of the output factors: its mean net signal in each field over that in the
 * reference field, nothing taken away for stem light. To be shown beside the corrected ones, never used; empty where
 * there are no output factors.
 */
export function firstChannelAlone(evaluation: Evaluation): ReadonlyMap<string, number> {
  const { evaluated } = evaluation;
  const outputFactors = evaluated?.outputFactors;
  const visits = outputFactors?.visits.map(({ name }) => name) ?? [];
  if (!evaluated || !outputFactors || visits.length === 0) return new Map();
  const mean = netSignals(evaluation, "output-factors", evaluated.channels);
  const reference = visits.reduce((total, name) => total + mean(name)[0]!, 0) / visits.length;
  return new Map(outputFactors.fields.map(({ name, net }) => [name, mean(net.name)[0]! / reference]));
}
