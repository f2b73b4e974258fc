import { type Campaign, evaluate } from "@alcedo-dosimetry/campaign";
import { describe, expect, expectTypeOf, it } from "vitest";
import type * as z from "zod";
import { campaignSchema, tableNameSchema, tableSchema } from "./campaigns.ts";
import { evaluationSchema, resultSchema } from "./results.ts";

const table = {
  ...{ path: "separation.csv", decimal: "." as const },
  columns: ["reading", "condition", "signal_blue", "signal_green", "dose_group", "role", "dose_Gy"],
  rows: [
    ["r1", "little", "6.51", "3.51", "10x10", "fit", "1.00"],
    ["r2", "little", "6.49", "3.49", "10x10", "fit", "1.00"],
    ["r3", "much", "16.97", "17.47", "10x10", "fit", "1.00"],
    ["r4", "much", "17.03", "17.53", "10x10", "fit", "1.00"],
  ],
  lines: [2, 3, 4, 5],
};
/** Invented. */
const campaign: Campaign = {
  descriptor: {
    name: "first-try",
    alcedo: {
      version: 1,
      detector: { id: "F-0000", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B0", modality: "photon", energy_MV: 6 },
    },
    resources: [{ name: "separation", path: "separation.csv", alcedo: { series: "separation" } }],
  },
  tables: { separation: table },
};

describe("campaigns", () => {
  it("are what the campaign package has them to be", () => {
    expectTypeOf<z.infer<typeof campaignSchema>>().toEqualTypeOf<Campaign>();
    expect(campaignSchema.parse(campaign)).toEqual(campaign);
  });

  it("keep keys that nobody knows under the descriptor, for the evaluation to judge", () => {
    const odd = { ...campaign, descriptor: { ...campaign.descriptor, more: { x: 1 } } };
    expect(campaignSchema.parse(odd)).toEqual(odd);
    expect(campaignSchema.safeParse({ ...campaign, more: 1 }).success).toBe(false);
  });

  it("are refused without what the archive lists them by", () => {
    const { alcedo, ...rest } = campaign.descriptor;
    for (const descriptor of [
      rest,
      { ...rest, alcedo: { ...alcedo, detector: { ...alcedo.detector, id: "" } } },
      { ...rest, alcedo: { ...alcedo, beam: {} } },
      { ...rest, alcedo, name: "Not A Name" },
      { ...rest, alcedo, name: "../up" },
    ])
      expect(campaignSchema.safeParse({ ...campaign, descriptor }).success).toBe(false);
  });

  it("are never called like the root of all objects", () => {
    expect(tableNameSchema.safeParse("background").success).toBe(true);
    expect(tableNameSchema.safeParse("__proto__").success).toBe(false);
  });

  it("have rows as long as the header, and a line for each", () => {
    expect(tableSchema.safeParse(table).success).toBe(true);
    expect(tableSchema.safeParse({ ...table, rows: [...table.rows, ["r5"]], lines: [2, 3, 4, 5, 6] }).success).toBe(
      false,
    );
    expect(tableSchema.safeParse({ ...table, lines: [2] }).success).toBe(false);
    expect(tableSchema.safeParse({ ...table, decimal: ";" }).success).toBe(false);
  });
});

describe("results", () => {
  it("are described to the last key: an evaluation fits, and nothing of it is lost", () => {
    const { result } = evaluate(campaign);
    expect(result.quantities.length).toBeGreaterThan(0);
    expect(resultSchema.parse(result)).toEqual(result);
    expect(resultSchema.safeParse({ ...result, more: 1 }).success).toBe(false);
  });

  it("come with their digest", () => {
    const { result } = evaluate(campaign);
    expect(evaluationSchema.safeParse({ result, digest: result.input }).success).toBe(true);
    expect(evaluationSchema.safeParse({ result }).success).toBe(false);
  });
});
