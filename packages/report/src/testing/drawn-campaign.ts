import type { Campaign, Table } from "@alcedo-dosimetry/campaign";

type Cell = string | number;

/** What an invented campaign for drawings can be changed in. */
export interface Changes {
  /** Without times nobody knows when a reading was taken. */
  readonly times?: boolean;
  /** Repeats of each condition. */
  readonly repeats?: number;
  /** A third channel that sees a tenth of the first. */
  readonly third?: boolean;
  /** Doses known in the separation: of no group, of one of two, of all. */
  readonly doses?: "none" | "some" | "all";
  readonly referenceSet?: readonly (readonly Cell[])[];
  readonly volume?: boolean;
  /** Relative error of the first channel of the condition kept aside with most fibre. */
  readonly wrong?: number;
}

/**
 * An invented campaign as a document: net signals in nC of light with the stem ratio 0.75 (blue = 6.5/3.5 with little fibre
 * and 17/17.5 with much, 1 Gy each), three fields, two visits to the reference, one reading left out.
 */
export function drawnCampaign(changes: Changes = {}): Campaign {
  const { times = true, repeats = 3, third = false, doses = "none", referenceSet, volume = true, wrong = 0 } = changes;
  let clock = 0;
  let wobble = 0;
  const lit = (condition: string, blue: number, green: number, more: readonly Cell[]): Cell[][] =>
    Array.from({ length: repeats }, (_, k) => {
      clock += 60;
      wobble = (wobble + 7) % 11;
      const factor = 1 + (wobble - 5) * 1e-4;
      const signals = [blue * factor, green * (1 + (wobble - 5) * 8e-5)];
      const time = `2026-03-12T20:${String(Math.floor(clock / 60) % 60).padStart(2, "0")}:00+01:00`;
      return [
        `${condition}-${clock}`,
        condition,
        ...(times ? [time] : []),
        100,
        ...signals.map((signal) => signal.toFixed(4)),
        // as independent of the other two as light can be
        ...(third ? [(0.1 * blue + 0.02 * green * green * (1 + k * 1e-4)).toFixed(4)] : []),
        ...more,
      ];
    });
  const common = ["reading", "condition", ...(times ? ["time"] : []), "mu", "signal_blue", "signal_green"];
  const columns = [...common, ...(third ? ["signal_red"] : [])];
  const known = (group: string) => (doses === "all" || (doses === "some" && group === "a") ? 1 : "");
  const stem = (name: string, blue: number, green: number, role: string, group: string, fibre: number) =>
    lit(name, blue, green, [group, role, known(group), fibre]);
  const separation = [
    ...stem("little", 6.5, 3.5, "fit", "a", 50),
    ...stem("much", 17, 17.5, "fit", "a", 400),
    ...stem("half", 11, 9.5, "verify", "a", 200),
    ...stem("beyond", 23 * (1 + wrong), 25.5, "verify", "a", 600),
    ...(doses === "some"
      ? [...stem("half-again", 5.5, 4.75, "fit", "b", 200), ...stem("much-again", 8.5, 8.75, "fit", "b", 400)]
      : []),
    ...(third ? [...stem("more", 14, 13.5, "fit", "a", 300), ...stem("most", 20, 21.5, "fit", "a", 500)] : []),
  ];
  const field = (
    name: string,
    blue: number,
    green: number,
    role: string,
    shape: string,
    sizes: readonly Cell[],
    exclude = "",
  ) => lit(name, blue, green, [role, shape, ...sizes, exclude]);
  const outputs = [
    ...field("a", 6.5, 3.5, "reference", "rectangle", [100, 100, "", 100.2, 100.1]),
    ...field("30x30", 5.7, 2.9, "field", "rectangle", [30, 30, "", 30.1, 30]),
    ...field("10x10", 4.6, 2.2, "field", "rectangle", [10, 10, "", 10.1, 9.9]),
    ...field("10x10", 3.6, 2.2, "field", "rectangle", [10, 10, "", 10.1, 9.9], "door opened").slice(0, 1),
    ...field("cone-15", 3.27, 1.26, "field", "circle", ["", "", 15, 15, 15]),
    ...field("a", 6.503, 3.502, "reference", "rectangle", [100, 100, "", 100.2, 100.1]),
  ];
  const tables: Record<string, Table> = {
    separation: table("separation", [...columns, "dose_group", "role", "dose_Gy", "fibre_mm"], separation),
    calibration: table("calibration", [...columns, "dose_Gy", "dose_u_percent"], lit("ref", 6.5, 3.5, [1, 0.5])),
    "output-factors": table(
      "output-factors",
      [...columns, "role", "shape", "x_mm", "y_mm", "diameter_mm", "fwhm_x_mm", "fwhm_y_mm", "exclude"],
      outputs,
    ),
    ...(referenceSet && {
      "reference-set": table(
        "reference-set",
        ["condition", "equivalent_square_mm", "output_factor", "u_percent", "source"],
        referenceSet,
      ),
    }),
  };
  return {
    descriptor: {
      name: "drawn",
      keywords: ["invented"],
      alcedo: {
        version: 1,
        detector: {
          id: "F-0000",
          channels: ["blue", "green", ...(third ? ["red"] : [])],
          signalUnit: "nC",
          ...(volume && { activeVolume: { diameter_mm: 1, length_mm: 1 }, axis: "along-beam" as const }),
        },
        beam: { id: "B0", modality: "photon", energy_MV: 6 },
      },
      resources: (["separation", "calibration", "output-factors", "reference-set"] as const)
        .filter((name) => tables[name])
        .map((name) => ({ name, path: `${name}.csv`, alcedo: { series: name } })),
    },
    tables,
  };
}

function table(name: string, columns: readonly string[], rows: readonly (readonly Cell[])[]): Table {
  return {
    path: `${name}.csv`,
    decimal: ".",
    columns,
    rows: rows.map((row) => row.map(String)),
    lines: rows.map((_, k) => k + 2),
  };
}
