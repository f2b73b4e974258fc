import { ln, type Model, ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import { MILLIMETRE } from "./length-unit.ts";

/** A detector's output correction at one size of field: a row of a table such as those of IAEA TRS-483. */
export interface OutputCorrectionValue {
  readonly equivalent_square_mm: number;
  /** k, relative to the machine-specific reference field. */
  readonly output_correction: number;
  /** Standard uncertainty in percent. */
  readonly u_percent: number;
  readonly source: string;
}

/** A table of output corrections, sizes in any order and each of them once. */
export interface OutputCorrectionTable {
  /** At least one. */
  readonly values: readonly OutputCorrectionValue[];
  /**
   * Whether the factors hold the averaging over the detector's volume, as those of TRS-483 do by their definition (dose to
   * a point over reading). Where they do, k_vol stays out of Ω: it would count twice.
   */
  readonly volumeAveraging: "included" | "apart";
}

/** k of one field, read off the table. */
export interface TabledCorrection {
  /** k(S), named `output-factors/<condition>/table`. */
  readonly factor: Scalar;
  /** Where the size lies a little outside: the end that k is taken at, and what is added to its uncertainty. */
  readonly beyond?: { readonly end_mm: number; readonly u: number };
}

/** How far outside the table, as a part of its last size, its end still serves (proposed default). */
export const CORRECTION_TABLE_REACH = 0.1;

/**
 * Reads output corrections off a table at the equivalent squares of the fields. Between two rows k is linear in ln S: their
 * sizes are spaced about evenly there, the curve cannot swing beyond its rows, and both rows and dk/dS·u(S) are in the
 * budget. Where the size is a row's own, the steeper of the two sides gives the slope.
 *
 * The rows of one source err together, by one input that all fields share, each row in proportion to its u. What the
 * reference's row errs by is an input of its own: as one and the same, equal uncertainties would cancel in k(S_f)/k(S_ref).
 */
export class OutputCorrections {
  readonly #model: Model;
  readonly #rows: readonly OutputCorrectionValue[];

  constructor(model: Model, values: readonly OutputCorrectionValue[]) {
    this.#model = model;
    this.#rows = [...values].sort((a, b) => a.equivalent_square_mm - b.equivalent_square_mm);
  }

  /**
   * k at the size of a field; undefined where the table does not reach: beyond its ends by more than
   * {@link CORRECTION_TABLE_REACH}.
   */
  at(condition: string, square: Scalar, role: "field" | "reference"): TabledCorrection | undefined {
    const S = square.value;
    const [first, last] = [this.#rows[0]!, this.#rows.at(-1)!];
    const named = (factor: Scalar) =>
      factor.named(`output-factors/${condition}/table`, `k_${condition}`, `tabled output correction of ${condition}`);
    if (first === last) {
      const own = first.equivalent_square_mm === S ? this.#row(first, role) : undefined;
      return own && { factor: named(own.times(1)) };
    }
    const [least, most] = [first.equivalent_square_mm, last.equivalent_square_mm];
    if (S < least * (1 - CORRECTION_TABLE_REACH) || S > most * (1 + CORRECTION_TABLE_REACH)) return undefined;
    const [low, high] = this.#segment(S);
    const { tape } = square;
    const step = tape.literal(high.equivalent_square_mm / low.equivalent_square_mm).logarithm();
    const [from, to] = [this.#row(low, role), this.#row(high, role)];
    const share = (origin: number) => square.over(tape.literal(origin, MILLIMETRE)).logarithm().over(step);
    const moved = (start: Scalar, origin: number) => start.plus(to.minus(from).times(share(origin)));
    if (S >= least && S <= most) return { factor: named(moved(from, low.equivalent_square_mm)) };
    // held at the end: about the measured size, so that u(S) still counts with the slope of the last line
    const end = S < least ? first : last;
    const u = Math.abs(
      ((high.output_correction - low.output_correction) * ln(S / end.equivalent_square_mm)) / step.value,
    );
    const held = moved(S < least ? from : to, S).plus(
      this.#model.estimate({
        key: `output-factors/${condition}/beyond-table`,
        symbol: `δ_end,${condition}`,
        label: `output correction beyond the end of its table, ${condition}`,
        type: "B",
        unit: ONE,
        value: 0,
        u,
      }),
    );
    return { factor: named(held), beyond: { end_mm: end.equivalent_square_mm, u } };
  }

  /** The rows between which a size lies, or the two at the nearer end; of two pairs that meet there, the steeper. */
  #segment(S: number): readonly [OutputCorrectionValue, OutputCorrectionValue] {
    const pairs = this.#rows.slice(1).map((high, i) => [this.#rows[i]!, high] as const);
    const [least, most] = [this.#rows[0]!.equivalent_square_mm, this.#rows.at(-1)!.equivalent_square_mm];
    const inside = Math.min(Math.max(S, least), most);
    return pairs
      .filter(([low, high]) => low.equivalent_square_mm <= inside && inside <= high.equivalent_square_mm)
      .reduce((best, pair) => (steepness(pair) > steepness(best) ? pair : best));
  }

  /** k of a row, with the error that it has in common with the others of its source. */
  #row(row: OutputCorrectionValue, role: "field" | "reference"): Scalar {
    const { equivalent_square_mm: size, u_percent, source } = row;
    const what = role === "field" ? "fields" : "reference";
    const key = `output-corrections/${size} mm/${what}`;
    const known = this.#model.tape.find(key);
    if (known || u_percent === 0) return known ?? this.#constant(row);
    const largest = Math.max(...this.#rows.filter((own) => own.source === source).map((own) => own.u_percent));
    const error = this.#error(source, role, largest / 100).times(u_percent / largest);
    return this.#constant(row)
      .times(error.plus(1))
      .named(key, `k′_${size}`, `output correction at ${size} mm with its error, ${what}`);
  }

  /** k of a row as typed. */
  #constant({ equivalent_square_mm: size, output_correction: value, source }: OutputCorrectionValue): Scalar {
    const key = `output-corrections/${size} mm`;
    const label = `output correction at an equivalent square of ${size} mm, ${source}`;
    return this.#model.tape.find(key) ?? this.#model.constant({ key, symbol: `k_${size}`, label, unit: ONE, value });
  }

  #error(source: string, role: "field" | "reference", u: number): Scalar {
    const key = `output-corrections/${source}/error of the ${role === "field" ? "fields" : "reference"}`;
    const label = `output corrections of ${source}, common to ${role === "field" ? "all fields" : "the reference's rows"}`;
    const symbol = role === "field" ? "δ_k" : "δ_k,ref";
    return (
      this.#model.tape.find(key) ?? this.#model.estimate({ key, symbol, label, type: "B", unit: ONE, value: 0, u })
    );
  }
}

function steepness([low, high]: readonly [OutputCorrectionValue, OutputCorrectionValue]): number {
  return Math.abs(
    (high.output_correction - low.output_correction) / ln(high.equivalent_square_mm / low.equivalent_square_mm),
  );
}
