import { describe, expect, test } from "vitest";
import { compareEvaluations } from "./compare-evaluations.ts";
import { evaluate } from "./evaluate.ts";
import { largestContribution } from "./largest-contribution.ts";
import { monteCarloOf } from "./monte-carlo.ts";
import { interpret } from "./readings.ts";
import { type MadeUpRow, madeUpCampaign } from "./testing/made-up-campaign.ts";
import { sampleCampaign } from "./testing/sample-campaign.ts";
import { traceQuantity } from "./trace-quantity.ts";

const HEADER = "equivalent_square_mm,output_correction,u_percent,source";

function read(header: string, ...rows: string[]) {
  const { series, findings } = interpret(sampleCampaign({ "output-corrections": [header, ...rows].join("\n") }));
  return {
    table: series["output-corrections"]!,
    errors: findings
      .filter(({ level }) => level === "error")
      .map(({ code, where }) => `${code} ${where?.row ?? "-"} ${where?.column ?? "-"}`),
  };
}

describe("a table of output corrections", () => {
  test("is read row by row, sizes in any order", () => {
    const { table, errors } = read(HEADER, "100,1,0,book", "5,1.02,0.8,book");
    expect(errors).toEqual([]);
    expect(table.values).toEqual([
      { row: 1, line: 2, equivalent_square_mm: 100, output_correction: 1, u_percent: 0, source: "book" },
      { row: 2, line: 3, equivalent_square_mm: 5, output_correction: 1.02, u_percent: 0.8, source: "book" },
    ]);
    expect(table.volumeAveraging).toBeUndefined();
  });

  test.each(["included", "apart"])("may say that volume averaging is %s", (word) => {
    const { table, errors } = read(`${HEADER},volume_averaging`, `100,1,0,book,${word}`, `5,1.02,0.8,book,${word}`);
    expect(errors).toEqual([]);
    expect(table.volumeAveraging).toBe(word);
  });

  test.each([
    ["no size", ",1.02,0.8,book", "cell-missing 2 equivalent_square_mm"],
    ["no factor", "5,,0.8,book", "cell-missing 2 output_correction"],
    ["no uncertainty", "5,1.02,,book", "cell-missing 2 u_percent"],
    ["no source", "5,1.02,0.8,", "cell-missing 2 source"],
    ["a factor in per cent", "5,102,0.8,book", "number-range 2 output_correction"],
    ["a size of nil", "0,1.02,0.8,book", "number-range 2 equivalent_square_mm"],
    ["a size twice", "100.0,1.02,0.8,another book", "correction-duplicate 2 -"],
  ])("with %s is an error", (_, row, error) => {
    expect(read(HEADER, "100,1,0,book", row).errors).toEqual([error]);
  });

  test("that says of volume averaging now this, now that is one error, and a word that is none has its own", () => {
    const header = `${HEADER},volume_averaging`;
    expect(read(header, "100,1,0,b,apart", "10,1.01,0,b,", "5,1.02,0.8,b,included").errors).toEqual([
      "correction-disagrees 2 volume_averaging",
    ]);
    expect(read(header, "100,1,0,b,apart", "5,1.02,0.8,b,no").errors).toEqual(["choice-unknown 2 volume_averaging"]);
  });
});

/** Invented factors. Their sizes are those of the made-up fields: √(5.1·5), √(10.1·10), √(30.1·30) and √(100.1·100) mm. */
const rowsOf = (more: MadeUpRow): MadeUpRow[] =>
  [
    [Math.sqrt(5.1 * 5), 1.02, 0.8],
    [Math.sqrt(10.1 * 10), 1.01, 0.4],
    [Math.sqrt(30.1 * 30), 1.005, 0.4],
    [Math.sqrt(100.1 * 100), 1.002, 0],
  ].map(([equivalent_square_mm, output_correction, u_percent]) => ({
    ...{ equivalent_square_mm, output_correction, u_percent, source: "invented" },
    ...more,
  }));

const evaluated = (more?: MadeUpRow) =>
  evaluate(madeUpCampaign((tables) => void (more && Object.assign(tables, { "output-corrections": rowsOf(more) }))));
const numbers = ({ result }: ReturnType<typeof evaluate>) =>
  new Map(result.quantities.map((quantity) => [quantity.id, quantity]));

describe("with a table of output corrections", () => {
  const plain = numbers(evaluated());
  const apart = numbers(evaluated({ volume_averaging: "apart" }));
  const included = numbers(evaluated({ volume_averaging: "included" }));

  test.each([
    ["5x5", 1.02],
    ["10x10", 1.01],
    ["30x30", 1.005],
  ])("the output factor of %s is that without, times k(S_f)/k(S_ref)", (name, k) => {
    const [before, after] = [plain.get(`output-factor.${name}`)!, apart.get(`output-factor.${name}`)!];
    expect(apart.get(`output-correction.${name}`)!.value).toBeCloseTo(k / 1.002, 12);
    expect(after.value / before.value).toBeCloseTo(k / 1.002, 12); // assumptions.outputCorrection is 1
    const keys = after.budget.map(({ input }) => input);
    expect(keys).toContain("output-corrections/invented/error of the fields");
    expect(keys).not.toContain("output-correction");
  });

  test("volume averaging in the table is neither applied twice nor reported as a factor", () => {
    const [k, reference] = ["5x5", "100x100"].map((name) => apart.get(`volume-averaging.${name}`)!.value);
    const ratio = apart.get("output-factor.5x5")!.value / included.get("output-factor.5x5")!.value;
    expect(ratio).toBeCloseTo(k! / reference!, 12);
    expect(k! / reference!).toBeGreaterThan(1.005); // so that the two could not be mistaken for each other
    expect([...included.keys()].filter((id) => id.startsWith("volume-averaging."))).toEqual([]);
    expect(included.has("positioning.5x5")).toBe(true);
  });

  test("what contributes most has a name", () => {
    const { id, budget, ...rest } = included.get("output-correction.5x5")!;
    expect(largestContribution({ id, budget, ...rest })!.name).toBe("output correction");
  });

  test("a trace leads to the rows of the table", () => {
    const keys = JSON.stringify(traceQuantity(evaluated({}), "output-correction.10x10"));
    expect(keys).toContain("output-factors/10x10/table");
    expect(keys).toContain("output-factors/100x100/table");
    expect(keys).toContain(`output-corrections/${Math.sqrt(30.1 * 30)} mm`);
  });

  test("a changed row of it is what a comparison names", () => {
    const changed = rowsOf({}).map((row, i) => (i === 0 ? { ...row, output_correction: 1.03 } : row));
    const after = evaluate(madeUpCampaign((tables) => void Object.assign(tables, { "output-corrections": changed })));
    const { quantities } = compareEvaluations(evaluated({}), after);
    const five = quantities.find(({ id }) => id === "output-factor.5x5")!;
    expect(five.attributions.map(({ input, before, after: now }) => ({ input, before, after: now }))).toEqual([
      { input: `output-corrections/${Math.sqrt(5.1 * 5)} mm`, before: 1.02, after: 1.03 },
    ]);
  });

  test("without it nothing new is reported", () => {
    expect([...plain.keys()].filter((id) => id.startsWith("output-correction."))).toEqual([]);
  });

  test("trials give the interval of value ± U", () => {
    const { quantities } = monteCarloOf(evaluated({ volume_averaging: "apart" }), { trials: 20_480, seed: 1 }).result;
    const { value, U, interval95 } = quantities.find(({ id }) => id === "output-correction.5x5")!;
    expect(interval95![0]).toBeCloseTo(value - U!, 3);
    expect(interval95![1]).toBeCloseTo(value + U!, 3);
  });
});
