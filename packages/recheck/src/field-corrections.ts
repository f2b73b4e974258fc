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

/** Over the blur of the edges. */
const BLURS = gaussLegendre(6);

/** Volume averaging and positioning of the fields: as given, and computed where the active volume is to be used. */
export class Corrections {
  readonly #assumptions: Assumptions;
  readonly #volume: ActiveVolume | undefined;
  /** Quadratures already done, by everything that they depend on. */
  readonly #known = new Map<string, { k: number; positioning: { k: number; u: number } }>();

  /** What the spread of the blur adds, by field. */
  readonly #spreads = new Map<OutputFactorReading, Required<FieldCorrections>>();

  constructor(assumptions: Assumptions, volume: ActiveVolume | undefined) {
    this.#assumptions = assumptions;
    this.#volume = volume;
  }

  of(field: OutputFactorReading, shift: Shift): FieldCorrections {
    const given = field.k_volume === undefined ? undefined : field.k_volume + shift(keyOf(field, "k-volume"));
    const computed = this.#computed(field, shift);
    if (!computed) return given === undefined ? {} : { volumeAveraging: given };
    const spread = this.#overTheBlur(field);
    return {
      volumeAveraging: given ?? computed.k + spread.volumeAveraging + shift(keyOf(field, "volume-model")),
      positioning: computed.positioning.k * (1 + shift(keyOf(field, "positioning"))) + spread.positioning,
    };
  }

  /** What the mean over the blur, anywhere between σ ± √3·u, differs by from the corrections at its middle. */
  #overTheBlur(field: OutputFactorReading) {
    const known = this.#spreads.get(field);
    if (known) return known;
    const u = this.#sigma_u(field);
    const at = (deviation: number) =>
      this.#computed(field, (key) => (key === sigmaKey(field) ? deviation : 0), gaussLegendre(6))!;
    const middle = at(0);
    const made = { volumeAveraging: 0, positioning: 0 };
    if (u > 0)
      BLURS.nodes.forEach((node, i) => {
        const here = at(Math.sqrt(3) * u * node);
        made.volumeAveraging += 0.5 * BLURS.weights[i]! * (here.k - middle.k);
        made.positioning += 0.5 * BLURS.weights[i]! * (here.positioning.k - middle.positioning.k);
      });
    this.#spreads.set(field, made);
    return made;
  }

  #sigma_u({ sigma_mm, sigma_u_mm }: OutputFactorReading): number {
    return sigma_mm === undefined ? this.#assumptions.penumbraSigma_mm.u : (sigma_u_mm ?? 0);
  }

  /** What is uncertain about the corrections of some fields, beside their widths. */
  inputs(fields: readonly OutputFactorReading[]): InputBlock[] {
    const blocks = new Map<string, number>();
    for (const field of fields) {
      if (field.k_volume !== undefined) blocks.set(keyOf(field, "k-volume"), field.k_volume_u ?? 0);
      const computed = this.#computed(field, () => 0);
      if (!computed) continue;
      blocks.set(sigmaKey(field), this.#sigma_u(field));
      blocks.set(keyOf(field, "volume-model"), MODEL * Math.abs(computed.k - 1));
      blocks.set(keyOf(field, "positioning"), computed.positioning.u);
    }
    return [...blocks].map(([key, u]) => single(key, u));
  }

  /** @param rule along either direction of the active volume, for the loss by placement. */
  #computed(field: OutputFactorReading, shift: Shift, rule = COARSE) {
    if (!this.#volume) return undefined;
    const { penumbraSigma_mm, positioning_u_mm } = this.#assumptions;
    const { shape, offset_x_mm = 0, offset_y_mm = 0 } = field;
    const widths = fieldWidths(field, shift);
    const sigma_mm = (field.sigma_mm ?? penumbraSigma_mm.value) + shift(sigmaKey(field));
    const key = [
      shape,
      widths.measured,
      widths.x_mm,
      widths.y_mm,
      sigma_mm,
      offset_x_mm,
      offset_y_mm,
      rule.nodes.length,
    ].join(" ");
    const known = this.#known.get(key);
    if (known) return known;
    const dose = blurredField({ shape, ...widths, sigma_mm });
    const made = {
      k: volumeAveraging(dose, footprint(this.#volume)),
      positioning: positioning(dose, footprint(this.#volume, rule), {
        x_mm: offset_x_mm,
        y_mm: offset_y_mm,
        u_mm: positioning_u_mm,
      }),
    };
    this.#known.set(key, made);
    return made;
  }
}
