import type { Assumptions, OutputFactorReading } from "@alcedo-dosimetry/campaign";
import { blurredField } from "./blurred-field.ts";
import { type InputBlock, type Shift, single } from "./elementary-input.ts";
import { fieldWidths } from "./equivalent-square.ts";
import { gaussLegendre } from "./gauss-rule.ts";
import { type ActiveVolume, footprint, positioning, volumeAveraging } from "./volume-averaging.ts";

/** The corrections of one field alone; absent where it is not computed and not given. */
export interface FieldCorrections {
  readonly volumeAveraging?: number;
  readonly positioning?: number;
}

const keyOf = (field: OutputFactorReading, part: string) => `output-factors/${field.condition}/${part}`;
/** A blur that is assumed is assumed for all fields alike. */
const sigmaKey = (field: OutputFactorReading) =>
  field.sigma_mm === undefined ? "penumbra-sigma" : keyOf(field, "sigma");

/** Part of k − 1 that the field model may be wrong by, as a standard uncertainty. */
const MODEL = 1 / 4;

/** Enough where a loss is asked for and not the average itself. */
const COARSE = gaussLegendre(8);

/** Volume averaging and positioning of the fields: as given, and computed where the active volume is to be used. */
export class Corrections {
  readonly #assumptions: Assumptions;
  readonly #volume: ActiveVolume | undefined;
  /** Quadratures already done, by everything that they depend on. */
  readonly #known = new Map<string, { k: number; positioning: { k: number; u: number } }>();

  constructor(assumptions: Assumptions, volume: ActiveVolume | undefined) {
    this.#assumptions = assumptions;
    this.#volume = volume;
  }

  of(field: OutputFactorReading, shift: Shift): FieldCorrections {
    const given = field.k_volume === undefined ? undefined : field.k_volume + shift(keyOf(field, "k-volume"));
    const computed = this.#computed(field, shift);
    if (!computed) return given === undefined ? {} : { volumeAveraging: given };
    return {
      volumeAveraging: given ?? computed.k + shift(keyOf(field, "volume-model")),
      positioning: computed.positioning.k * (1 + shift(keyOf(field, "positioning"))),
    };
  }

  /** What is uncertain about the corrections of some fields, beside their widths. */
  inputs(fields: readonly OutputFactorReading[]): InputBlock[] {
    const blocks = new Map<string, number>();
    for (const field of fields) {
      if (field.k_volume !== undefined) blocks.set(keyOf(field, "k-volume"), field.k_volume_u ?? 0);
      const computed = this.#computed(field, () => 0);
      if (!computed) continue;
      const { penumbraSigma_mm } = this.#assumptions;
      const sigma_u = field.sigma_mm === undefined ? penumbraSigma_mm.u : (field.sigma_u_mm ?? 0);
      blocks.set(sigmaKey(field), sigma_u);
      blocks.set(keyOf(field, "volume-model"), MODEL * Math.abs(computed.k - 1));
      blocks.set(keyOf(field, "positioning"), computed.positioning.u);
    }
    return [...blocks].map(([key, u]) => single(key, u));
  }

  #computed(field: OutputFactorReading, shift: Shift) {
    if (!this.#volume) return undefined;
    const { penumbraSigma_mm, positioning_u_mm } = this.#assumptions;
    const { shape, offset_x_mm = 0, offset_y_mm = 0 } = field;
    const widths = fieldWidths(field, shift);
    const sigma_mm = (field.sigma_mm ?? penumbraSigma_mm.value) + shift(sigmaKey(field));
    const key = [shape, widths.measured, widths.x_mm, widths.y_mm, sigma_mm, offset_x_mm, offset_y_mm].join(" ");
    const known = this.#known.get(key);
    if (known) return known;
    const dose = blurredField({ shape, ...widths, sigma_mm });
    const made = {
      k: volumeAveraging(dose, footprint(this.#volume)),
      positioning: positioning(dose, footprint(this.#volume, COARSE), {
        x_mm: offset_x_mm,
        y_mm: offset_y_mm,
        u_mm: positioning_u_mm,
      }),
    };
    this.#known.set(key, made);
    return made;
  }
}
