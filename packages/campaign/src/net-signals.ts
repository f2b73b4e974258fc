import type { Evaluation } from "./evaluate.ts";

/** The mean net signal of a reading under a condition, by channel, out of the model; undefined where it was not reached. */
export function netSignals(
  { model }: Evaluation,
  series: string,
  channels: readonly string[],
): (condition: string) => readonly (number | undefined)[] {
  const nodes = new Map(model ? [...model.tape.names].map(([node, { key }]) => [key, node]) : []);
  return (condition) =>
    channels.map((channel) => {
      const node = nodes.get(`${series}/${condition}/net/${channel}`);
      return node === undefined ? undefined : model?.values[node];
    });
}
