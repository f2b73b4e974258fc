import type { Column, Task } from "./column-graph.ts";
import { inOrder } from "./column-schedule.ts";
import { interpolantOf } from "./interpolant-column.ts";
import { narrowedVariables } from "./narrowed-variables.ts";

/** The most draws that an interpolant depends on. */
const VARIABLES = 3;

/** What is dearer than this, in nanoseconds a trial, is worth an interpolant. */
const DEAR = 200;

/** A result, and what may be lost on the way to it. */
export interface Wanted {
  readonly column: Column;
  /**
   * How far a column behind the result may be off, in its own unit, without showing in the result; zero or undefined
   * where nobody knows.
   */
  readonly tolerance: (column: Column) => number | undefined;
}

/**
 * Puts interpolants in place of what is dear and depends on few draws: a volume averaging by quadrature, say, of a field
 * whose half widths solve an equation of the measured ones. See {@link interpolantOf}; where there is none that is good,
 * the quantity stays as it is.
 *
 * @returns columns that give the same results. What stands for one does not depend on which others there are.
 */
export function condensed(results: readonly Wanted[]): Column[] {
  const condenser = new Condenser();
  return results.map((result) => condenser.condense(result));
}

class Condenser {
  /** Interpolants that were looked for, by task, output and tolerance. */
  readonly #found = new Map<Task, Map<string, Column | undefined>>();
  /** Tasks with other inputs, by the numbers of the task and of those that its inputs come from. */
  readonly #rewritten = new Map<string, Task>();
  readonly #numbers = new Map<Task, number>();

  condense({ column: result, tolerance }: Wanted): Column {
    const order = inOrder([result]);
    const sources = sourcesBehind(order);
    const interpolants = new Map<Task, Map<number, Column>>();
    // where few draws meet others, or nothing: there the interpolants belong
    const frontier = [...order.filter((task) => !sources.get(task)).flatMap(({ inputs }) => inputs), result];
    for (const column of frontier) {
      const { task, output } = column;
      const draws = sources.get(task);
      if (task.ranges || !draws || draws.length === 0 || interpolants.get(task)?.has(output)) continue;
      if (costOf(column) <= DEAR) continue;
      const found = this.#interpolant(column, draws, tolerance(column) ?? 0);
      if (found) interpolants.set(task, (interpolants.get(task) ?? new Map<number, Column>()).set(output, found));
    }
    const rewritten = new Map<Task, Task>();
    const stand = ({ task, output }: Column): Column =>
      interpolants.get(task)?.get(output) ?? { task: rewritten.get(task) ?? task, output };
    for (const task of order) rewritten.set(task, this.#rewrite(task, task.inputs.map(stand)));
    return stand(result);
  }

  #interpolant(column: Column, draws: readonly Column[], tolerance: number): Column | undefined {
    const known = this.#found.get(column.task) ?? new Map<string, Column | undefined>();
    this.#found.set(column.task, known);
    const allowed = tolerance > 0 ? roundedDown(tolerance) : 0;
    const name = `${column.output} ${allowed}`;
    if (!known.has(name))
      known.set(name, interpolantOf(column, narrowedVariables(column, draws), allowed, costOf(column)));
    return known.get(name);
  }

  /** The task with these inputs: itself where they are its own, and the same one for the same inputs. */
  #rewrite(task: Task, inputs: readonly Column[]): Task {
    if (inputs.every(({ task: own }, i) => own === task.inputs[i]!.task)) return task;
    const name = [task, ...inputs.map((input) => input.task)].map((own) => this.#numberOf(own)).join(" ");
    const made = this.#rewritten.get(name) ?? { ...task, inputs };
    this.#rewritten.set(name, made);
    return made;
  }

  #numberOf(task: Task): number {
    const number = this.#numbers.get(task) ?? this.#numbers.size;
    this.#numbers.set(task, number);
    return number;
  }
}

/** To 1, 2 or 5 of its power of ten, so that results that ask for much the same share an interpolant. */
function roundedDown(tolerance: number): number {
  const [digits, exponent] = tolerance.toExponential().split("e");
  const first = Number(digits![0]);
  return Number(`${first < 2 ? 1 : first < 5 ? 2 : 5}e${exponent}`);
}

/** The draws behind each task; undefined where they are too many, or where the task is to be exact. */
function sourcesBehind(order: readonly Task[]): Map<Task, readonly Column[] | undefined> {
  const sources = new Map<Task, readonly Column[] | undefined>();
  for (const task of order) {
    const all = new Set<Column>();
    let few = !task.exact;
    for (const input of task.inputs) {
      const own = input.task.ranges ? [input] : sources.get(input.task);
      if (!own) few = false;
      for (const source of own ?? []) all.add(source);
    }
    sources.set(task, few && all.size <= VARIABLES ? [...all] : undefined);
  }
  return sources;
}

/** Nanoseconds a trial behind a column, without the draws. */
function costOf(column: Column): number {
  return inOrder([column]).reduce((total, task) => total + (task.ranges ? 0 : task.cost), 0);
}
