import type { Campaign, Descriptor, Table } from "@alcedo-dosimetry/campaign";

/** A row of a table before it is text; absent cells stay empty. */
export type Row = Readonly<Record<string, string | number | undefined>>;

/** Tables by the name of their series. */
export interface Rows {
  background?: Row[];
  separation?: Row[];
  calibration?: Row[];
  "output-factors"?: Row[];
  "output-corrections"?: Row[];
}

/** The tables of a campaign of the usual make. */
export type UsualRows = Required<Omit<Rows, "output-corrections">>;

/** What an invented campaign may have otherwise than usual. */
export interface Invention {
  readonly seed?: number;
  readonly channels?: readonly string[];
  readonly repeats?: number;
  readonly assumptions?: Descriptor["alcedo"]["assumptions"];
  readonly detector?: Partial<Descriptor["alcedo"]["detector"]>;
}

/** Repeatable random numbers: a linear congruential generator, and the sum of twelve of its draws. */
export function noise(seed: number): () => number {
  let state = (seed * 2 + 1) >>> 0;
  const draw = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 4294967296;
  };
  return () => {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += draw();
    return sum;
  };
}

/** One arrangement: what it gives per MU, and how it is labelled. */
export interface Arrangement {
  readonly name: string;
  /** Dose in Gy. */
  readonly dose: number;
  /** Stem light in arbitrary units. */
  readonly stem: number;
  /** A third kind of light, in arbitrary units. */
  readonly fluorescence?: number;
  readonly cells?: Row;
  readonly repeats?: number;
}

/** Light of each channel per Gy, and per unit of stem light, in nC. Invented. */
const SCINTILLATION = [5, 1.5, 0.6];
const STEM = [0.3, 0.4, 0.25];
const FLUORESCENCE = [0.05, 0.1, 0.3];
const DARK = [0.0012, 0.0007, 0.0009];

/** Invents readings one after the other on one clock. */
export class Laboratory {
  readonly #noise: () => number;
  readonly #channels: readonly string[];
  readonly #repeats: number;
  #minutes = 0;
  #count = 0;

  constructor({ seed = 1, channels = ["blue", "green"], repeats = 4 }: Invention = {}) {
    this.#noise = noise(seed);
    this.#channels = channels;
    this.#repeats = repeats;
  }

  /** Readings of one arrangement, with 0.15 % of output noise, 0.03 % of each channel's own, and the last digit cut. */
  readings(arrangement: Arrangement): Row[] {
    const { name, dose, stem, fluorescence = 0, cells, repeats = this.#repeats } = arrangement;
    this.#minutes += 3;
    return Array.from({ length: repeats }, () => {
      const output = 1 + 0.0015 * this.#noise();
      const signals = this.#channels.map((channel, c) => {
        const light = SCINTILLATION[c]! * dose + STEM[c]! * stem + FLUORESCENCE[c]! * fluorescence;
        const reading = light * output * (1 + 0.0003 * this.#noise()) + DARK[c]! * 30;
        return [`signal_${channel}`, reading.toFixed(4)] as const;
      });
      return {
        ...this.#common(name),
        mu: 200,
        monitor: (12.345 * output * (1 + 0.0002 * this.#noise())).toFixed(3),
        temperature_C: (22 + 0.01 * this.#count).toFixed(1),
        ...Object.fromEntries(signals),
        ...cells,
      };
    });
  }

  /** Readings with the beam off. */
  dark(name: string, scale = 1): Row[] {
    this.#minutes += 3;
    return Array.from({ length: this.#repeats }, () => ({
      ...this.#common(name),
      ...Object.fromEntries(
        this.#channels.map((channel, c) => [
          `signal_${channel}`,
          (scale * DARK[c]! * 30 + 0.0003 * this.#noise()).toFixed(4),
        ]),
      ),
    }));
  }

  #common(condition: string): Row {
    this.#count += 1;
    this.#minutes += 1;
    const two = (n: number) => String(n).padStart(2, "0");
    const time = `2026-03-12T${two(8 + Math.floor(this.#minutes / 60))}:${two(this.#minutes % 60)}:00+01:00`;
    return { reading: `r${this.#count}`, condition, time, duration_s: 30 };
  }
}

/** An invented campaign of the usual make: every number in it is made up. */
export function usualRows(laboratory: Laboratory, visits = 3): UsualRows {
  const at = (name: string, dose: number, stem: number, cells: Row) => laboratory.readings({ name, dose, stem, cells });
  const before = laboratory.dark("before");
  const separation = [
    ...at("short", 1, 5, { dose_group: "a", role: "fit" }),
    ...at("long", 1, 40, { dose_group: "a", role: "fit" }),
    ...at("half", 1, 20, { dose_group: "a", role: "verify" }),
  ];
  const calibration = at("ref", 1, 5, { dose_Gy: "1.002", dose_u_percent: 0.7 });
  const square = (size: number): Row => ({
    shape: "rectangle",
    x_mm: size,
    y_mm: size,
    fwhm_x_mm: size,
    fwhm_y_mm: size + 0.1,
  });
  const cone = (size: number): Row => ({ shape: "circle", diameter_mm: size, fwhm_x_mm: size, fwhm_y_mm: size - 0.1 });
  const fields: [string, number, number, Row][] = [
    ["30x30", 0.88, 2.5, square(30)],
    ["10x10", 0.7, 1.2, square(10)],
    ["cone-5", 0.5, 0.8, cone(5)],
  ];
  const reference = (k: number) => at("100x100", 1 + 0.002 * (k % 2), 5, { role: "reference", ...square(100) });
  const outputFactors: Row[] = [];
  fields.forEach(([name, dose, stem, cells], k) => {
    if (k < visits) outputFactors.push(...reference(k));
    outputFactors.push(...at(name, dose, stem, { role: "field", ...cells }));
  });
  for (let k = fields.length; k < visits; k++) outputFactors.push(...reference(k));
  return {
    background: [...before, ...laboratory.dark("after", 1.05)],
    separation,
    calibration,
    "output-factors": outputFactors,
  };
}

/** Rows as a campaign document. */
export function campaignOf(
  rows: Rows,
  { channels = ["blue", "green"], assumptions, detector }: Invention = {},
): Campaign {
  const series = (["background", "separation", "calibration", "output-factors", "output-corrections"] as const).filter(
    (name) => rows[name],
  );
  const descriptor: Descriptor = {
    name: "invented",
    alcedo: {
      version: 1,
      detector: {
        id: "invented",
        channels: [...channels],
        signalUnit: "nC",
        activeVolume: { diameter_mm: 1, length_mm: 1 },
        axis: "along-beam",
        ...detector,
      },
      beam: { id: "invented", modality: "photon", energy_MV: 6 },
      ...(assumptions && { assumptions }),
    },
    resources: series.map((name) => ({ name, path: `${name}.csv`, alcedo: { series: name } })),
  };
  return { descriptor, tables: Object.fromEntries(series.map((name) => [name, tableOf(`${name}.csv`, rows[name]!)])) };
}

function tableOf(path: string, rows: readonly Row[]): Table {
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  return {
    path,
    decimal: ".",
    columns,
    rows: rows.map((row) => columns.map((column) => String(row[column] ?? ""))),
    lines: rows.map((_, i) => i + 2),
  };
}

/** Rows without a column. */
export function without(rows: readonly Row[], ...columns: readonly string[]): Row[] {
  return rows.map((row) => Object.fromEntries(Object.entries(row).filter(([column]) => !columns.includes(column))));
}
