/**
 * One place that both sides changed, to two different texts. A text is absent where the reading, or the table, is not
 * there: taken out by one side, say. Where `reading` and `column` are empty the whole table is meant; the descriptor counts
 * as a table of the name `datapackage.json`, with the place in it as the column.
 */
export interface CellConflict {
  readonly table: string;
  /** Name of the reading; `row 3` where it has none. */
  readonly reading: string;
  readonly column: string;
  readonly base?: string;
  readonly mine?: string;
  readonly theirs?: string;
}
