import { applyEdits, type Campaign } from "@alcedo-dosimetry/campaign";
import { expect, test } from "vitest";
import { trial } from "./trial.ts";

const rows = [
  ["s1", "little", "fit", "6.5"],
  ["s2", "half", "verify", "11.0"],
];
const campaign: Campaign = {
  descriptor: {
    name: "invented",
    alcedo: {
      version: 1,
      detector: { id: "F-1", channels: ["blue", "green"], signalUnit: "nC" },
      beam: { id: "B-1", modality: "photon" },
    },
    resources: [{ name: "separation", path: "separation.csv", alcedo: { series: "separation" } }],
  },
  tables: {
    separation: {
      path: "separation.csv",
      decimal: ".",
      columns: ["reading", "condition", "role", "signal_blue"],
      rows,
      lines: [2, 3],
    },
  },
};
const nothing = { out: [], typed: {}, roles: {}, other: undefined, who: "j.doe" };
const after = (given: Partial<Parameters<typeof trial>[1]>, own = campaign) =>
  applyEdits(own, trial(own, { ...nothing, ...given }).edits);

test("nothing tried is no edit", () => expect(trial(campaign, nothing).edits).toEqual([]));

test("a reading is left out under its reason and by whom, the others stay", () => {
  const { rows: now } = after({ out: [{ table: "separation", reading: "s2" }] }).tables["separation"]!;
  expect(now.map((row) => row.slice(-2))).toEqual([
    ["", ""],
    ["left out after what-if", "j.doe"],
  ]);
});

test("a reading that is gone meanwhile changes nothing", () => {
  expect(trial(campaign, { ...nothing, out: [{ table: "separation", reading: "s9" }] })).toMatchObject({
    edits: [],
    words: [],
  });
});

test("an assumption goes into the descriptor; one that is no number does not", () => {
  const key = "alcedo.assumptions.positioning_u_mm";
  expect(after({ typed: { [key]: "0,3" } }).descriptor.alcedo.assumptions).toEqual({ positioning_u_mm: 0.3 });
  const wrong = trial(campaign, { ...nothing, typed: { [key]: "wide" } });
  expect(wrong.edits).toEqual([]);
  expect(wrong.faults[key]).toContain("wide is no number");
});

test("a condition takes another role in all its rows", () => {
  const { rows: now } = after({ roles: { half: "fit", little: "fit" } }).tables["separation"]!;
  expect(now.map((row) => row[2])).toEqual(["fit", "fit"]);
});

test("another campaign's separation stands in the place of the own one", () => {
  const theirs = applyEdits(campaign, [{ cell: { table: "separation", row: 0, column: "signal_blue", text: "7.7" } }]);
  const made = trial(campaign, { ...nothing, other: { id: "last-year", campaign: theirs } });
  expect(made.words).toEqual(["separation of last-year"]);
  expect(applyEdits(campaign, made.edits).tables["separation"]!.rows[0]![3]).toBe("7.7");
});
