import { expect, test } from "vitest";
import { tableFields } from "./table-schema.ts";

test("each column has its field, in the table's order, with its unit and decimal sign", () => {
  const columns = ["time", "signal_blue", "reading", "exclude", "operator"];
  expect(tableFields("background", ["blue"], { columns, decimal: "," })).toEqual([
    { name: "time", type: "datetime", format: "any", description: "when the reading was taken: ISO 8601 with offset" },
    {
      name: "signal_blue",
      type: "number",
      description: "raw reading of the channel blue, in the campaign's signalUnit",
      decimalChar: ",",
    },
    {
      name: "reading",
      type: "string",
      description: "id of the reading, unique in its table",
      constraints: { required: true },
    },
    {
      name: "exclude",
      type: "string",
      description: "not empty: the reading is left out of the evaluation; the text is the reason",
    },
    { name: "operator", type: "string" },
  ]);
});

test("a field has the column's name as typed, though a channel's name was fitted", () => {
  const [field] = tableFields("background", ["blue"], { columns: ["signal_Blue"], decimal: "." });
  expect(field).toMatchObject({ name: "signal_Blue", type: "number", decimalChar: "." });
});

test("units stand beside the numbers that have one", () => {
  const fields = tableFields("calibration", ["blue"], { columns: ["dose_Gy", "dose_u_percent", "mu"], decimal: "." });
  expect(fields.map((field) => field.unit)).toEqual(["Gy", "%", "MU"]);
});
