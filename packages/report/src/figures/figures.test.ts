import { evaluate, propagate, type Quantity } from "@alcedo-dosimetry/campaign";
import { type Figure, svgText, THEMES } from "@alcedo-dosimetry/figures";
import { describe, expect, test } from "vitest";
import { type Changes, drawnCampaign } from "../testing/drawn-campaign.ts";
import { conditionFigure, figureOf, figuresOf } from "./index.ts";

function drawn(changes: Changes = {}) {
  const campaign = drawnCampaign(changes);
  const evaluation = evaluate(campaign);
  const figures = figuresOf(campaign, evaluation);
  const figure = (id: string): Figure => {
    const found = figures.find((own) => own.id === id);
    if (!found) throw new Error(`no figure ${id} among ${figures.map((own) => own.id).join(", ")}`);
    return found;
  };
  const quantity = (id: string): Quantity => evaluation.result.quantities.find((own) => own.id === id)!;
  return { campaign, evaluation, figures, figure, quantity };
}

/** What a pointer is told, mark by mark. */
const titles = (figure: Figure) =>
  [...svgText(figure, "light").matchAll(/<title>([^<]*)<\/title>/g)].map(([, text]) => text!);
const usual = drawn();

describe("the figures of an evaluation", () => {
  test("come in the order of the chain, then budgets, then readings", () => {
    expect(usual.figures.map(({ id }) => id)).toEqual([
      "geometry.separation",
      "separation",
      "stem-load",
      "geometry.output-factors",
      "output-factors",
      "reference-drift",
      "budget.separation.stem-ratio",
      "budget.calibration.coefficient",
      "budget.output-factor.30x30",
      "budget.output-factor.10x10",
      "budget.output-factor.cone-15",
      "readings.separation.little",
      "readings.separation.much",
      "readings.separation.half",
      "readings.separation.beyond",
      "readings.calibration.ref",
      "readings.output-factors.a",
      "readings.output-factors.30x30",
      "readings.output-factors.10x10",
      "readings.output-factors.cone-15",
    ]);
  });

  test("have ids of their own, a heading and words, and are the same each time they are drawn", () => {
    expect(new Set(usual.figures.map(({ id }) => id)).size).toBe(usual.figures.length);
    const again = drawn().figures;
    usual.figures.forEach((figure, k) => {
      expect(figure.title).not.toBe("");
      expect(figure.description.length).toBeGreaterThan(40);
      for (const theme of THEMES) expect(svgText(again[k]!, theme)).toBe(svgText(figure, theme));
    });
  });

  test("are found by their id, and none by a name that no figure has", () => {
    expect(figureOf(usual.campaign, usual.evaluation, "stem-load")!.id).toBe("stem-load");
    expect(figureOf(usual.campaign, usual.evaluation, "constructor")).toBeUndefined();
  });

  test("leave the model as it was: drawing adds nothing to what was evaluated", () => {
    const { campaign, evaluation } = usual;
    const before = evaluation.model!.tape.length;
    figuresOf(campaign, evaluation);
    expect(evaluation.model!.tape.length).toBe(before);
  });

  test("are drawn as far as the separation came where it stopped: channels that were swapped leave no weights", () => {
    const campaign = drawnCampaign();
    const { separation } = campaign.tables;
    const columns = separation!.columns.map((column) =>
      column === "signal_blue" ? "signal_green" : column === "signal_green" ? "signal_blue" : column,
    );
    const swapped = { ...campaign, tables: { ...campaign.tables, separation: { ...separation!, columns } } };
    const evaluation = evaluate(swapped);
    expect(evaluation.evaluated!.weights).toBeUndefined();
    const ids = figuresOf(swapped, evaluation).map(({ id }) => id);
    expect(ids).toContain("geometry.separation");
    expect(ids.filter((id) => id.startsWith("readings."))).toEqual([]);
  });

  test("are none where nothing could be evaluated", () => {
    const broken = drawnCampaign();
    const campaign = { ...broken, tables: {} };
    expect(figuresOf(campaign, evaluate(campaign))).toEqual([]);
  });
});

describe("the separation", () => {
  test("is drawn through the exact set with a stem ratio of 0.75", () => {
    const { description } = usual.figure("separation");
    const { value, U } = usual.quantity("separation.stem-ratio");
    expect(value).toBeCloseTo(0.75, 3);
    expect(description).toContain(`stem ratio ${value.toFixed(5)} ± ${U!.toFixed(5)}`);
    expect(description).toContain("2 fit conditions (little, much)");
    expect(description).toMatch(/half [+−][\d.]+ ± [\d.]+ % \(passed\)/);
  });

  test("gives each condition kept aside the residual and the verdict of the evaluation", () => {
    const wrong = drawn({ wrong: 0.01 });
    const { value } = wrong.quantity("separation.verify.beyond");
    // 1 % of 23 over the corrected 3.875
    expect(value).toBeCloseTo(0.23 / 3.875, 3);
    expect(wrong.figure("separation").description).toMatch(
      new RegExp(`beyond \\+${(100 * value).toFixed(1)}\\d? ± [\\d.]+ % \\(failed\\)`),
    );
  });

  test("has the ellipses of the model's own covariance, and none where no repeats tell it", () => {
    expect(svgText(usual.figure("separation"), "light").match(/<polygon/g)).toHaveLength(4);
    const alone = drawn({ repeats: 1 });
    expect(svgText(alone.figure("separation"), "light")).not.toContain("<polygon");
    expect(alone.figure("separation").description).toContain("uncertainty unknown");
  });

  test("is drawn per Gy where doses are known, and over each group's own signal where only some are", () => {
    expect(drawn({ doses: "all" }).figure("separation").description).toContain("in nC per Gy: a line");
    const some = drawn({ doses: "some" }).figure("separation");
    expect(some.description).toContain("in corrected signal of the group: a line");
    // over the group's signal every condition lies on y = 1 + 0.75·x, whatever its dose
    const places = titles(some).flatMap(
      (title) => /: ([\d.]+) against ([\d.]+) /.exec(title)?.slice(1).map(Number) ?? [],
    );
    expect(places.length).toBeGreaterThan(10);
    for (let k = 0; k < places.length; k += 2) expect(places[k]).toBeCloseTo(1 + 0.75 * places[k + 1]!, 2);
  });

  test("has no plane with three channels, and all else", () => {
    const three = drawn({ third: true });
    expect(three.figures.map(({ id }) => id)).not.toContain("separation");
    expect(three.figures.map(({ id }) => id)).toContain("budget.separation.weight.red");
    expect(three.figure("stem-load").description).toContain("light taken away over what is left");
  });
});

describe("stem loads", () => {
  test("are those of the evaluation, for every reading, those that are left out marked with their reason", () => {
    const figure = usual.figure("stem-load");
    // 3.5/(6.5 − 0.75·3.5) and 25.5/(23 − 0.75·25.5)
    expect(figure.description).toContain("little 0.903");
    expect(figure.description).toContain("beyond 6.58");
    expect(figure.description).toContain("30 readings under 9 conditions");
    expect(titles(figure).filter((title) => title.endsWith("left out: door opened"))).toHaveLength(1);
  });
});

describe("output factors", () => {
  test("are those of the evaluation with their intervals", () => {
    const { value, U } = usual.quantity("output-factor.cone-15");
    const decimals = 1 - Number(U!.toExponential(1).split("e")[1]);
    expect(usual.figure("output-factors").description).toContain(
      `cone-15 (13.3 mm) ${value.toFixed(decimals)} ± ${U!.toFixed(decimals)}`,
    );
  });

  test("are compared with a reference set where there is one, and what disagrees is said to", () => {
    const source = `planning <system> & "more"`;
    const set = drawn({
      referenceSet: [
        ["10x10", "", 0.9, 1, source],
        ["", 5, 0.4, 1, "curve"],
        ["", 50, 0.95, 1, "curve"],
      ],
    });
    const { description } = set.figure("output-factors");
    expect(description).toMatch(/Against planning <system> & "more": 10x10 −\d+\.\d+ ± [\d.]+ % \(outside\)/);
    expect(description).toContain("Against curve: ");
    expect(set.quantity(`comparison.${source}.10x10`).en!).toBeLessThan(-1);
    expect(svgText(set.figure("output-factors"), "print")).toContain("planning &lt;system&gt; &amp; &quot;more&quot;");
  });

  test("have a reference that moves as the model says", () => {
    const { value } = usual.quantity("output-factors.drift");
    const figure = usual.figure("reference-drift");
    expect(figure.description).toContain("2 visits");
    expect(figure.description).toContain("a/2 after");
    expect(value).toBeGreaterThan(0);
    const { evaluated, model } = usual.evaluation;
    const [first, second] = evaluated!.outputFactors!.reference.moves;
    expect(propagate(model!, first!)).toMatchObject({ value: 0, u: 0 });
    expect(Math.abs(propagate(model!, second!).value)).toBeCloseTo(value, 6);
  });

  test("are drawn without times, too", () => {
    const { figure } = drawn({ times: false });
    expect(figure("reference-drift").description).not.toContain("min");
    expect(svgText(figure("readings.output-factors.10x10"), "light")).toContain("in the order of the table");
  });
});

describe("the geometry", () => {
  test("takes the field of a separation from the condition that its dose group is named after", () => {
    expect(usual.figure("geometry.separation").description).toContain(
      "much: 100 × 100 mm, FWHM 100.2 × 100.1 mm, fibre 400 mm",
    );
  });

  test("shows fields as set and as measured, and no volume that nobody has stated", () => {
    const { description } = usual.figure("geometry.output-factors");
    expect(description).toContain("10x10: 10 × 10 mm, FWHM 10.1 × 9.9 mm");
    expect(description).toContain("cone-15: ⌀ 15 mm");
    expect(description).toContain("Active volume");
    expect(drawn({ volume: false }).figure("geometry.output-factors").description).not.toContain("Active volume");
  });
});

describe("one condition alone", () => {
  test("is drawn for a field and for an arrangement of the separation, with its figures in words", () => {
    const field = conditionFigure(usual.campaign, "output-factors", "cone-15")!;
    expect(field.description).toContain("cone-15: ⌀ 15 mm");
    expect(conditionFigure(usual.campaign, "separation", "much")!.description).toContain("fibre 400 mm");
  });

  test("needs no evaluation: a separation of one reading is drawn already", () => {
    const { separation } = usual.campaign.tables;
    const early = { ...usual.campaign, tables: { separation: { ...separation!, rows: separation!.rows.slice(0, 1) } } };
    expect(evaluate(early).evaluated).toBeUndefined();
    expect(conditionFigure(early, "separation", "little")!.description).toContain("fibre 50 mm");
  });

  test("is none where nothing is said of field and fibre, or the condition is not there", () => {
    expect(conditionFigure(usual.campaign, "output-factors", "nowhere")).toBeUndefined();
    expect(conditionFigure({ ...usual.campaign, descriptor: {} as never }, "separation", "much")).toBeUndefined();
  });
});

describe("budgets and readings", () => {
  test("name the largest share first, as the evaluation has it", () => {
    const { budget } = usual.quantity("output-factor.cone-15");
    const largest = budget.reduce((a, b) => (b.share > a.share ? b : a));
    expect(usual.figure("budget.output-factor.cone-15").description).toContain(
      `Shares of the variance: ${largest.label} `,
    );
  });

  test("show the readings of all visits, and the one that is left out", () => {
    expect(usual.figure("readings.output-factors.a").description).toContain("6 readings over");
    const { description } = usual.figure("readings.output-factors.10x10");
    expect(description).toContain("3 readings");
    expect(description).toMatch(/10x10-\d+ is left out \(door opened\); it is off by −21\.\d+/);
  });
});
