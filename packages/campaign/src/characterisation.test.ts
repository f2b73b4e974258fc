import { describe, expect, it } from "vitest";
import { characterisationOf, NoCharacterisationError } from "./characterisation-of.ts";
import { type EvaluateOptions, evaluate } from "./evaluate.ts";
import { readCharacterisation } from "./read-characterisation.ts";
import { madeUpCampaign } from "./testing/made-up-campaign.ts";
import { type OtherDay, onAnotherDay } from "./testing/other-day.ts";

const whole = madeUpCampaign();
const evaluation = evaluate(whole);
const stored = characterisationOf(whole, evaluation);

/** The same readings of fields, by the characterisation of the day instead of its separation. */
const later = (spoil?: OtherDay, calibration?: "stored" | "own") => madeUpCampaign(onAnotherDay(spoil, calibration));

const evaluated = (spoil?: OtherDay, options?: EvaluateOptions) => evaluate(later(spoil), [], options);
const codes = (spoil?: OtherDay, options?: EvaluateOptions) =>
  evaluated(spoil, options).result.findings.map(({ code }) => code);
const quantity = ({ result }: ReturnType<typeof evaluate>, id: string) =>
  result.quantities.find((one) => one.id === id)!;

describe("a characterisation that is handed on", () => {
  it("holds values, covariance, inputs, identity, origin and verified range of the campaign", () => {
    const rho = quantity(evaluation, "separation.stem-ratio");
    const coefficient = quantity(evaluation, "calibration.coefficient");
    expect(stored).toMatchObject({
      campaign: whole.descriptor.name,
      input: evaluation.result.input,
      date: "2026-03-12",
      standing: "sound",
      identity: { fibre: whole.descriptor.alcedo.detector.id, modality: "photon" },
      channels: ["blue", "green"],
      quantities: [
        { id: "separation.stem-ratio", unit: "1", value: rho.value },
        { id: "calibration.coefficient", unit: "Gy/nC", value: coefficient.value },
      ],
    });
    expect(Math.sqrt(stored.covariance[0]![0]!)).toBeCloseTo(rho.u!, 15);
    expect(Math.sqrt(stored.covariance[1]![1]!)).toBeCloseTo(coefficient.u!, 15);
    expect(stored.inputs).toContain("separation/long/repeats");
    expect(stored.inputs).toContain("calibration/dose");
    expect(stored.verifiedStemLoad).toBe(quantity(evaluation, "separation.verified-stem-load").value);
  });

  it("is read back without a fault, and says what does not fit", () => {
    expect(readCharacterisation(JSON.parse(JSON.stringify(stored)), "c.json").findings).toEqual([]);
    const faults = (change: object) =>
      readCharacterisation({ ...stored, ...change }, "c.json").findings.map(
        ({ code, message }) => `${code}: ${message}`,
      );
    expect(faults({ date: "2026-02-30" })).toEqual([
      expect.stringContaining('c.json: date is the text "2026-02-30"; it must be a day'),
    ]);
    expect(faults({ dates: 1 })).toEqual([expect.stringMatching(/^key-unknown: .*the nearest known one is date/)]);
    expect(faults({ covariance: [[1]] })).toEqual([expect.stringContaining("2 rows of 2 numbers")]);
    expect(
      faults({
        covariance: [
          [1, 2],
          [3, 4],
        ],
      }),
    ).toEqual([expect.stringContaining("not symmetric")]);
    expect(
      faults({
        covariance: [
          [1, 2],
          [2, 1],
        ],
      }),
    ).toEqual([expect.stringContaining("negative variance")]);
    expect(faults({ quantities: stored.quantities.toReversed() })).toEqual([
      expect.stringContaining("they have to be separation.stem-ratio"),
    ]);
    expect(faults({ signalUnit: "pC" })).toEqual([expect.stringContaining("calibration.coefficient is in Gy/pC")]);
    expect(faults({ quantities: [{ ...stored.quantities[0], value: -1 }], covariance: [[1]] })).toEqual([
      expect.stringContaining("is above 0"),
    ]);
  });

  it("is refused from a broken separation, from one without repeats, and where nothing tells the day", () => {
    const broken = madeUpCampaign(({ separation }) => {
      for (const row of separation)
        if (row["condition"] === "turned") row["signal_blue"] = Number(row["signal_blue"]) * 0.97;
    });
    expect(() => characterisationOf(broken, evaluate(broken))).toThrow(/The separation is broken: turned/);
    const timeless = madeUpCampaign((tables) => {
      for (const row of [...tables.separation, ...tables.calibration]) delete row["time"];
    });
    expect(() => characterisationOf(timeless, evaluate(timeless))).toThrow(NoCharacterisationError);
    expect(characterisationOf(timeless, evaluate(timeless), "2026-03-13").date).toBe("2026-03-13");
    const again = later();
    expect(() => characterisationOf(again, evaluate(again))).toThrow(/no separation of its own/);
  });
});

describe("a campaign with the characterisation of another day", () => {
  const now = evaluate(later());

  it("has the same stem ratio, coefficient, output factors and doses as one with the readings themselves", () => {
    for (const id of [
      "separation.stem-ratio",
      "calibration.coefficient",
      "output-factor.5x5",
      "dose.output-factors.5x5",
    ]) {
      expect(quantity(now, id).value).toBeCloseTo(quantity(evaluation, id).value, 14);
      // what both days share (background, temperature) is independent here, and small
      expect(Math.abs(quantity(now, id).u! / quantity(evaluation, id).u! - 1)).toBeLessThan(0.03);
    }
    expect(now.result.standing).toBe("sound");
    expect(now.result.findings.filter(({ level }) => level !== "notice")).toEqual([]);
  });

  it("keeps the correlation of stem ratio and coefficient: taken apart, a dose would be less certain", () => {
    // with a dose known to 0.01 %, so that the stem ratio is most of the coefficient's uncertainty
    const precise = madeUpCampaign(({ calibration }) => {
      for (const row of calibration) row["dose_u_percent"] = 0.01;
    });
    const uOf = (apart: boolean) => {
      const campaign = later((own) => {
        Object.assign(own, structuredClone(characterisationOf(precise, evaluate(precise))));
        if (apart) own.covariance[0]![1] = own.covariance[1]![0] = 0;
      });
      return quantity(evaluate(campaign), "dose.output-factors.100x100").u!;
    };
    expect(uOf(true) / uOf(false)).toBeGreaterThan(1.1);
  });

  it("may have a calibration of its own, which wins and is set against the old coefficient", () => {
    const both = evaluate(later((own) => (own.quantities[1]!.value *= 1.01), "own"));
    expect(quantity(both, "calibration.coefficient").value).toBeCloseTo(
      quantity(evaluation, "calibration.coefficient").value,
      14,
    );
    expect(quantity(both, "separation.coefficient-difference").value).toBeCloseTo(0.01, 10);
  });

  it("is refused where it holds for another fibre, reader, energy, filter, field or unit, with every difference named", () => {
    const spoil: OtherDay = (own, { alcedo }) => {
      own.identity.fibre = "F-0001";
      own.identity.energy_MV = 10;
      alcedo.beam.magneticField_T = 1.5;
    };
    const { result } = evaluated(spoil);
    expect(result.standing).toBe("broken");
    expect(result.quantities.map(({ id }) => id).filter((id) => !id.startsWith("background."))).toEqual([]);
    expect(result.findings.find(({ code }) => code === "characterisation-of-another")!.message).toMatch(
      /fibre F-0001, here .*; beam energy 10 MV, here 6 MV; magnetic field 0 T, here 1.5 T\./,
    );
    expect(codes((own) => (own.channels = ["green", "blue"]))).toContain("characterisation-of-another");
  });

  it("warns of parts of the identity that only one side states", () => {
    expect(codes((own) => (own.identity.reader = "R-9"))).toContain("characterisation-identity-open");
    expect(codes()).not.toContain("characterisation-identity-open");
  });

  it("is stale beyond a year or 1000 Gy, by the day of the readings or the one that is given, and its limits may be stated", () => {
    const stale = (spoil?: OtherDay, options?: EvaluateOptions) => {
      const { result } = evaluated(spoil, options);
      expect(result.findings.some(({ code }) => code === "characterisation-stale")).toBe(result.standing === "stale");
      return result.standing === "stale";
    };
    expect(stale()).toBe(false);
    expect(stale(undefined, { asOf: "2027-03-12" })).toBe(false);
    expect(stale(undefined, { asOf: "2027-03-13" })).toBe(true);
    expect(stale((own) => (own.date = "2025-03-11"))).toBe(true);
    const dosed =
      (dose: number): OtherDay =>
      (own, { alcedo }) => {
        own.accumulatedDose_Gy = 400;
        alcedo.detector.accumulatedDose_Gy = 400 + dose;
      };
    expect(stale(dosed(1000))).toBe(false);
    expect(stale(dosed(1001))).toBe(true);
    const strict: OtherDay = (_, { alcedo }) => {
      alcedo.criteria = { characterisationAge_days: 30 };
    };
    expect(stale(strict, { asOf: "2026-04-11" })).toBe(false);
    expect(stale(strict, { asOf: "2026-04-12" })).toBe(true);
  });

  it("notices an age that is unknown, or below zero", () => {
    const timeless: OtherDay = (_, __, tables) => {
      for (const rows of Object.values(tables)) for (const row of rows) delete row["time"];
    };
    expect(codes(timeless)).toContain("characterisation-age-doubtful");
    expect(codes(timeless, { asOf: "2026-03-20" })).not.toContain("characterisation-age-doubtful");
    expect(codes(undefined, { asOf: "2026-03-01" })).toContain("characterisation-age-doubtful");
  });

  it("warns beyond the stem load that was verified then", () => {
    expect(codes()).not.toContain("stem-load-beyond-verified");
    expect(codes((own) => (own.verifiedStemLoad = 0.5))).toContain("stem-load-beyond-verified");
  });

  it("has another digest with another characterisation, and refuses a separation of its own beside it", () => {
    const other = evaluated((own) => (own.quantities[0]!.value += 1e-6));
    expect(other.result.input).not.toBe(now.result.input);
    const both = madeUpCampaign((_, __, more) => {
      more.characterisation = stored;
    });
    expect(evaluate(both).result.findings.map(({ code }) => code)).toEqual(["series-conflict"]);
    const absent = later();
    delete (absent as { characterisation?: unknown }).characterisation;
    expect(evaluate(absent).result.findings.map(({ code }) => code)).toContain("table-absent");
  });
});
