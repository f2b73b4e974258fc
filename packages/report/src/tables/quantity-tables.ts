import type { Result } from "@alcedo-dosimetry/campaign";
import { numberField, type ResultTable, textField } from "./result-table.ts";

/** Every reported quantity. */
export function resultsTable({ quantities }: Result): ResultTable {
  return {
    name: "results",
    title: "Every quantity with its uncertainty",
    fields: [
      textField("id", "name of the quantity, stable"),
      textField("label", "what it is"),
      textField("symbol", "its symbol in formulas"),
      numberField("value", "value, in the unit of its row"),
      numberField("u", "standard uncertainty"),
      numberField("k", "coverage factor for 95 %"),
      numberField("U", "expanded uncertainty k·u"),
      numberField("dof", "effective degrees of freedom; empty for infinite or unknown"),
      textField("unit", "unit of value, u and U"),
      textField("type_a", "unknown: no repeats tell the type A uncertainty, and u is of the known components alone"),
      numberField("p", "of a test: the probability of a worse one by chance"),
      numberField("en", "of a comparison: the difference over its expanded uncertainty"),
    ],
    rows: quantities.map(({ id, label, symbol, value, u, k, U, dof, unit, typeA, p, en }) => [
      id,
      label,
      symbol,
      value,
      u,
      k,
      U,
      dof,
      unit,
      typeA ?? null,
      p ?? null,
      en ?? null,
    ]),
  };
}

/** The budget of every quantity, one input a row. */
export function budgetsTable({ quantities }: Result): ResultTable {
  return {
    name: "budgets",
    title: "Uncertainty budgets",
    fields: [
      textField("quantity", "id of the quantity"),
      textField("input", "key of the input"),
      textField("label", "what the input is"),
      textField("type", "evaluation of its uncertainty: A or B"),
      numberField("value", "value of the input, in the unit of its row"),
      numberField("u", "its standard uncertainty"),
      textField("unit", "unit of value and u"),
      numberField("sensitivity", "derivative of the quantity by the input"),
      numberField("contribution", "|sensitivity|·u, in the unit of the quantity"),
      numberField("share", "part of the variance, correlations kept; the shares of a quantity add up to one"),
    ],
    rows: quantities.flatMap(({ id, budget }) =>
      budget.map(({ input, label, type, value, u, unit, sensitivity, contribution, share }) => [
        id,
        input,
        label,
        type,
        value,
        u,
        unit,
        sensitivity,
        contribution,
        share,
      ]),
    ),
  };
}
