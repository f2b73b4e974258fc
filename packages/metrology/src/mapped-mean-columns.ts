import type { ColumnGraph, Varying } from "./column-graph.ts";
import type { MeanSpec } from "./mapped-mean.ts";
import { Operation } from "./operations.ts";
import { type RowForm, RowForms } from "./row-form.ts";

/**
 * The mean of a formula over rows, where its scalars vary from trial to trial and the readings stand: the formula is
 * written once for all rows, as sums whose coefficients differ from row to row, and averaged before any trial is drawn.
 *
 * @param columns the columns of the model, by number.
 * @returns the program's results.
 */
export function addMappedMean(
  graph: ColumnGraph,
  { program, columns: numbers, rows, included }: MeanSpec,
  scalars: readonly Varying[],
  columns: readonly ArrayLike<number>[],
): Varying[] {
  const weights = columns[included]!;
  const live = rows.filter((row) => weights[row]! !== 0); // a reading that is left out may be no number at all
  const total = live.reduce((sum, row) => sum + weights[row]!, 0);
  const shares = Float64Array.from(live, (row) => weights[row]! / total);
  const rowForms = new RowForms(graph, live.length);
  const { operations, a, b, c } = program.tape;
  const forms: RowForm[] = [
    ...numbers.map((number) => rowForms.column(Float64Array.from(live, (row) => columns[number]![row]!))),
    ...scalars.map((scalar) => rowForms.scalar(scalar)),
  ];
  for (let node = forms.length; node < operations.length; node++)
    forms.push(
      operations[node] === Operation.literal
        ? rowForms.scalar(c[node]!)
        : rowForms.apply(operations[node]!, forms[a[node]!]!, b[node]! < 0 ? undefined : forms[b[node]!]!, c[node]!),
    );
  return program.outputs.map((node) => rowForms.mean(forms[node]!, shares));
}
