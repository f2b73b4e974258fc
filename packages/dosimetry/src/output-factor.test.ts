import { budget, propagate, type Scalar } from "@alcedo-dosimetry/metrology";
import { describe, expect, it } from "vitest";
import type { ActiveVolume } from "./active-volume.ts";
import type { Measured } from "./chain.ts";
import type { OutputCorrectionTable } from "./output-correction-table.ts";
import { addOutputFactors, type OutputFactorReading } from "./output-factor.ts";
import { addSeparation, type SeparationReading } from "./separation.ts";
import { EXACT, FIELD_SERIES } from "./testing/exact-set.ts";
import { exactChain, type Row, repeated, seriesOf } from "./testing/made-up-series.ts";

type FieldRow = Row<OutputFactorReading>;
type More = Partial<OutputFactorReading>;

/** A field so wide that neither the tip's size nor its place could matter. */
const OPEN: More = { shape: "rectangle", x_mm: 100, y_mm: 100, fwhm_x_mm: 100, fwhm_y_mm: 100 };

const reference = (signals: readonly number[] = EXACT.little, more: More = {}): FieldRow => [
  "ref",
  signals,
  { ...OPEN, role: "reference", ...more },
];
const field = (condition: string, signals: readonly number[], more: More = {}): FieldRow => [
  condition,
  signals,
  { ...OPEN, role: "field", ...more },
];

const ONE_EXACTLY: Measured = { value: 1, u: 0 };

function outputs(
  rows: readonly FieldRow[],
  {
    outputCorrection = ONE_EXACTLY,
    intermediateLink = ONE_EXACTLY,
    chain = exactChain(),
    activeVolume = undefined as ActiveVolume | undefined,
    correctionTable = undefined as OutputCorrectionTable | undefined,
  } = {},
) {
  const stem = (name: string, signals: readonly number[]): Row<SeparationReading> => [
    name,
    signals,
    { doseGroup: "a", role: "fit", digits: [1e-9, 1e-9] },
  ];
  const pairs = [0, 1].flatMap(() => [stem("little", EXACT.little), stem("much", EXACT.much)]);
  const separation = addSeparation(chain, seriesOf<SeparationReading>("separation", pairs), 0);
  const series = seriesOf<OutputFactorReading>("output-factors", rows);
  const found = addOutputFactors(chain, series, separation, {
    outputCorrection,
    intermediateLink,
    fieldWidth_u_mm: 0.1,
    positioning_u_mm: 0.1,
    penumbraSigma_mm: { value: 1.5, u: 0.29 },
    ...(activeVolume && { activeVolume }),
    ...(correctionTable && { correctionTable }),
  });
  const omega = (name: string) => found.fields.find(({ net }) => net.name === name)!.outputFactor;
  const inputs = (node: Scalar) => budget(propagate(chain.model, node));
  return { ...found, chain, omega, inputs, relative: (node: Scalar) => propagate(chain.model, node).u / node.value };
}

describe("the field output factor", () => {
  it("OF-1: is the field's corrected signal over the reference's: 0.60 for the exact set (docs/checks.md, Light, C)", () => {
    const { omega, fields } = outputs([reference(), field("small", EXACT.small)]);
    expect(omega("small").value).toBeCloseTo(0.6, 12);
    expect(omega("small").unit.symbol).toBe("1");
    expect(omega("small").tape.names.get(omega("small").index)?.key).toBe("output-factor.small");
    expect(fields[0]!.corrected.value).toBeCloseTo(2.325, 12);
    expect(fields[0]!.reference.value).toBeCloseTo(3.875, 12);
  });

  it("OF-1: test set B of docs/job.md (C) against the exact set's 100 cGy", () => {
    const { omega } = outputs([reference(), ...FIELD_SERIES.map(({ field: name, signals }) => field(name, signals))]);
    for (const { field: name, dose_cGy } of FIELD_SERIES) expect(omega(name).value).toBeCloseTo(dose_cGy / 100, 11);
    // docs/job.md: without removing the stem light the 5 mm field over the 40 mm one is 0.597 instead of 0.680 (C)
    expect(omega("5").value / omega("40").value).toBeCloseTo(0.68, 3);
    expect(FIELD_SERIES[4].signals[0] / FIELD_SERIES[0].signals[0]).toBeCloseTo(0.597, 3);
  });

  it("OF-1: is a dose per monitor unit: readings are divided by MU", () => {
    const twice = EXACT.small.map((signal) => 2 * signal);
    const { omega, divisor } = outputs([reference(EXACT.little, { mu: 100 }), field("small", twice, { mu: 200 })]);
    expect(divisor).toBe("mu");
    expect(omega("small").value).toBeCloseTo(0.6, 12);
  });

  it("OF-1: or by the monitor that follows the output", () => {
    const more = EXACT.small.map((signal) => 1.02 * signal);
    const { omega, divisor } = outputs([
      reference(EXACT.little, { mu: 100, monitor: 10 }),
      field("small", more, { mu: 100, monitor: 10.2 }),
    ]);
    expect(divisor).toBe("monitor");
    expect(omega("small").value).toBeCloseTo(0.6, 12);
  });

  it("OF-8: a monitor that sees the field is dropped for the monitor units", () => {
    const rows = (monitor: number) => [
      ...repeated(3, reference(EXACT.little, { mu: 100, monitor: 10 })),
      ...repeated(3, field("small", EXACT.small, { mu: 100, monitor })),
    ];
    const seen = outputs(rows(10.1));
    expect(seen.monitor).toMatchObject({ seesField: true });
    expect(seen.divisor).toBe("mu");
    expect(seen.omega("small").value).toBeCloseTo(0.6, 12);
    const unseen = outputs(rows(10.02)); // 0.2 %: not enough to matter
    expect(unseen.divisor).toBe("monitor");
    expect(unseen.omega("small").value).toBeCloseTo(0.6 / 1.002, 12);
  });

  it("OF-2: a stated volume averaging counts over that of the reference, with its own uncertainty", () => {
    const { omega, fields, referenceFactors, relative } = outputs([
      reference(EXACT.little, { k_volume: 1.001, k_volume_u: 0 }),
      field("small", EXACT.small, { k_volume: 1.02, k_volume_u: 0.004 }),
      field("other", EXACT.small, { k_volume: 1.01 }),
    ]);
    expect(omega("small").value).toBeCloseTo((0.6 * 1.02) / 1.001, 12);
    expect(fields[0]!.volumeAveraging.value).toBe(1.02); // that field's alone
    expect(referenceFactors.volumeAveraging.value).toBe(1.001);
    expect(relative(fields[0]!.volumeAveraging)).toBeCloseTo(0.004 / 1.02, 12);
    expect(relative(fields[1]!.volumeAveraging)).toBe(0);
    expect(relative(omega("small"))).toBeCloseTo(0.004 / 1.02, 6);
  });

  it("OF-2: other output corrections and the intermediate link are factors, common to all fields", () => {
    const chain = exactChain();
    const { omega, inputs, relative } = outputs([reference(), field("a", EXACT.small), field("b", [2.2, 1])], {
      outputCorrection: { value: 1.001, u: 0.005 },
      intermediateLink: { value: 0.62, u: 0.0031 },
      chain,
    });
    expect(omega("a").value).toBeCloseTo(0.6 * 1.001 * 0.62, 12);
    expect(relative(omega("a"))).toBeCloseTo(Math.hypot(0.005 / 1.001, 0.0031 / 0.62), 5);
    expect(inputs(omega("a")).map(({ input }) => input)).toEqual(
      expect.arrayContaining(["output-correction", "intermediate-link"]),
    );
    // in a ratio of two fields they drop out
    const ratio = inputs(omega("a").over(omega("b"))).filter(({ contribution }) => contribution > 1e-12);
    expect(ratio.map(({ input }) => input)).not.toContain("output-correction");
  });

  /** Invented: k relative to a field of 100 mm. */
  const tabled = (volumeAveraging: OutputCorrectionTable["volumeAveraging"], u_percent = 0): OutputCorrectionTable => ({
    volumeAveraging,
    values: [
      { equivalent_square_mm: 5, output_correction: 0.97, u_percent, source: "invented" },
      { equivalent_square_mm: 50, output_correction: 1, u_percent, source: "invented" },
      { equivalent_square_mm: 100, output_correction: 1.004, u_percent: 0, source: "invented" },
    ],
  });
  const small = (side: number, more: More = {}): More => ({ fwhm_x_mm: side, fwhm_y_mm: side, ...more });

  it("OC-6: a table of output corrections gives each field k(S_f)/k(S_ref) in place of the common factor", () => {
    const { omega, fields, inputs, relative, referenceFactors } = outputs(
      [reference(), field("small", EXACT.small, small(5)), field("wide", EXACT.small, small(50))],
      { outputCorrection: { value: 1.5, u: 0.1 }, correctionTable: tabled("apart", 0.6) },
    );
    expect(referenceFactors.size.equivalentSquare.value).toBeCloseTo(100, 12);
    expect(omega("small").value).toBeCloseTo((0.6 * 0.97) / 1.004, 12);
    expect(omega("wide").value).toBeCloseTo(0.6 / 1.004, 12);
    expect(fields[0]!.outputCorrection!.value).toBeCloseTo(0.97 / 1.004, 12);
    const keys = inputs(omega("small")).map(({ input }) => input);
    expect(keys).not.toContain("output-correction");
    expect(keys).toContain("output-corrections/invented/error of the fields");
    // dk/dS·u(S): 0.03/ln 10/5 mm = 0.0026058 per mm, u(S) = 0.1/√2 mm; beside k's own 0.6 %
    expect(relative(fields[0]!.outputCorrection!)).toBeCloseTo(
      Math.hypot(0.006, (0.0026057669 * 0.0707106781) / 0.97),
      6,
    );
  });

  it("OC-7: where the table's factors hold volume averaging, k_vol stays out of Ω", () => {
    const rows = [
      reference(EXACT.little, { k_volume: 1.001 }),
      field("small", EXACT.small, small(5, { k_volume: 1.02 })),
    ];
    const included = outputs(rows, { correctionTable: tabled("included") });
    const apart = outputs(rows, { correctionTable: tabled("apart") });
    expect(included.omega("small").value).toBeCloseTo((0.6 * 0.97) / 1.004, 12);
    expect(apart.omega("small").value).toBeCloseTo((((0.6 * 0.97) / 1.004) * 1.02) / 1.001, 12);
    expect(included.correctionTable!.volumeAveraging).toBe("included");
  });

  it("OC-8: a field that the table does not reach to has no output factor, and its neighbours keep theirs", () => {
    const found = outputs([reference(), field("tiny", EXACT.small, small(3)), field("small", EXACT.small, small(5))], {
      correctionTable: tabled("included"),
    });
    expect(found.fields.map(({ name }) => name)).toEqual(["small"]);
    expect(found.uncorrected.map(({ name }) => name)).toEqual(["tiny"]);
    expect(found.omega("small").value).toBeCloseTo((0.6 * 0.97) / 1.004, 12);
  });

  it("OC-8: without the reference in the table there is no output factor at all", () => {
    const found = outputs([reference(EXACT.little, small(120)), field("small", EXACT.small, small(5))], {
      correctionTable: tabled("included"),
    });
    expect(found.fields).toEqual([]);
    expect(found.uncorrected.map(({ name }) => name)).toEqual(["small"]);
    expect(found.correctionTable!.reference).toBeUndefined();
  });

  it("OF-1: equal stem loads cancel the stem ratio's uncertainty, unequal ones leave (ℓ1 − ℓ2)·u(ρ)", () => {
    const chain = exactChain();
    const { omega, inputs } = outputs([reference(), field("half", [3.25, 1.75]), field("small", EXACT.small)], {
      chain,
    });
    const fromStem = (name: string) =>
      Math.hypot(
        ...inputs(omega(name))
          .filter(({ input }) => input.startsWith("separation/"))
          .map(({ contribution }) => contribution),
      ) / omega(name).value;
    const { u } = propagate(chain.model, chain.model.tape.find("separation.stem-ratio")!);
    expect(fromStem("half")).toBeLessThan(1e-3 * fromStem("small"));
    expect(fromStem("small")).toBeCloseTo((3.5 / 3.875 - 1.26 / 2.325) * u, 14);
  });
});

describe("visits to the reference", () => {
  const at = (time: number, more: More = {}) => ({ time, mu: 100, ...more });
  const walk = (by: number) => EXACT.little.map((signal) => signal * by);

  it("OF-7: measured again later, with other readings between, it counts as a visit of its own", () => {
    const { visits, omega } = outputs([
      reference(walk(1), at(0)),
      reference(walk(1), at(10)),
      field("early", EXACT.small, at(105)),
      reference(walk(1.02), at(200)),
      reference(walk(1.02), at(210)),
      field("late", EXACT.small, at(400)),
    ]);
    expect(visits.map(({ name, condition, count, time }) => [name, condition, count, time])).toEqual([
      ["ref/1", "ref", 2, 5],
      ["ref/2", "ref", 2, 205],
    ]);
    expect(omega("early").value).toBeCloseTo(0.6 / 1.01, 12);
    expect(omega("late").value).toBeCloseTo(0.6 / 1.02, 12);
  });

  it("OF-7: without another reading between it is one visit", () => {
    const { visits } = outputs([
      reference(walk(1), at(0)),
      reference(walk(1), at(900)),
      field("f", EXACT.small, at(950)),
    ]);
    expect(visits.map(({ name, count }) => [name, count])).toEqual([["ref", 2]]);
  });

  it("OF-7: the order is that of time, whatever stands first in the table", () => {
    const rows = [
      reference(walk(1.02), at(200)),
      field("f", EXACT.small, at(105)),
      reference(walk(1), at(0)),
      reference(walk(1), at(10)),
      reference(walk(1.02), at(210)),
    ];
    const { visits, omega } = outputs(rows);
    expect(visits.map(({ time }) => time)).toEqual([5, 205]);
    expect(omega("f").value).toBeCloseTo(0.6 / 1.01, 12);
  });

  it("OF-7: without times it is that of the table, and the reference is the visits' mean", () => {
    const { visits, omega } = outputs([
      reference(walk(1)),
      field("f", EXACT.small),
      reference(walk(1.02)),
      field("g", EXACT.small),
    ]);
    expect(visits.map(({ name }) => name)).toEqual(["ref/1", "ref/2"]);
    expect(omega("f").value).toBeCloseTo(0.6 / 1.01, 12);
    expect(omega("g").value).toBe(omega("f").value);
  });

  it("OF-7: a field read twice is one condition, at the mean of its times", () => {
    const { fields, omega } = outputs([
      reference(walk(1), at(0)),
      field("f", EXACT.small, at(20)),
      field("g", EXACT.small, at(50)),
      field("f", EXACT.small, at(80)),
      reference(walk(1.02), at(100)),
    ]);
    expect(fields.map(({ net: { name, count, time } }) => [name, count, time])).toEqual([
      ["f", 2, 50],
      ["g", 1, 50],
    ]);
    expect(omega("f").value).toBeCloseTo(0.6 / 1.01, 12);
  });

  it("OF-6: the drift is that of the corrected signal over the visits", () => {
    const { reference: found, chain } = outputs([
      ...repeated(3, reference(walk(1), at(0))),
      field("f", EXACT.small, at(50)),
      ...repeated(3, reference(walk(1.007), at(100))),
    ]);
    expect(found.drift!.value).toBeCloseTo(0.007, 12);
    expect(propagate(chain.model, found.drift!).u).toBeLessThan(1e-6);
  });

  it("NET-9: a reading that is left out keeps to its condition and describes nothing", () => {
    const left = (condition: string, more: object = {}) =>
      [condition, [undefined, undefined], { exclude: "beam stopped", ...more }] as unknown as FieldRow;
    const clean = [
      reference(walk(1), at(0)),
      field("f", EXACT.small, at(50, { k_volume: 1.01 })),
      reference(walk(1.02), at(100)),
    ];
    const spoilt = [left("ref"), clean[0]!, left("f"), clean[1]!, left("elsewhere"), clean[2]!, left("ref")];
    const [expected, found] = [outputs(clean), outputs(spoilt)];
    expect(found.omega("f").value).toBe(expected.omega("f").value);
    expect(found.relative(found.omega("f"))).toBe(expected.relative(expected.omega("f")));
    expect(found.fields.map(({ net }) => net.name)).toEqual(["f"]);
    // each in the visit that it stands nearest to
    expect(found.visits.map(({ rows, count }) => [rows, count])).toEqual([
      [[0, 1], 1],
      [[5, 6], 1],
    ]);
  });
});
