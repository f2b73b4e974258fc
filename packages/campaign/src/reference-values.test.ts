import { expect, test } from "vitest";
import { interpret } from "./readings.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";

const HEADER = "condition,equivalent_square_mm,output_factor,u_percent,source";

function read(...rows: string[]) {
  const { series, findings } = interpret(sampleCampaign({ "reference-set": [HEADER, ...rows].join("\n") }));
  return {
    values: series["reference-set"]!.values.length,
    errors: findings
      .filter(({ level }) => level === "error")
      .map(({ code, where }) => `${code} ${where?.row} ${where?.column ?? "-"}`),
  };
}

test.each([
  ["for a condition", "cone-5,,0.6,1,plan"],
  ["for an equivalent square", ",4.4,0.6,1,plan"],
  ["for both", "cone-5,4.4,0.6,1,plan"],
  ["known exactly", "cone-5,,0.6,0,plan"],
])("a value %s is read", (_, row) => {
  expect(read(row)).toEqual({ values: 1, errors: [] });
});

test.each([
  ["neither condition nor square", ",,0.6,1,plan", "cell-missing 1 condition"],
  ["no source", "cone-5,,0.6,1,", "cell-missing 1 source"],
  ["no uncertainty", "cone-5,,0.6,,plan", "cell-missing 1 u_percent"],
  ["an output factor of nil", "cone-5,,0,1,plan", "number-range 1 output_factor"],
  ["an output factor in per cent", "cone-5,,60,1,plan", "number-range 1 output_factor"],
  ["a name that cannot be used", "---,,0.6,1,plan", "name-unusable 1 condition"],
])("a value with %s is an error", (_, row, error) => {
  expect(read(row).errors).toEqual([error]);
});

test("one source has one value for a condition or a square; two sources may differ", () => {
  expect(read("a,,0.6,1,plan", "a,,0.6,1,chamber", "b,,0.6,1,plan").errors).toEqual([]);
  expect(read("a,,0.6,1,plan", "b,,0.7,1,plan", "a,,0.61,1,plan").errors).toEqual(["reference-duplicate 3 -"]);
  expect(read(",4.4,0.6,1,plan", ",4.40,0.61,1,plan").errors).toEqual(["reference-duplicate 2 -"]);
});
