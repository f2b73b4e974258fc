import { type Figure, type ReferenceMoment, referenceDrift } from "@alcedo-dosimetry/figures";
import type { Drawable } from "./drawable.ts";
import { nodeInterval } from "./node-interval.ts";

/** The reference field over the series, where it was visited more than once. */
export function referenceDriftFigure({ evaluated }: Drawable): Figure | undefined {
  const { outputFactors, stopped } = evaluated;
  const drift = outputFactors?.reference.drift;
  if (!outputFactors || !drift || stopped.has("output-factors")) return undefined;
  const { visits, fields, reference } = outputFactors;
  const first = visits[0]!.time;
  const timed = [...visits, ...fields.map(({ net }) => net)].every(({ time }) => time !== undefined);
  const moment = (
    { name, time }: { readonly name: string; readonly time: number | undefined },
    move: (typeof reference.moves)[number],
    place: number,
  ): ReferenceMoment => ({
    name,
    at: timed ? (time! - first!) / 60 : place + 1,
    move: nodeInterval(evaluated, move),
  });
  return referenceDrift({
    id: "reference-drift",
    title: "The reference field over the series",
    timed,
    visits: visits.map((visit, k) => moment(visit, reference.moves[k]!, k)),
    fields: timed ? fields.map(({ net }, k) => moment(net, reference.fieldMoves[k]!, k)) : [],
    largest: nodeInterval(evaluated, drift),
  });
}
