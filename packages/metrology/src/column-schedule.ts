import type { Column, Task, Work } from "./column-graph.ts";

/** Columns stand a little apart from powers of two, or the same places of all of them would fall on one cache line. */
const PADDING = 8;

/** A computation on columns, ready to run. */
export interface Schedule {
  /** The columns that somebody else fills, in the order in which they were named. */
  readonly given: readonly Float64Array[];
  /** One column per result. */
  readonly results: readonly Float64Array[];
  /** How many columns it works on. */
  readonly width: number;
  /** Fills the results. */
  run(count: number): void;
}

/**
 * Puts the tasks behind some results in an order, each as late as its first reader allows, and gives them columns: a
 * column is used again as soon as nobody reads it any more, so that a block stays in the cache.
 *
 * @param trials how many trials a column has room for.
 * @param given outputs that are not worked out but filled from outside, before each run.
 */
export function schedule(results: readonly Column[], trials: number, given: readonly Column[] = []): Schedule {
  const order = inOrder(results, given);
  const readers = new Map<Task, number[]>(order.map((task) => [task, new Array<number>(task.outputs).fill(0)]));

  const free: number[] = [];
  let width = 0;
  const take = () => free.pop() ?? width++;
  const places = new Map<Task, (number | undefined)[]>();
  for (const { task, output } of given) {
    const own = places.get(task) ?? new Array<number | undefined>(task.outputs).fill(undefined);
    own[output] = take();
    places.set(task, own);
    // read from outside: nobody takes it away
    readers.set(task, new Array<number>(task.outputs).fill(Number.POSITIVE_INFINITY));
  }
  const read = ({ task, output }: Column) => {
    readers.get(task)![output]!++;
  };
  for (const task of order) for (const input of task.inputs) read(input);
  for (const result of results) read(result); // and nobody takes it away
  const placeOf = ({ task, output }: Column) => places.get(task)![output]!;
  const bindings = order.map((task) => {
    const outputs = readers.get(task)!.map((count) => (count > 0 ? take() : undefined));
    const scratch = Array.from({ length: task.scratch }, take);
    places.set(task, outputs);
    const inputs = task.inputs.map(placeOf);
    free.push(...scratch);
    for (const input of task.inputs) {
      const counts = readers.get(input.task)!;
      counts[input.output]!--;
      if (counts[input.output] === 0) free.push(placeOf(input));
    }
    return { task, inputs, outputs, scratch };
  });

  const stride = trials + PADDING;
  const memory = new Float64Array(width * stride);
  const columnAt = (place: number) => memory.subarray(place * stride, place * stride + trials);
  const works = bindings.map(({ task, inputs, outputs, scratch }): Work => {
    const own = outputs.map((place) => (place === undefined ? undefined : columnAt(place)));
    return task.bind(inputs.map(columnAt), own, scratch.map(columnAt));
  });
  return {
    given: given.map((column) => columnAt(placeOf(column))),
    results: results.map((result) => columnAt(placeOf(result))),
    width,
    run(count) {
      for (const work of works) work(count);
    },
  };
}

/** The tasks that the results need, inputs before readers, depth first; not those whose outputs are given. */
export function inOrder(results: readonly Column[], given: readonly Column[] = []): Task[] {
  const order: Task[] = [];
  const seen = new Set(given.map(({ task }) => task));
  const stack: { task: Task; next: number }[] = [];
  for (const { task } of results) {
    if (seen.has(task)) continue;
    seen.add(task);
    stack.push({ task, next: 0 });
    for (let top = stack.at(-1); top; top = stack.at(-1)) {
      const input = top.task.inputs[top.next++];
      if (!input) {
        order.push(top.task);
        stack.pop();
      } else if (!seen.has(input.task)) {
        seen.add(input.task);
        stack.push({ task: input.task, next: 0 });
      }
    }
  }
  return order;
}
