/** Invented campaigns for the tests: a detector whose truth is known, with every part open to change. */
import { readFileSync } from "node:fs";
import type { Campaign } from "../campaign.ts";
import type { Descriptor } from "../descriptor.ts";
import type { Table } from "../table.ts";

/** A cell as it is typed: numbers are written with four decimals in columns of signals, and as they are elsewhere. */
export type Cell = string | number | undefined;

/** One row by column. */
export type MadeUpRow = Record<string, Cell>;

/** The tables of an invented campaign, row by row; a table that is deleted takes its resource with it. */
export type MadeUpTables = Partial<
  Record<
    "background" | "separation" | "calibration" | "output-factors" | "output-corrections" | "reference-set",
    MadeUpRow[]
  >
>;

/** How the invented detector behaves. */
export interface MadeUpDetector {
  /** Readings per condition. */
  readonly repeats: number;
  /** Scatter of the output, common to both channels. */
  readonly output: number;
  /** Scatter of each channel alone. */
  readonly own: number;
}

const DETECTOR: MadeUpDetector = { repeats: 3, output: 0.001, own: 0.0001 };

/** Scatter of zero mean that is the same in every run; not random, but with no pattern that a formula would favour. */
const WOBBLE = [0.7, -1.2, 0.5, 0.9, -0.4, -0.5, 1.1, -0.8, -0.3, 0.2, -0.2];

/**
 * A sound campaign: background before and after, two fibre lengths in the fit and two kept aside, calibration, and three
 * fields between two visits to the reference. 0.05 and 0.015 nC/cGy of scintillation and 0.003 and 0.004 nC per cGy and cm
 * of fibre (docs/job.md, test set A), 100 MU each; the true stem ratio is 0.75 and N_D 0.258065 Gy/nC.
 *
 * @param change what is to be changed in the tables and the descriptor.
 */
export function madeUpCampaign(
  change: (tables: Required<MadeUpTables>, descriptor: Descriptor, more: { characterisation?: unknown }) => void = () =>
    undefined,
  detector: Partial<MadeUpDetector> = {},
): Campaign {
  const descriptor = JSON.parse(DESCRIPTOR) as Descriptor;
  const tables = madeUpTables({ ...DETECTOR, ...detector });
  const more: { characterisation?: unknown } = {};
  change(tables as Required<MadeUpTables>, descriptor, more);
  const names = Object.keys(tables) as (keyof MadeUpTables)[];
  descriptor.resources = names.map((name) => ({ name, path: `${name}.csv`, alcedo: { series: name } }));
  if (more.characterisation !== undefined)
    descriptor.resources.push({
      name: "characterisation",
      path: "characterisation.json",
      alcedo: { series: "characterisation" },
    });
  return {
    descriptor,
    tables: Object.fromEntries(names.map((name) => [name, tableOf(`${name}.csv`, tables[name]!)])),
    ...more,
  };
}

function madeUpTables({ repeats, output, own }: MadeUpDetector): MadeUpTables {
  let clock = 0;
  let step = 0;
  const wobble = (size: number) => size * WOBBLE[step++ % WOBBLE.length]!;
  const stamp = () => {
    clock += 40;
    const two = (n: number) => `${n}`.padStart(2, "0");
    return `2026-03-12T${two(20 + Math.floor(clock / 3600))}:${two(Math.floor(clock / 60) % 60)}:${two(clock % 60)}+01:00`;
  };
  const dark = (condition: string) =>
    Array.from({ length: 3 }, (_, i) => ({
      reading: `${condition}-${i + 1}`,
      condition,
      time: stamp(),
      duration_s: 20,
      signal_blue: 0.024 + wobble(1e-4),
      signal_green: 0.012 + wobble(1e-4),
    }));
  const lit = (condition: string, dose_cGy: number, fibre_cm: number, more: MadeUpRow): MadeUpRow[] =>
    Array.from({ length: repeats }, (_, i) => {
      const delivered = dose_cGy * (1 + wobble(output));
      return {
        reading: `${condition}-${i + 1}`,
        condition,
        time: stamp(),
        duration_s: 20,
        mu: 100,
        monitor: ((12 * delivered) / dose_cGy).toFixed(4),
        temperature_C: 22,
        signal_blue: 0.024 + delivered * (0.05 + 0.003 * fibre_cm) * (1 + wobble(own)),
        signal_green: 0.012 + delivered * (0.015 + 0.004 * fibre_cm) * (1 + wobble(own)),
        ...more,
      };
    });
  const before = dark("before");
  const stem = (condition: string, fibre_cm: number, role: string) =>
    lit(condition, 100, fibre_cm, { dose_group: "100x100", role, fibre_mm: 10 * fibre_cm });
  const separation = [
    ...stem("short", 5, "fit"),
    ...stem("long", 40, "fit"),
    ...stem("half", 20, "verify"),
    ...stem("turned", 60, "verify"),
  ];
  const calibration = lit("reference", 100, 5, { dose_Gy: 1, dose_u_percent: 0.7 });
  const square = (condition: string, role: string, side: number, dose_cGy: number, fibre_cm: number) =>
    lit(condition, dose_cGy, fibre_cm, {
      ...{ role, shape: "rectangle", x_mm: side, y_mm: side, fwhm_x_mm: side + 0.1, fwhm_y_mm: side },
    });
  const visit = (name: string) =>
    square("100x100", "reference", 100, 100, 5).map((row) => ({ ...row, reading: `${name}-${row["reading"]}` }));
  const fields = [
    ...visit("first"),
    ...square("30x30", "field", 30, 88, 3),
    ...square("10x10", "field", 10, 70, 2),
    ...square("5x5", "field", 5, 50, 1.5),
    ...visit("last"),
  ];
  return { background: [...before, ...dark("after")], separation, calibration, "output-factors": fields };
}

/** A table with every column that some row has, in the order in which they come. */
function tableOf(path: string, rows: readonly MadeUpRow[]): Table {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const text = (column: string, cell: Cell) =>
    cell === undefined ? "" : typeof cell === "number" && column.startsWith("signal_") ? cell.toFixed(4) : `${cell}`;
  return {
    path,
    decimal: ".",
    columns,
    rows: rows.map((row) => columns.map((column) => text(column, row[column]))),
    lines: rows.map((_, i) => i + 2),
  };
}

/**
 * The exact set of docs/checks.md ("Light", C) as net signals: three equal readings of each condition, 100 cGy each, and a
 * small field of 60 cGy.
 *
 * @param conditions the separation's conditions other than the 5 cm one, with their signals; those of the set unless given.
 * @param aside names of those that are kept aside.
 */
export function exactCampaign(
  conditions: Readonly<Record<string, readonly [blue: number, green: number]>> = { much: [17, 17.5] },
  aside: readonly string[] = [],
  little: readonly [blue: number, green: number] = [6.5, 3.5],
): Campaign {
  return madeUpCampaign((tables, { alcedo }) => {
    const three = (condition: string, [signal_blue, signal_green]: readonly [number, number], more: MadeUpRow) =>
      [1, 2, 3].map((i) => ({ reading: `${condition}-${i}`, condition, signal_blue, signal_green, mu: 100, ...more }));
    delete (tables as MadeUpTables).background;
    tables.separation = Object.entries({ little, ...conditions }).flatMap(([condition, signals]) =>
      three(condition, signals, { dose_group: "100x100", role: aside.includes(condition) ? "verify" : "fit" }),
    );
    tables.calibration = three("reference", little, { dose_Gy: 1, dose_u_percent: 0.7 });
    const square = (side: number) => ({ shape: "rectangle", x_mm: side, y_mm: side, fwhm_x_mm: side, fwhm_y_mm: side });
    tables["output-factors"] = [
      ...three("100x100", little, { role: "reference", ...square(100) }),
      ...three("6x6", little[0] === 6.5 ? [3.27, 1.26] : [1.26, 3.27], { role: "field", ...square(6) }),
    ];
    alcedo.detector.id = "exact";
  });
}

/** The rows of one condition. */
export function rowsOf(rows: readonly MadeUpRow[], condition: string): MadeUpRow[] {
  return rows.filter((row) => row["condition"] === condition);
}

/** Writes one cell into every row. */
export function put(rows: readonly MadeUpRow[], column: string, value: Cell): void {
  for (const row of rows) row[column] = value;
}

/** Multiplies cells of rows in place. */
export function scale(rows: readonly MadeUpRow[], column: string, factor: number): void {
  for (const row of rows) row[column] = Number(row[column]) * factor;
}

/** The demonstration campaign, from its folder. Its tables use commas, and quotes without quotes inside. */
export function demonstration(): Campaign {
  const folder = new URL("../../../../examples/demonstration/", import.meta.url);
  const read = (path: string) => readFileSync(new URL(path, folder), "utf8");
  const descriptor = JSON.parse(read("datapackage.json")) as Descriptor;
  const tables = descriptor.resources.map(({ name, path }) => {
    const [columns = [], ...rows] = read(path)
      .trim()
      .split("\n")
      .map((line) =>
        [...line.matchAll(/(?:^|,)(?:"([^"]*)"|([^,]*))/g)].map(([, quoted, plain]) => quoted ?? plain ?? ""),
      );
    return [name, { path, decimal: "." as const, columns, rows, lines: rows.map((_, i) => i + 2) }] as const;
  });
  return { descriptor, tables: Object.fromEntries(tables) };
}

const DESCRIPTOR = `{
  "name": "made-up",
  "alcedo": {
    "version": 1,
    "detector": {
      "id": "F-0000", "channels": ["blue", "green"], "signalUnit": "nC",
      "activeVolume": { "diameter_mm": 1, "length_mm": 1 }, "axis": "along-beam",
      "temperatureCoefficient_perK": { "value": -0.001, "u": 0.0003 }
    },
    "beam": { "id": "B0", "modality": "photon", "energy_MV": 6, "ssd_mm": 900, "depth_mm": 100 },
    "assumptions": {
      "doseEquality_u_percent": 0.05, "positioning_u_mm": 0.1, "fieldWidth_u_mm": 0.1,
      "penumbraSigma_mm": { "value": 1.5, "u": 0.29 }, "referenceTemperature_C": 22, "temperature_u_C": 1,
      "outputCorrection": { "value": 1, "u": 0.005 }, "intermediateLink": { "value": 1, "u": 0 }
    },
    "criteria": { "separationResidual_percent": 0.5 }
  },
  "resources": []
}`;
