import { describe, expect, test } from "vitest";
import { outcomeOf } from "./outcome.ts";
import { NAMES, REACH, SLIPS, START } from "./play.ts";

const way = (outcome: ReturnType<typeof outcomeOf>, id: string) => outcome.ways.find((one) => one.id === id);

describe("the virtual fibre", () => {
  test("at the start: the separation is sound, and the corrected output factor holds the true one", () => {
    const outcome = outcomeOf(START);
    expect(outcome.standing).toBe("sound");
    const today = way(outcome, "todays-ratio")!;
    expect(Math.abs(today.off)).toBeLessThan(0.01);
    expect(Math.abs(way(outcome, "first-channel")!.off)).toBeGreaterThan(3 * Math.abs(today.off));
    expect(outcome.stemRatio!.value).toBeCloseTo(outcome.truth.stemRatio, 2);
  });

  test("the first channel alone reads small fields low, since they see less fibre than the reference", () => {
    for (const side_mm of [6, 10, 30])
      expect(way(outcomeOf({ ...START, side_mm }), "first-channel")!.off).toBeLessThan(-0.02);
  });

  test("a field of the reference's size needs no correction: equal lengths of fibre cancel", () => {
    const outcome = outcomeOf({ ...START, side_mm: 80 });
    expect(Math.abs(way(outcome, "first-channel")!.off)).toBeLessThan(0.03);
  });

  test("fibre moved into the beam adds stem light to both channels, and none to the tip's", () => {
    const moved = (fibre_mm: number) =>
      outcomeOf({ ...START, fibre_mm }).lights.find(({ name }) => name === NAMES.moved)!.light;
    const [little, much] = [moved(60), moved(480)];
    // the dose is that of three readings, whose output wavers by a few tenths of a percent
    for (const c of [0, 1] as const) expect(much.tip[c] / little.tip[c]).toBeCloseTo(1, 2);
    for (const c of [0, 1] as const) expect(much.stem[c] / little.stem[c]).toBeCloseTo(8, 1);
  });

  test("an aged fibre read with the ratio of its first day gives wrong output factors, with today's right ones", () => {
    const outcome = outcomeOf({ ...START, dose_Gy: 4000 });
    expect(Math.abs(way(outcome, "old-ratio")!.off)).toBeGreaterThan(0.02);
    expect(Math.abs(way(outcome, "todays-ratio")!.off)).toBeLessThan(0.01);
    expect(outcome.stemRatio!.value).toBeLessThan(outcome.whenNew.stemRatio.value);
    expect(outcome.coefficient!.value).toBeGreaterThan(outcome.whenNew.coefficient.value);
  });

  test("a new fibre has one ratio, that of its first day", () => {
    const outcome = outcomeOf(START);
    expect(way(outcome, "old-ratio")!.value).toBeCloseTo(way(outcome, "todays-ratio")!.value, 6);
  });

  test("channels that were swapped are noticed", () => {
    const { findings, standing } = outcomeOf({ ...START, slip: "channels-swapped" });
    expect(standing).toBe("broken");
    expect(findings.map(({ code }) => code)).toContain("signal-not-positive");
  });

  test("doses that were not equal are noticed by the arrangement that was kept aside", () => {
    const { findings } = outcomeOf({ ...START, slip: "dose-unequal" });
    expect(findings.map(({ code }) => code)).toContain("verification-failed");
  });

  test("two arrangements alike leave the ratio unknown: its uncertainty grows as the contrast goes", () => {
    const u = (much_mm: number) => outcomeOf({ ...START, much_mm }).stemRatio!.u!;
    expect(u(100)).toBeGreaterThan(3 * u(400));
  });

  test("is one of noise: read again, it gives other figures, and the same seed the same", () => {
    expect(outcomeOf({ ...START, seed: 2 }).stemRatio!.value).not.toBe(outcomeOf(START).stemRatio!.value);
    expect(outcomeOf(START)).toEqual(outcomeOf(START));
  });

  test.each(
    SLIPS.flatMap((slip) =>
      (["least", "most"] as const).map((end) => ({
        ...{ slip, end },
        play: {
          ...START,
          slip,
          fibre_mm: REACH.fibre_mm[end],
          much_mm: REACH.much_mm[end],
          side_mm: REACH.side_mm[end],
          dose_Gy: REACH.dose_Gy[end],
        },
      })),
    ),
  )("can be moved to the $end of everything with the slip $slip, and something is shown", ({ play }) => {
    const outcome = outcomeOf(play);
    expect(outcome.lights).toHaveLength(5);
    expect(outcome.geometry.description).toContain("moved by you");
    expect(outcome.ways.every(({ value }) => Number.isFinite(value))).toBe(true);
  });
});
