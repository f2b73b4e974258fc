import { type Campaign, type Evaluation, interpret, quantitiesById } from "@alcedo-dosimetry/campaign";
import { numberField, type ResultTable, textField } from "./result-table.ts";

/** Output factors beside those of the reference set, one comparison a row. */
export function comparisonsTable(campaign: Campaign, { evaluated, result }: Evaluation): ResultTable {
  const quantities = quantitiesById(result);
  const set = evaluated?.comparisons === undefined ? [] : (interpret(campaign).series["reference-set"]?.values ?? []);
  return {
    name: "comparisons",
    title: "Output factors against those from elsewhere",
    fields: [
      textField("source", "where the other value comes from"),
      textField("condition", "the field"),
      numberField("output_factor", "field output factor Ω, measured"),
      numberField("set_value", "the other value: as typed, or interpolated at the measured equivalent square"),
      textField("set_from", "condition: as typed; equivalent square: interpolated"),
      numberField("difference", "Ω over the other value, less one"),
      numberField("u", "standard uncertainty of the difference"),
      numberField("U", "expanded uncertainty of the difference"),
      numberField("en", "difference over its expanded uncertainty; agreement within ±1"),
    ],
    rows: (evaluated?.comparisons?.compared ?? []).flatMap(({ source, condition, from }) => {
      const difference = quantities.get(`comparison.${source}.${condition}`);
      const own = quantities.get(`output-factor.${condition}`);
      if (!difference || !own) return [];
      const typed =
        from === "condition" ? set.find((one) => one.source === source && one.condition === condition) : undefined;
      const other = typed?.output_factor ?? own.value / (1 + difference.value);
      const { value, u, U, en } = difference;
      return [[source, condition, own.value, other, from, value, u, U, en ?? null]];
    }),
  };
}
