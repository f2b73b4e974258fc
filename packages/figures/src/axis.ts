import { scaleLinear, scaleLog } from "d3-scale";
import { SMALL_SIZE } from "./label.ts";
import { linearTicks, logarithmicTicks, type Tick } from "./ticks.ts";

/** A quantity laid along one direction of the page. */
export interface Axis {
  readonly domain: readonly [number, number];
  readonly ticks: readonly Tick[];
  /** Name with unit. */
  readonly name: string;
  /** Where a value stands on the page. */
  readonly at: (value: number) => number;
}

/** What an axis is made from. */
export interface AxisGiven {
  readonly name: string;
  /** Everything that must have room on it. */
  readonly values: readonly number[];
  /** The page, from the low end to the high end. */
  readonly from: number;
  readonly to: number;
  /** Room beyond the values on each side, as a part of their spread. Default 0.06. */
  readonly margin?: number;
  /** A value at which the axis begins, whatever the margin. */
  readonly start?: number;
  /** The least spread that is shown, so that what hardly differs is not made to look as if it did. */
  readonly least?: number;
}

/** An even axis about its values, with ticks at round places. */
export function linearAxis(given: AxisGiven): Axis {
  const { name, from, to, margin = 0.06, least = 0, start } = given;
  const [low, high] = extent(given.values);
  const spread = high - low;
  const missing = Math.max(0, (spread > 0 ? Math.max(least, 0) : least || Math.abs(low) || 1) - spread) / 2;
  const room = (spread + 2 * missing) * margin;
  const domain = [start ?? low - missing - room, high + missing + room] as const;
  const scale = scaleLinear().domain(domain).range([from, to]);
  const count = Math.max(3, Math.floor(Math.abs(to - from) / (to < from ? 44 : 74)));
  return { name, domain, ticks: linearTicks(domain, count), at: (value) => scale(value) };
}

/** A logarithmic axis; all values must be above zero. */
export function logarithmicAxis(given: AxisGiven): Axis {
  const { name, from, to, margin = 0.06 } = given;
  const [low, high] = extent(given.values);
  if (!(low > 0)) throw new RangeError(`${name}: a logarithmic axis has no place for ${low}`);
  const inner = scaleLog()
    .domain(low < high ? [low, high] : [low / 1.5, high * 1.5])
    .range([0, 1]);
  const domain = [inner.invert(-margin), inner.invert(1 + margin)] as const;
  const scale = scaleLog().domain(domain).range([from, to]);
  const at = (value: number) => scale(value);
  return { name, domain, ticks: logarithmicTicks(domain, at, SMALL_SIZE), at };
}

function extent(values: readonly number[]): [number, number] {
  if (values.length === 0) throw new RangeError("an axis needs values");
  return values.reduce<[number, number]>(
    ([low, high], value) => [Math.min(low, value), Math.max(high, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  );
}
