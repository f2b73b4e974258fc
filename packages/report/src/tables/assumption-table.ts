import { ASSUMPTION_DEFAULTS, type Assumptions, type Campaign, resolveAssumptions } from "@alcedo-dosimetry/campaign";
import { numberField, type ResultTable, textField } from "./result-table.ts";

/** Every assumption in force, stated or by default. */
export function assumptionsTable({ descriptor }: Campaign): ResultTable {
  const { values, defaulted, replaced } = resolveAssumptions(descriptor);
  const names = Object.keys(ASSUMPTION_DEFAULTS) as (keyof Assumptions)[];
  return {
    name: "assumptions",
    title: "Assumptions and criteria in force",
    fields: [
      textField("key", "key in datapackage.json"),
      numberField("value", "value, in the unit that the key names"),
      numberField("u", "standard uncertainty, where it has one"),
      textField("origin", "stated in the campaign, or default; not used where a table stands in its place"),
      textField("source", "where the default comes from"),
    ],
    rows: names.map((name) => {
      const { key, source } = ASSUMPTION_DEFAULTS[name];
      const value = values[name];
      const [own, u] = typeof value === "number" ? [value, null] : [value.value, value.u];
      if (replaced.includes(key)) return [key, own, u, "not used", "a table stands in its place"];
      return defaulted.includes(key) ? [key, own, u, "default", source] : [key, own, u, "stated", null];
    }),
  };
}
