import { describe, expect, test } from "vitest";
import { evaluate } from "../evaluate.ts";
import { type MadeUpRow, madeUpCampaign, rowsOf, scale } from "../testing/made-up-campaign.ts";
import { MISFIT, readingMisfit } from "./reading-fit.ts";
import { type Visit, visitsOf } from "./visits.ts";

const CHANNELS = ["blue", "green"];

/** What is said of a reading of the made-up campaign after a change to its tables. */
function said(id: string, change: Parameters<typeof madeUpCampaign>[0] = () => undefined) {
  const campaign = madeUpCampaign(change);
  const visits = visitsOf(campaign, evaluate(campaign));
  const visit = visits.find(({ readings }) => readings.some((one) => one.id === id))!;
  return readingMisfit(visits, visit, id, CHANNELS);
}

const row = (rows: readonly MadeUpRow[], id: string) => rows.filter(({ reading }) => reading === id);

const byHand = (readings: readonly (readonly [number, number])[], more: Partial<Visit> = {}): Visit => ({
  series: "output-factors",
  condition: "10x10",
  readings: readings.map((signals, k) => ({ id: `r${k + 1}`, row: k, signals, digits: [1e-4, 1e-4] })),
  ...more,
});

describe("a reading that does not fit", () => {
  test("is none in a sound campaign: every reading of it fits", () => {
    const campaign = madeUpCampaign();
    const visits = visitsOf(campaign, evaluate(campaign));
    for (const visit of visits)
      for (const { id } of visit.readings) expect(readingMisfit(visits, visit, id, CHANNELS), id).toBeUndefined();
  });

  test("is said with its channel, how far it is off and what to do", () => {
    const misfit = said("10x10-3", ({ "output-factors": rows }) => scale(row(rows, "10x10-3"), "signal_blue", 1.027));
    expect(misfit).toMatchObject({ reading: "10x10-3", channel: 0 });
    expect(misfit!.message).toBe("10x10-3 is 2.7 % above the mean of its repeats in blue.");
    expect(misfit!.remedy).toContain("Redo this one.");
    expect(misfit!.p).toBeLessThan(MISFIT.level);
  });

  test("is said of the other channel as well", () => {
    const misfit = said("5x5-2", ({ "output-factors": rows }) => scale(row(rows, "5x5-2"), "signal_green", 0.96));
    expect(misfit).toMatchObject({ reading: "5x5-2", channel: 1 });
    expect(misfit!.message).toContain("below the mean of its repeats in green");
  });

  test("is not said of its repeats, whose scatter it widens", () => {
    const change = ({ "output-factors": rows }: { "output-factors": MadeUpRow[] }) =>
      scale(row(rows, "10x10-3"), "signal_blue", 1.027);
    expect(said("30x30-1", change)).toBeUndefined();
  });

  test("guesses at a decimal sign that slipped, and says so of the second reading already", () => {
    const misfit = said("10x10-2", ({ "output-factors": rows }) => {
      scale(row(rows, "10x10-2"), "signal_blue", 10);
      rows.splice(
        rows.findIndex(({ reading }) => reading === "10x10-3"),
        1,
      );
    });
    expect(misfit!.message).toMatch(/^10x10-2 is .* times 10x10-1 in blue\.$/);
    expect(misfit!.remedy).toBe("The decimal sign may have slipped. Redo this one, and see which of the two was off.");
    expect(misfit!.p).toBeUndefined();
  });

  test.each([
    [1.049, undefined],
    [1.051, "r2 is 5.1 % above r1 in blue."],
    [0.949, "r2 is 5.1 % below r1 in blue."],
  ])("with nothing else to go by is one that is more than 5 %% off: %f", (factor, message) => {
    const visit = byHand([
      [2, 1],
      [2 * factor, 1],
    ]);
    expect(readingMisfit([visit], visit, "r2", CHANNELS)?.message).toBe(message);
  });

  test("sees that the channels were typed the wrong way round", () => {
    const visit = byHand([
      [2, 1],
      [2.001, 1.001],
      [1.0005, 2.0004],
    ]);
    expect(readingMisfit([visit], visit, "r3", CHANNELS)).toMatchObject({
      message: "r3 has in blue what its repeats have in green, and the other way round.",
      remedy: "The channels were typed the wrong way round: correct it.",
    });
  });

  test("is not asked where both channels show the same", () => {
    const visit = byHand([
      [2, 2],
      [2.001, 2.001],
      [2, 2],
    ]);
    expect(readingMisfit([visit], visit, "r3", CHANNELS)).toBeUndefined();
  });

  test("cannot be told without repeats, nor of a reading that is left out or not there", () => {
    const lone = byHand([[2, 1]]);
    expect(readingMisfit([lone], lone, "r1", CHANNELS)).toBeUndefined();
    expect(readingMisfit([lone], lone, "r9", CHANNELS)).toBeUndefined();
    const out = said("10x10-3", ({ "output-factors": rows }) => {
      scale(row(rows, "10x10-3"), "signal_blue", 2);
      rowsOf(rows, "10x10")[2]!["exclude"] = "beam stopped";
    });
    expect(out).toBeUndefined();
  });

  test("is a t test with the reading kept out of the scatter: the limit for 3 degrees of freedom and two channels", () => {
    // own scatter: two repeats 1 ± d/2 (1 degree), and two other visits of two (2 degrees) with the same relative spread.
    // t at 3 degrees of freedom and two-sided p = 1 − √(1 − 0.001) is 16.32496 (SciPy's stats.t.isf)
    const d = 0.001;
    const pair = (mean: number, condition: string): Visit =>
      byHand(
        [
          [mean * (1 - d / 2), 1],
          [mean * (1 + d / 2), 1],
        ],
        { condition },
      );
    const others = [pair(3, "20x20"), pair(5, "30x30")];
    const scatter = Math.sqrt(((3 * d * d) / 2 / 3 + 1e-8 / 12) * 1.5);
    const at = (t: number) => {
      const visit = byHand([
        [1 - d / 2, 1],
        [1 + d / 2, 1],
        [1 + t * scatter, 1],
      ]);
      return readingMisfit([visit, ...others], visit, "r3", CHANNELS);
    };
    expect(at(16.2)).toBeUndefined();
    expect(at(16.45)).toBeDefined();
  });

  test("is not said of the last digit: equal repeats and one a digit away", () => {
    const visit = byHand([
      [1.1234, 0.5],
      [1.1234, 0.5],
      [1.1234, 0.5],
      [1.1235, 0.5],
    ]);
    expect(readingMisfit([visit], visit, "r4", CHANNELS)).toBeUndefined();
  });

  test("with the beam off goes by the scatter as it is, never by percent", () => {
    const dark = (last: number) =>
      byHand([...Array.from({ length: 6 }, (_, k) => [0.001 * (k % 3), 0.02] as const), [last, 0.02]], {
        series: "background",
      });
    const quiet = dark(0.003);
    expect(readingMisfit([quiet], quiet, "r7", CHANNELS)).toBeUndefined();
    const loud = dark(0.05);
    expect(readingMisfit([loud], loud, "r7", CHANNELS)!.message).toBe(
      "r7 is 0.0500 where its repeats have 0.00100 in blue.",
    );
  });
});
