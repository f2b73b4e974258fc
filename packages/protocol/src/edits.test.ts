import { applyEdits, type Campaign, type Edit, type Table } from "@alcedo-dosimetry/campaign";
import { describe, expect, expectTypeOf, it } from "vitest";
import type * as z from "zod";
import { editSchema, editsRequestSchema, readingRequestSchema } from "./edits.ts";

const table: Table = { path: "dark.csv", decimal: ".", columns: ["reading", "note"], rows: [["b1", ""]], lines: [2] };
/** Invented. */
const campaign: Campaign = {
  descriptor: {
    name: "invented",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon" },
    },
    resources: [{ name: "background", path: "dark.csv", alcedo: { series: "background" } }],
  },
  tables: { background: table },
};
const edits: readonly Edit[] = [
  { cell: { table: "background", row: 0, column: "note", text: "x" } },
  { insert: { table: "background", at: 1, rows: [["b2", ""]] } },
  { remove: { table: "background", at: 0, count: 1 } },
  { put: { name: "separation", table } },
  { put: { name: "separation" } },
  { descriptor: campaign.descriptor },
];

describe("edits", () => {
  it("are those of the campaign package, each kind of them", () => {
    expectTypeOf<z.output<typeof editSchema>>().toExtend<Edit>();
    for (const edit of edits) expect(editSchema.parse(edit)).toEqual(edit);
    expect(applyEdits(campaign, edits).tables).toEqual({ background: { ...table, rows: [["b2", ""]] } });
  });

  it("are one change each, and no other", () => {
    for (const edit of [{}, { ...edits[0], ...edits[1] }, { cell: { ...table } }, { drop: "background" }, null])
      expect([edit, editSchema.safeParse(edit).success]).toEqual([edit, false]);
  });

  it("come with the revision that they were made to, a reason and a key of their own", () => {
    const request = { after: 3, edits, why: "typed", key: "8b9f1f43-4d2c-4b5e-9d0e-0a2f0c1f7a55" };
    expect(editsRequestSchema.safeParse(request).success).toBe(true);
    for (const less of ["after", "why", "key"])
      expect([less, editsRequestSchema.safeParse({ ...request, [less]: undefined }).success]).toEqual([less, false]);
    expect(editsRequestSchema.safeParse({ ...request, why: " " }).success).toBe(false);
  });

  it("of a reading need no revision: it goes behind whatever is there", () => {
    const request = {
      table: "background",
      cells: { reading: "b2" },
      why: "console",
      key: "8b9f1f43-4d2c-4b5e-9d0e-0a2f0c1f7a55",
    };
    expect(readingRequestSchema.safeParse(request).success).toBe(true);
    expect(readingRequestSchema.safeParse({ ...request, cells: { reading: 2 } }).success).toBe(false);
  });
});
