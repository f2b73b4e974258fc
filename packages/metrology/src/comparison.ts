import { gradient, readingGradient } from "./gradient.ts";
import type { Evaluation } from "./model.ts";
import type { Scalar } from "./tape.ts";

/** What one changed input did to a result. */
export interface Attribution {
  /** Key of the estimate or constant, or `series/reading` of a reading. */
  readonly input: string;
  /** For a reading: the columns that changed. */
  readonly columns?: readonly string[];
  /** Present where the input is one number and stands on both sides. */
  readonly before?: number;
  readonly after?: number;
  /** Its part of the change, in the result's unit. */
  readonly change: number;
}

/** A change of a result, taken apart. */
export interface Comparison {
  readonly before: number;
  readonly after: number;
  readonly change: number;
  /** Largest first. */
  readonly attributions: readonly Attribution[];
  /** What the mean gradients leave over: third order in the changes, or a change of the model itself. */
  readonly remainder: number;
}

/** A leaf with its derivative in one evaluation. */
interface Leaf {
  readonly value: number;
  readonly derivative: number;
  /** The series that the value was worked out from, where nobody read or stated it. */
  readonly derivedFrom?: string;
}

/**
 * Attributes the change of a result between two evaluations to the inputs that differ: the mean of the two gradients
 * times the difference, leaf by leaf; what that leaves over is shown as the remainder.
 *
 * Leaves are matched by key and readings by series, reading and column. A reading that stands on one side only counts
 * there as left out, and its weight's derivative on the side where it stands gives its part. What was worked out from a
 * series and then held fixed (weights of a fit) changes with the readings: its part is that of the reading that changed
 * in the series, or else anywhere before it.
 */
export function compare(before: Evaluation, a: Scalar, after: Evaluation, b: Scalar): Comparison {
  const attributions = new Map<string, { change: number; columns: Set<string>; before?: number; after?: number }>();
  const add = (input: string, change: number, column?: string, values?: { before: number; after: number }) => {
    const entry = attributions.get(input) ?? { change: 0, columns: new Set<string>(), ...values };
    entry.change += change;
    if (column !== undefined) entry.columns.add(column);
    attributions.set(input, entry);
  };
  const [nodeA, nodeB] = [before.model.indexOf(a), after.model.indexOf(b)];
  const adjointsA = gradient(before, nodeA);
  const adjointsB = gradient(after, nodeB);
  const [readingsA, readingsB] = [readingLeaves(before, adjointsA), readingLeaves(after, adjointsB)];
  const changedReadings = new Map<string, Set<string>>();
  const derived: Derived[] = [];
  for (const [reading, { series, names }] of union(readingsA, readingsB)) {
    const here = readingsA.get(reading)?.columns;
    const there = readingsB.get(reading)?.columns;
    const note = (column: string, change: number) => {
      add(reading, change, column);
      changedReadings.set(series, (changedReadings.get(series) ?? new Set()).add(reading));
    };
    if (!here || !there) {
      const leaf = (here ?? there)!.get("included");
      if (leaf && leaf.value !== 0) note("included", (here ? -1 : 1) * leaf.value * leaf.derivative);
      continue;
    }
    for (const column of names) {
      const [x, y] = [here.get(column), there.get(column)];
      if (!x || !y || Object.is(x.value, y.value)) continue;
      const gradient = column === "included" ? weightGradient(x, y) : meanGradient(x, y);
      const change = gradient * finiteDifference(x.value, y.value);
      if (x.derivedFrom === undefined) note(column, change);
      else derived.push({ own: reading, from: x.derivedFrom, change });
    }
  }
  const [leavesA, leavesB] = [scalarLeaves(before, adjointsA), scalarLeaves(after, adjointsB)];
  const changedLeaves: string[] = [];
  for (const [key, x] of leavesA) {
    const y = leavesB.get(key);
    if (!y || x.value === y.value) continue;
    const change = meanGradient(x, y) * (y.value - x.value);
    const values = { before: x.value, after: y.value };
    if (x.derivedFrom !== undefined) derived.push({ own: key, from: x.derivedFrom, change, values });
    else {
      changedLeaves.push(key);
      add(key, change, undefined, values);
    }
  }
  const everyReading = [...changedReadings.values()].flatMap((readings) => [...readings]);
  for (const { own, from, change, values } of derived) {
    if (change === 0) continue; // it follows from what changed, and did nothing
    if (everyReading.includes(own)) add(own, change);
    else {
      const behind = [[...(changedReadings.get(from) ?? [])], everyReading, changedLeaves].find(({ length }) => length);
      if (!behind) add(own, change, undefined, values);
      else add(behind.length === 1 ? behind[0]! : `${from}/weights`, change);
    }
  }
  const from = before.values[nodeA]!;
  const to = after.values[nodeB]!;
  const list = [...attributions]
    .map(([input, { columns, ...rest }]) => ({ input, ...rest, ...(columns.size > 0 && { columns: [...columns] }) }))
    .sort((x, y) => Math.abs(y.change) - Math.abs(x.change));
  const explained = list.reduce((total, { change }) => total + change, 0);
  return { before: from, after: to, change: to - from, attributions: list, remainder: to - from - explained };
}

/** A change of something that was worked out from a series. */
interface Derived {
  /** The reading or the key where it stands. */
  readonly own: string;
  readonly from: string;
  readonly change: number;
  readonly values?: { readonly before: number; readonly after: number };
}

const meanGradient = (x: Leaf, y: Leaf) => 0.5 * (x.derivative + y.derivative);

/**
 * What leaving a reading out does for its weight. A mean is no straight line in a weight: by leaving out one of n readings,
 * which lies d from the mean of the others, the mean moves by d/n, where the derivatives are d·(n − 1)/n² with the reading
 * and d/(n − 1) without it. Their geometric mean is exactly d/n, the arithmetic one is out by 25 % for n = 2.
 * Both are zero where it lies on the others' mean. Where one alone is, a cell of the reading holds no number there, so that
 * there is no derivative, and the other side's has to do.
 */
function weightGradient(x: Leaf, y: Leaf): number {
  const [a, b] = [x.derivative, y.derivative];
  if (a === 0 || b === 0) return a + b;
  return a * b > 0 ? (a < 0 ? -1 : 1) * Math.sqrt(a * b) : 0.5 * (a + b);
}

/** A cell that was no number (its reading is left out on that side) has no difference that could be attributed. */
function finiteDifference(from: number, to: number): number {
  return Number.isFinite(from) && Number.isFinite(to) ? to - from : 0;
}

/** Estimates and constants by key. */
function scalarLeaves({ model, values }: Evaluation, adjoints: Float64Array) {
  const leaves = new Map<string, Leaf>();
  const put = (node: number, derivedFrom?: string) => {
    leaves.set(model.tape.names.get(node)!.key, {
      value: values[node]!,
      derivative: adjoints[node] ?? 0,
      ...(derivedFrom !== undefined && { derivedFrom }),
    });
  };
  for (const { first, elements } of model.blocks) for (let i = 0; i < elements.length; i++) put(first + i);
  for (const [node, derivedFrom] of model.constants) put(node, derivedFrom);
  return leaves;
}

/** A reading with its columns by name. */
interface ReadingLeaves {
  readonly series: string;
  readonly columns: Map<string, Leaf>;
}

/** Readings by `series/reading`. A cell that stands in two columns of the model is one leaf: its derivatives add up. */
function readingLeaves(evaluation: Evaluation, adjoints: Float64Array): Map<string, ReadingLeaves> {
  const gradients = readingGradient(evaluation, adjoints);
  const leaves = new Map<string, ReadingLeaves>();
  evaluation.model.columns.forEach(({ series, name, readings, values, derivedFrom }, column) => {
    readings.forEach((reading, row) => {
      const key = `${series}/${reading}`;
      const own = leaves.get(key) ?? { series, columns: new Map<string, Leaf>() };
      leaves.set(key, own);
      const derivative = gradients[column]![row]! + (own.columns.get(name)?.derivative ?? 0);
      own.columns.set(name, { value: values[row]!, derivative, ...(derivedFrom !== undefined && { derivedFrom }) });
    });
  });
  return leaves;
}

/** Every reading of either side, with the name of every column that it has on either. */
function union(a: Map<string, ReadingLeaves>, b: Map<string, ReadingLeaves>) {
  const all = new Map<string, { readonly series: string; readonly names: Set<string> }>();
  for (const side of [a, b])
    for (const [reading, { series, columns }] of side) {
      const known = all.get(reading) ?? { series, names: new Set<string>() };
      for (const name of columns.keys()) known.names.add(name);
      all.set(reading, known);
    }
  return all;
}
