import { CAUTIONS, evaluate } from "@alcedo-dosimetry/campaign";
import { type Cell, columnLetters, readWorkbook } from "@alcedo-dosimetry/tabular/workbook";
import { describe, expect, test } from "vitest";
import { exportedCampaign, exportedEvaluation, HARMFUL_TEXTS } from "../testing/exported-campaign.ts";
import { resultsWorkbook } from "./results-workbook.ts";

const LIMITS = { rows: 10_000, columns: 100, unpacked: 50_000_000, sheets: 50 };
const { campaign, evaluation } = exportedEvaluation();
const bytes = resultsWorkbook(campaign, evaluation);
const { sheets } = readWorkbook(bytes, LIMITS);
const sheet = (name: string) => sheets.find((own) => own.name === name)!;
const value = (cell: Cell | undefined) =>
  cell === undefined
    ? undefined
    : "text" in cell.content
      ? cell.content.kind === "number"
        ? Number(cell.content.text)
        : cell.content.text
      : cell.content;
/** A row of a sheet of a table as an object by header. */
function rowsOf(name: string, headerRow = 3) {
  const { rows } = sheet(name);
  const header = rows.find(({ number }) => number === headerRow)!;
  const heads = new Map(header.cells.map((cell) => [cell.column, `${value(cell) as string}`]));
  return rows
    .filter(({ number }) => number > headerRow)
    .map(({ cells }) =>
      Object.fromEntries(cells.map((cell) => [heads.get(cell.column) ?? columnLetters(cell.column), cell])),
    );
}

test("the same campaign gives the same bytes", () => {
  const again = exportedEvaluation();
  expect(resultsWorkbook(again.campaign, again.evaluation)).toEqual(bytes);
});

test("the sheets are those of the evaluation, and of the readings", () => {
  expect(sheets.map(({ name }) => name)).toEqual([
    "about",
    "output factors",
    "comparisons",
    "results",
    "budgets",
    "findings",
    "assumptions",
    "readings separation",
    "readings calibration",
    "readings output-factors",
    "readings reference-set",
  ]);
});

test("about says whose data they are, that they are invented, from which input, and with what cautions", () => {
  const words = sheet("about").rows.flatMap(({ cells }) => cells.map(value));
  for (const word of [
    campaign.descriptor.title,
    evaluation.result.input,
    `alcedo ${evaluation.result.alcedo}`,
    CAUTIONS,
    "INVENTED DATA: measured nowhere, not for use.",
  ])
    expect(words).toContain(word);
});

test("results hold every quantity with all its digits", () => {
  const rows = rowsOf("results");
  expect(rows.map((row) => value(row["id"]))).toEqual(evaluation.result.quantities.map(({ id }) => id));
  rows.forEach((row, i) => {
    const quantity = evaluation.result.quantities[i]!;
    expect(value(row["value"])).toBe(quantity.value);
    expect(value(row["u"]) ?? null).toBe(quantity.u);
    expect(value(row["U"]) ?? null).toBe(quantity.U);
  });
});

describe("live formulas", () => {
  test("stand where a reader would check: percentages of Ω, ratios to the reference, differences, sums of shares", () => {
    const field = rowsOf("output factors").find((row) => value(row["condition"]) === "cone-15")!;
    const factor = evaluation.result.quantities.find(({ id }) => id === "output-factor.cone-15")!;
    for (const head of ["u/Ω", "U/Ω", "signal over the reference's", "dose over the reference's"])
      expect(field[head]!.formula).toBe(true);
    expect(value(field["U/Ω"])).toBe(factor.U! / factor.value);
    const [compared] = rowsOf("comparisons");
    expect([value(compared!["set_value"]), compared!["difference"]!.formula]).toEqual([0.6, true]);
    expect(value(compared!["difference"])).toBeCloseTo(factor.value / 0.6 - 1, 14);
    const difference = evaluation.result.quantities.find(({ id }) => id.startsWith("comparison."))!;
    expect(value(compared!["difference"])).toBeCloseTo(difference.value, 12);
    for (const row of rowsOf("results").filter((own) => own["sum of shares"] !== undefined)) {
      expect(row["sum of shares"]!.formula).toBe(true);
      expect(value(row["sum of shares"])).toBeCloseTo(1, 9);
    }
  });

  test("are never made of a text from outside: only sheets of results have them", () => {
    for (const { name, rows } of sheets) {
      const formulas = rows.flatMap(({ cells }) => cells.filter(({ formula }) => formula));
      expect(formulas.length > 0).toBe(["output factors", "comparisons", "results", "budgets"].includes(name));
      for (const { content } of formulas) expect(content.kind).toBe("number");
    }
  });
});

test("texts that could do harm are there whole, and are texts", () => {
  const texts = sheets.flatMap(({ rows }) =>
    rows.flatMap(({ cells }) => cells.filter(({ formula }) => !formula).map(value)),
  );
  for (const text of [...HARMFUL_TEXTS, campaign.descriptor.title, "=plan"]) expect(texts).toContain(text);
});

test("readings are as typed, decimals and all", () => {
  const [first] = rowsOf("readings separation", 1);
  expect([value(first!["signal_blue"]), first!["signal_blue"]!.format]).toEqual([
    6.5,
    { shows: "number", decimals: 3 },
  ]);
});

test("a text that no cell can hold is cut where it is said", () => {
  const long = exportedCampaign();
  const row = [...long.tables["separation"]!.rows[0]!];
  row[6] = "m".repeat(40_000);
  const tables = {
    ...long.tables,
    separation: { ...long.tables["separation"]!, rows: [row, ...long.tables["separation"]!.rows.slice(1)] },
  };
  const changed = { ...long, tables };
  const cells = readWorkbook(resultsWorkbook(changed, evaluate(changed)), LIMITS).sheets.flatMap(({ rows }) =>
    rows.flatMap((own) => own.cells.map(value)),
  );
  expect(cells.find((text) => typeof text === "string" && text.startsWith("mmmm") && text.length > 3000)).toMatch(
    / \[… 7333 more characters: .*CSV tables have them\]$/,
  );
});

test("a campaign that cannot be evaluated gives a workbook of findings and readings", () => {
  const broken = exportedCampaign();
  const tables = {
    ...broken.tables,
    calibration: { ...broken.tables["calibration"]!, rows: [["", "", "", "x", "", "", "", "", ""]] },
  };
  const changed = { ...broken, tables };
  const names = readWorkbook(resultsWorkbook(changed, evaluate(changed)), LIMITS).sheets.map(({ name }) => name);
  expect(names.slice(0, 3)).toEqual(["about", "findings", "assumptions"]);
});
