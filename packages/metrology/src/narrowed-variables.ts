import type { Column, Range, Task } from "./column-graph.ts";
import { inOrder, schedule } from "./column-schedule.ts";
import type { Variable } from "./interpolant-column.ts";

/** Nanoseconds that a column may cost to stand in for its draws: it is worked out in every trial. */
const CHEAP = 20;

/**
 * What a column depends on, in as few variables as may be: its draws, or in place of several of them a column through
 * which alone they come in (a mean of two widths, say).
 *
 * @param draws all draws behind the column.
 */
export function narrowedVariables(column: Column, draws: readonly Column[]): Variable[] {
  const variables = draws.map((draw): Variable => ({ column: draw, range: rangeOf(draw) }));
  if (draws.length < 2) return variables;
  for (const task of inOrder([column])) {
    if (task === column.task || task.ranges || task.outputs > 1) continue;
    const waist = { task, output: 0 };
    if (inOrder([waist]).reduce((cost, own) => cost + (own.ranges ? 0 : own.cost), 0) > CHEAP) continue;
    const behind = drawsBehind(waist);
    if (behind.size < 2) continue;
    const besides = drawsBehind(column, task);
    if ([...behind].some((draw) => besides.has(draw))) continue;
    const through = variables.filter((variable) => behind.has(variable.column.task));
    const rest = variables.filter((variable) => !behind.has(variable.column.task));
    return [{ column: waist, range: reachOf(waist, through) }, ...rest];
  }
  return variables;
}

function rangeOf({ task, output }: Column): Range {
  return task.ranges![output]!;
}

/** The tasks of the draws behind a column, by ways that do not lead through a task. */
function drawsBehind(column: Column, except?: Task): Set<Task> {
  const draws = new Set<Task>();
  const seen = new Set<Task | undefined>([except]);
  const visit = (task: Task): void => {
    if (seen.has(task)) return;
    seen.add(task);
    if (task.ranges) draws.add(task);
    else for (const input of task.inputs) visit(input.task);
  };
  visit(column.task);
  return draws;
}

/** The range of a column that the ranges of its variables make: their independent reaches added in squares. */
function reachOf(column: Column, variables: readonly Variable[]): Range {
  const given = variables.map((variable) => variable.column);
  // one trial at the centre, and one at the end of each variable's reach
  const work = schedule([column], variables.length + 1, given);
  variables.forEach(({ range: { centre, reach } }, v) => {
    work.given[v]!.fill(centre);
    work.given[v]![v + 1]! += reach;
  });
  work.run(variables.length + 1);
  const [centre, ...ends] = work.results[0]!;
  const squares = ends.reduce((sum, end) => sum + (end - centre!) * (end - centre!), 0);
  return { centre: centre!, reach: Math.sqrt(squares), flat: variables.every(({ range }) => range.flat) };
}
