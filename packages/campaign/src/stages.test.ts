import { describe, expect, it } from "vitest";
import { evaluate } from "./evaluate.ts";
import { type MadeUpTables, madeUpCampaign, put, rowsOf, scale } from "./testing/made-up-campaign.ts";

type Change = Parameters<typeof madeUpCampaign>[0];

/** Standing and reason of every stage. */
function stagesOf(change?: Change, detector?: { readonly repeats: number }) {
  const { stages } = evaluate(madeUpCampaign(change, detector)).result;
  return Object.fromEntries(stages.map(({ id, standing, reason }) => [id, [standing, reason] as const]));
}

const role =
  (value: string, ...conditions: string[]): NonNullable<Change> =>
  ({ separation }) => {
    for (const condition of conditions) for (const row of rowsOf(separation, condition)) row["role"] = value;
  };
const only =
  (...conditions: string[]): NonNullable<Change> =>
  (tables) => {
    tables.separation = tables.separation.filter(({ condition }) => conditions.includes(`${condition}`));
  };
const both =
  (...changes: NonNullable<Change>[]): NonNullable<Change> =>
  (tables, descriptor, more) => {
    for (const change of changes) change(tables, descriptor, more);
  };

describe("the standing of the separation", () => {
  it("is sound with a pass at or above the middle of the fit's stem loads, and none failed", () => {
    expect(stagesOf()["separation"]![0]).toBe("sound");
    expect(stagesOf()["separation"]![1]).toMatch(/^half and turned kept aside: within 0\.0\d+ % of their group$/);
  });

  it("is untested with as many unknowns as conditions and nothing kept aside", () => {
    expect(stagesOf(only("short", "long"))["separation"]).toEqual([
      "untested",
      "as many unknowns as conditions: the fit agrees with itself by construction",
    ]);
  });

  it("is untested where the fit agrees with itself and nothing was kept aside", () => {
    const change = both(only("short", "long", "half"), role("fit", "half"));
    expect(stagesOf(change)["separation"]).toEqual([
      "untested",
      "the fit agrees with itself; nothing was kept aside to test it",
    ]);
    // without repeats nobody can say so
    expect(stagesOf(change, { repeats: 1 })["separation"]![1]).toContain("nobody can say");
  });

  it("is untested where only less fibre than the middle was kept aside", () => {
    const [standing, reason] = stagesOf(only("short", "long", "half"))["separation"]!;
    expect(standing).toBe("untested");
    expect(reason).toMatch(/^half .*less fibre than the middle of the fit's range$/);
  });

  it("is untested where what was kept aside says nothing", () => {
    const change = both(only("short", "long", "turned"), ({ separation }) => {
      for (const [i, row] of rowsOf(separation, "turned").entries()) scale([row], "signal_blue", [1.01, 0.99, 1][i]!);
    });
    expect(stagesOf(change)["separation"]).toEqual(["untested", "turned kept aside: inconclusive"]);
  });

  it("is untested where the fit conditions disagree, whatever passed", () => {
    const change = both(role("fit", "half"), ({ separation }) =>
      scale(rowsOf(separation, "half"), "signal_blue", 1.004),
    );
    const [standing, reason] = stagesOf(change)["separation"]!;
    expect(standing).toBe("untested");
    expect(reason).toContain("disagree with each other (p = ");
  });

  it("takes the fit conditions to disagree from p < 0.01", () => {
    const outcomes = [1.0005, 1.001, 1.0012, 1.0014, 1.0016, 1.0018, 1.002, 1.0025].map((factor) => {
      const change = both(role("fit", "half"), ({ separation }) =>
        scale(rowsOf(separation, "half"), "signal_blue", factor),
      );
      const { quantities, stages } = evaluate(madeUpCampaign(change)).result;
      const { p } = quantities.find(({ id }) => id === "separation.chi2")!;
      return { p: p!, disagree: stages.find(({ id }) => id === "separation")!.reason.includes("disagree") };
    });
    for (const { p, disagree } of outcomes) expect(disagree).toBe(p < 0.01);
    expect(outcomes.some(({ p }) => p < 0.01 && p > 0.0001)).toBe(true);
  });

  it("is broken where one failed, and everything that rests on it with it in word, not in number", () => {
    const found = evaluate(
      madeUpCampaign(({ separation }) => scale(rowsOf(separation, "turned"), "signal_blue", 0.99)),
    );
    const stages = Object.fromEntries(found.result.stages.map((stage) => [stage.id, stage]));
    expect(stages["separation"]).toMatchObject({ standing: "broken" });
    expect(stages["separation"]!.reason).toBe("turned kept aside: off by more than 0.50 %");
    expect(stages["output-factors"]).toMatchObject({ standing: "broken" });
    expect(stages["output-factors"]!.reason).toMatch(/; it rests on the separation, which is broken$/);
    expect(found.result.quantities.map(({ id }) => id)).toContain("output-factor.5x5"); // to be looked at, not to be used
  });
});

describe("the standing of the other stages", () => {
  it("is that of the separation, with reasons of their own", () => {
    expect(stagesOf()).toMatchObject({
      background: ["sound", "3 readings before, 3 readings after"],
      calibration: ["sound", "3 readings"],
    });
    expect(stagesOf()["output-factors"]![1]).toMatch(/^3 fields, the reference moved by 0\.0\d+ %$/);
    expect(stagesOf(only("short", "long"))["calibration"]).toEqual([
      "untested",
      "3 readings; it rests on the separation, which is untested",
    ]);
  });

  it("speaks of one field and one visit where there is one", () => {
    const stages = stagesOf((tables) => {
      tables["output-factors"] = tables["output-factors"].slice(0, 6);
    });
    expect(stages["output-factors"]![1]).toBe("1 field, one visit to the reference");
  });

  it("of the background is untested without repeats", () => {
    const stages = stagesOf((tables) => {
      tables.background = [tables.background[0]!, tables.background.at(-1)!];
    });
    expect(stages["background"]).toEqual([
      "untested",
      "1 reading before, 1 reading after; without repeats nobody knows its scatter",
    ]);
  });

  it("are there only for the series that the campaign has", () => {
    const few = stagesOf((tables) => {
      delete (tables as MadeUpTables).background;
      delete (tables as MadeUpTables)["output-factors"];
    });
    expect(Object.keys(few)).toEqual(["separation", "calibration"]);
  });
});

describe("what stops a stage", () => {
  it("stops those that need it: without a separation neither calibration nor output factors are evaluated", () => {
    const changes: NonNullable<Change>[] = [
      role("verify", "long"), // one condition in the fit
      ({ separation }) => put(rowsOf(separation, "half"), "dose_group", "another"),
      ({ separation }) => scale(rowsOf(separation, "long"), "signal_green", 0.1), // the stem ratio is negative
      ({ separation }) => put(separation, "signal_green", 0), // a dead channel
      ({ separation }) => (separation[4]!["monitor"] = 0),
    ];
    for (const change of changes) {
      const stages = stagesOf(change);
      expect(stages["separation"]![0]).toBe("broken");
      expect(stages["calibration"]).toEqual(["broken", "it needs the separation, which is broken"]);
      expect(stages["output-factors"]).toEqual(["broken", "it needs the separation, which is broken"]);
    }
  });

  it("each stage that stopped for a reason of its own says that one", () => {
    const stages = stagesOf((tables) => {
      role("verify", "long")(tables, madeUpCampaign().descriptor, {});
      for (const row of tables["output-factors"]) row["role"] = "field";
    });
    expect(stages["calibration"]![1]).toBe("it needs the separation, which is broken");
    expect(stages["output-factors"]![1]).toContain("no reading that counts has the role reference");
  });

  it("a dead channel is named before what follows from it", () => {
    const dead = evaluate(madeUpCampaign(({ separation }) => put(separation, "signal_blue", 0)));
    expect(dead.result.findings.filter(({ level }) => level === "error").map(({ code }) => code)).toEqual([
      "channel-not-positive",
    ]);
  });

  it("an error is listed once, however many stages it stops", () => {
    const { findings } = evaluate(madeUpCampaign(role("verify", "long"))).result;
    expect(findings.filter(({ code }) => code === "separation-indeterminate")).toHaveLength(1);
  });

  it("a campaign without a separation says so for each series that needs one", () => {
    const stages = stagesOf((tables) => {
      delete (tables as MadeUpTables).separation;
    });
    expect(stages["background"]![0]).toBe("sound");
    expect(stages["calibration"]).toEqual(["broken", expect.stringContaining("no separation series")]);
  });

  it("readings of a dead detector stop the output factors and throw nothing", () => {
    const stages = stagesOf((tables) => {
      delete (tables as MadeUpTables).background;
      for (const row of tables["output-factors"]) Object.assign(row, { signal_blue: 0, signal_green: 0 });
    });
    expect(stages["output-factors"]![0]).toBe("broken");
    expect(stages["calibration"]![0]).toBe("sound");
  });
});
