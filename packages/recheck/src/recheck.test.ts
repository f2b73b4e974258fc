import { ASSUMPTION_DEFAULTS, evaluate, interpret, resolveAssumptions } from "@alcedo-dosimetry/campaign";
import { describe, expect, it } from "vitest";
import { recheck } from "./recheck.ts";
import { bothRoutes, disagreements } from "./testing/both-routes.ts";
import { demonstration } from "./testing/demonstration.ts";
import {
  type Arrangement,
  campaignOf,
  type Invention,
  Laboratory,
  type Row,
  type Rows,
  type UsualRows,
  usualRows,
  without,
} from "./testing/invented-campaign.ts";

/** An invented campaign of the usual make with something otherwise. */
function otherwise(change: (rows: UsualRows) => Rows, invention: Invention = {}, visits = 3) {
  return campaignOf(change(usualRows(new Laboratory(invention), visits)), invention);
}

const MEASURED = ["separation", "calibration", "output-factors"] as const;

/** The same columns taken out of every measured series. */
const lacking =
  (...columns: string[]) =>
  (rows: UsualRows): Rows => ({
    ...rows,
    ...Object.fromEntries(MEASURED.map((name) => [name, without(rows[name], ...columns)])),
  });

/** A separation with other arrangements in place of the usual one. */
function separated(arrangements: readonly Arrangement[], invention: Invention = {}) {
  const laboratory = new Laboratory({ ...invention, seed: 77 });
  const separation = arrangements.flatMap((arrangement) => laboratory.readings(arrangement));
  return otherwise((rows) => ({ ...rows, separation }), invention);
}

const fit = (dose_group: string, more: Row = {}): Row => ({ dose_group, role: "fit", ...more });

/** Two dose groups whose conditions do not quite agree. */
const TWO_GROUPS: readonly Arrangement[] = [
  { name: "a1", dose: 1, stem: 5, cells: fit("a") },
  { name: "a2", dose: 1.004, stem: 40, cells: fit("a") },
  { name: "a3", dose: 0.998, stem: 20, cells: fit("a") },
  { name: "b1", dose: 0.6, stem: 3, cells: fit("b") },
  { name: "b2", dose: 0.6, stem: 30, cells: fit("b") },
  { name: "v", dose: 0.6, stem: 60, cells: { dose_group: "b", role: "verify" } },
];

const withDoses = (arrangements: readonly Arrangement[], groups: string, u?: number) =>
  arrangements.map((one): Arrangement => {
    if (!groups.includes(String(one.cells!["dose_group"]))) return one;
    return { ...one, cells: { ...one.cells, dose_Gy: one.dose.toFixed(3), ...(u && { dose_u_Gy: u }) } };
  });

describe("the exact set (checks.md, Light, C)", () => {
  const row = (reading: string, q: [number, number], cells: Row): Row => ({
    reading,
    condition: reading,
    temperature_C: 22,
    signal_blue: q[0].toFixed(3),
    signal_green: q[1].toFixed(3),
    ...cells,
  });
  const known = { dose_Gy: 1, dose_group: "a" };
  const exact = (much: [number, number] = [17, 17.5]) =>
    campaignOf({
      separation: [
        row("little", [6.5, 3.5], { role: "fit", ...known }),
        row("much", much, { role: "fit", ...known }),
        row("fibre-20", [11, 9.5], { role: "verify", ...known }),
        row("fibre-60", [23, 25.5], { role: "verify", ...known }),
      ],
      "output-factors": [
        row("little", [6.5, 3.5], { role: "reference", shape: "rectangle", x_mm: 100, y_mm: 100 }),
        row("small", [3.27, 1.26], { role: "field", shape: "circle", diameter_mm: 5 }),
      ],
    });
  const valuesOf = (campaign: ReturnType<typeof exact>) => {
    const { values } = resolveAssumptions(campaign.descriptor);
    return new Map(recheck(interpret(campaign), values).map(({ id, value }) => [id, value]));
  };

  it("has its stem ratio, coefficient and doses", () => {
    const values = valuesOf(exact());
    expect(values.get("separation.stem-ratio")).toBeCloseTo(0.75, 12);
    expect(values.get("separation.coefficient")).toBeCloseTo(0.258065, 6);
    expect(values.get("separation.verify.fibre-20")).toBeCloseTo(0, 12);
    expect(values.get("separation.verify.fibre-60")).toBeCloseTo(0, 12);
    expect(values.get("dose.output-factors.small")).toBeCloseTo(0.6, 12);
    expect(values.get("output-factor.small")).toBeCloseTo(0.6, 12);
    expect(values.get("separation.contrast")).toBeCloseTo(5, 12);
    expect(values.get("stem-load.separation.little")).toBeCloseTo(3.5 / 3.875, 12);
    expect(values.get("subtracted-fraction.separation.little")).toBeCloseTo(2.625 / 6.5, 12);
  });

  it("goes wrong as the table of mistakes says", () => {
    expect(valuesOf(exact([17 * 1.01, 17.5 * 1.01])).get("separation.stem-ratio")).toBeCloseTo(0.7527, 4);
    // Much fibre +3 % in dose and stem light alike.
    expect(valuesOf(exact([17 * 1.03, 17.5 * 1.03])).get("separation.stem-ratio")).toBeCloseTo(0.758, 4);
    expect(valuesOf(exact([17, 17.5 * 0.95])).get("separation.stem-ratio")).toBeCloseTo(0.8, 4);
  });

  it("comes out alike by both routes", () => {
    expect(disagreements(bothRoutes(exact()))).toEqual([]);
  });
});

describe("both routes agree", () => {
  it("on the demonstration campaign", () => {
    const rows = bothRoutes(demonstration());
    expect(disagreements(rows)).toEqual([]);
    expect(rows.filter(({ difference }) => difference !== null).length).toBeGreaterThan(80);
  });

  it.each([
    ["the usual one", otherwise((rows) => rows)],
    ["without a monitor", otherwise(lacking("monitor"))],
    ["without monitor and MU", otherwise(lacking("monitor", "mu"))],
    ["without times", otherwise(lacking("time"))],
    [
      "without times of the background",
      otherwise((rows) => ({ ...rows, background: without(rows.background, "time") })),
    ],
    ["without temperatures", otherwise(lacking("temperature_C"))],
    ["without a background", otherwise(({ background: _, ...rows }) => rows)],
    ["without a calibration", otherwise(({ calibration: _, ...rows }) => rows)],
    ["without output factors", otherwise(({ "output-factors": _, ...rows }) => rows)],
    [
      "with some temperatures missing",
      otherwise(({ separation, ...rows }) => ({
        ...rows,
        separation: separation.map((row, i) => (i % 3 === 0 ? { ...row, temperature_C: undefined } : row)),
      })),
    ],
    [
      "with readings left out",
      otherwise((rows) => ({
        ...rows,
        ...Object.fromEntries(
          MEASURED.map((name) => [
            name,
            rows[name].map((row, i) => (i === 2 ? { ...row, exclude: "beam stopped" } : row)),
          ]),
        ),
      })),
    ],
    ["with one visit to the reference", otherwise((rows) => rows, {}, 1)],
    ["with two visits", otherwise((rows) => rows, {}, 2)],
    ["with four visits", otherwise((rows) => rows, {}, 4)],
    ["with four visits and no times", otherwise(lacking("time"), {}, 4)],
    ["with single readings", otherwise((rows) => rows, { repeats: 1 })],
    ["with two repeats", otherwise((rows) => rows, { repeats: 2 })],
    ["with ten repeats", otherwise((rows) => rows, { repeats: 10 })],
    [
      "with fields of nominal size",
      otherwise((rows) => ({ ...rows, "output-factors": without(rows["output-factors"], "fwhm_x_mm", "fwhm_y_mm") })),
    ],
    [
      "with a monitor that sees a field",
      otherwise((rows) => ({
        ...rows,
        "output-factors": rows["output-factors"].map((row) =>
          row["condition"] === "cone-5" ? { ...row, monitor: (Number(row["monitor"]) * 0.98).toFixed(3) } : row,
        ),
      })),
    ],
    [
      "with a condition that scatters otherwise",
      otherwise((rows) => ({
        ...rows,
        "output-factors": rows["output-factors"].map((row, i) =>
          row["condition"] === "10x10"
            ? { ...row, signal_blue: (Number(row["signal_blue"]) * (1 + 0.01 * ((i % 4) - 1.5))).toFixed(4) }
            : row,
        ),
      })),
    ],
    [
      "with a background about zero",
      otherwise((rows) => ({
        ...rows,
        background: rows.background.map((row, i) => ({ ...row, signal_green: i % 2 === 0 ? "0.0003" : "-0.0002" })),
      })),
    ],
    [
      "with a calibration of two conditions and uneven dose uncertainties",
      otherwise((rows) => ({
        ...rows,
        calibration: rows.calibration.map((row, i) =>
          i < 2 ? row : { ...row, condition: "ref-again", dose_u_percent: 1.5, dose_Gy: "1.010" },
        ),
      })),
    ],
    [
      "with doses that follow each reading",
      otherwise((rows) => ({
        ...rows,
        calibration: rows.calibration.map((row, i) => ({ ...row, dose_u_percent: 0.01, dose_Gy: 1 + 0.0015 * i })),
      })),
    ],
    [
      "with a volume-averaging correction of one's own",
      otherwise((rows) => ({
        ...rows,
        "output-factors": rows["output-factors"].map((row) =>
          row["condition"] === "cone-5" ? { ...row, k_volume: 1.01, k_volume_u: 0.003 } : row,
        ),
      })),
    ],
    ["with more conditions than unknowns", separated(TWO_GROUPS)],
    ["with doses taken to be exactly equal", separated(TWO_GROUPS, { assumptions: { doseEquality_u_percent: 0 } })],
    ["with doses that are hardly equal", separated(TWO_GROUPS, { assumptions: { doseEquality_u_percent: 1 } })],
    ["with one known dose", separated(withDoses(TWO_GROUPS, "a", 0.004))],
    ["with known doses that are exact", separated(withDoses(TWO_GROUPS, "ab"))],
    ["with a lone condition in its group", separated(TWO_GROUPS.slice(0, 4))],
    [
      "with a verification of another known dose",
      separated([
        ...withDoses(TWO_GROUPS.slice(0, 3), "a", 0.004),
        {
          name: "c",
          dose: 0.4,
          stem: 30,
          cells: { dose_group: "c", role: "verify", dose_Gy: "0.401", dose_u_Gy: 0.002 },
        },
      ]),
    ],
  ] as const)("on a campaign %s", (_, campaign) => {
    expect(disagreements(bothRoutes(campaign))).toEqual([]);
  });

  it("on three channels, but for the stem load, which is of two", () => {
    const three = separated(
      [
        ...TWO_GROUPS,
        { name: "a4", dose: 1, stem: 70, fluorescence: 20, cells: fit("a") },
        { name: "a5", dose: 1, stem: 20, fluorescence: 10, cells: fit("a") },
      ],
      { channels: ["blue", "green", "red"] },
    );
    const rows = bothRoutes(three).filter(({ id }) => !id.startsWith("stem-load."));
    expect(disagreements(rows)).toEqual([]);
    expect(rows.map(({ id }) => id)).toContain("separation.weight.red");
  });

  it.each(Array.from({ length: 24 }, (_, i) => i + 1))("on a campaign of chance, number %i", (seed) => {
    expect(disagreements(bothRoutes(chance(seed)))).toEqual([]);
  });

  it("in the values to a fraction of u where several known doses have uncertainties of their own", () => {
    // The evaluation weighs each condition with its dose's uncertainty, the recheck lets the conditions of a group share it.
    for (const { id, difference, u } of bothRoutes(separated(withDoses(TWO_GROUPS, "ab", 0.004)))) {
      if (difference === null || u === null) continue;
      expect(Math.abs(difference), id).toBeLessThanOrEqual(0.3 * u + 1e-12);
    }
  });
});

/** A campaign put together by dice. */
function chance(seed: number) {
  let state = Math.imul(seed, 2654435761) >>> 0;
  const draw = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
  const one = <T>(of: readonly T[]) => of[Math.floor(draw() * of.length)]!;
  const repeats = one([1, 2, 3, 5]);
  const invention: Invention = {
    seed,
    repeats,
    assumptions: { doseEquality_u_percent: one([0.05, 0.1, 0.3]) },
    detector: { temperatureCoefficient_perK: { value: -0.001, u: one([0, 0.0003, 0.001]) } },
  };
  const known = one(["", "", "a"]);
  const groups = one([["a"], ["a", "b"]]);
  const arrangements = groups.flatMap((group, g): Arrangement[] => {
    const [dose, stems] = [1 - 0.4 * g, [5, 40, 20, 60].slice(0, one([2, 3, 4]))];
    const fitted = stems.map((stem, k) => ({ name: `${group}${k}`, dose, stem, cells: fit(group) }));
    return [...fitted, { name: `${group}-aside`, dose, stem: 30, cells: { dose_group: group, role: "verify" } }];
  });
  const laboratory = new Laboratory({ ...invention, seed: seed + 100 });
  const separation = withDoses(arrangements, known, 0.004).flatMap((own) => laboratory.readings(own));
  return otherwise(
    (rows) => {
      const all: Rows = { ...rows, separation };
      for (const name of MEASURED) {
        for (const column of ["monitor", "mu", "time", "temperature_C"]) {
          if (draw() < 0.3) all[name] = without(all[name]!, column);
        }
        if (draw() < 0.2 && repeats > 1)
          all[name] = all[name]!.map((row, i) => (i === 1 ? { ...row, exclude: "slip" } : row));
      }
      if (draw() < 0.2) delete all.calibration;
      if (draw() < 0.2) delete all.background;
      return all;
    },
    invention,
    one([1, 2, 3, 5]),
  );
}

describe("the recheck", () => {
  const defaults = Object.fromEntries(Object.entries(ASSUMPTION_DEFAULTS).map(([name, { value }]) => [name, value]));

  it("gives what there is: without a separation the background alone", () => {
    const campaign = otherwise(({ background, "output-factors": fields }) => ({
      background,
      "output-factors": fields,
    }));
    const found = recheck(interpret(campaign), resolveAssumptions(campaign.descriptor).values);
    expect(found.map(({ id }) => id)).toEqual(["background.blue", "background.green"]);
    const { result } = evaluate(campaign);
    expect(found.map(({ value }) => value)).toEqual(result.quantities.slice(0, 2).map(({ value }) => value));
  });

  it("gives nothing of an empty campaign", () => {
    const values = defaults as unknown as ReturnType<typeof resolveAssumptions>["values"];
    expect(recheck({ channels: ["blue", "green"], series: {}, findings: [] }, values)).toEqual([]);
  });

  it("says so where the readings do not determine the separation", () => {
    const campaign = otherwise((rows) => ({
      ...rows,
      separation: rows.separation.filter((row) => row["condition"] !== "long"),
    }));
    expect(() => recheck(interpret(campaign), resolveAssumptions(campaign.descriptor).values)).toThrow(
      "1 conditions cannot determine 2 unknowns",
    );
  });

  it("computes volume averaging and positioning where it is given the active volume", () => {
    const campaign = demonstration();
    const { values } = resolveAssumptions(campaign.descriptor);
    const activeVolume = { diameter_mm: 1, length_mm: 1, axis: "along-beam" } as const;
    const quantities = recheck(interpret(campaign), values, { activeVolume });
    const of = (id: string) => quantities.find((quantity) => quantity.id === id)!;
    const plain = recheck(interpret(campaign), values).find(({ id }) => id === "output-factor.cone-5")!;
    const [k, position] = [of("volume-averaging.cone-5"), of("positioning.cone-5")];
    const reference = of("volume-averaging.100x100").value * of("positioning.100x100").value;
    expect(of("output-factor.cone-5").value).toBeCloseTo((plain.value * k.value * position.value) / reference, 10);
    // A quarter of k − 1 at least, for the model.
    expect(k.u).toBeGreaterThan((k.value - 1) / 4);
    expect(position.u).toBeGreaterThan(0);
    expect(of("output-factor.cone-5").u).toBeGreaterThan(plain.u!);
    expect(of("volume-averaging.100x100").value).toBeCloseTo(1, 9);
  });
});
