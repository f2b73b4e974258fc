import { ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import type { ActiveVolume } from "./active-volume.ts";
import type { Chain, Measured } from "./chain.ts";
import { fieldModel } from "./field-model.ts";
import { addFieldSize, type FieldDescription, type FieldSize } from "./field-size.ts";
import { MILLIMETRE } from "./length-unit.ts";
import { TipGeometry } from "./volume-averaging.ts";

/** A field as the table describes it, with what it says of its edge, the tip's place and its own correction. */
export interface DescribedField extends FieldDescription {
  /** Gaussian blur of the edge. */
  readonly sigma_mm?: number;
  readonly sigma_u_mm?: number;
  /** Measured distance of the tip from the field's centre. */
  readonly offset_x_mm?: number;
  readonly offset_y_mm?: number;
  /** A volume-averaging correction to use in place of the computed one, that field's alone. */
  readonly k_volume?: number;
  readonly k_volume_u?: number;
}

/** The size of a field and the corrections of that field alone, not over the reference's. */
export interface FieldFactors {
  /** The field's condition. */
  readonly name: string;
  readonly size: FieldSize;
  /** k_vol. */
  readonly volumeAveraging: Scalar;
  /** k_pos. */
  readonly positioning: Scalar;
  /** How far they are computed: `gaussian` where the field is narrower than its blur allows; `none` without a volume. */
  readonly model: "blurred" | "gaussian" | "none";
  /** Whether k_vol is the table's. */
  readonly stated: boolean;
}

/** What the corrections take from outside the series. */
export interface FieldAssumptions {
  /** Absent where nobody said how large the tip is: then nothing is computed and both factors are one. */
  readonly activeVolume?: ActiveVolume;
  /** Standard uncertainty of a field width in mm. */
  readonly fieldWidth_u_mm: number;
  /** Standard uncertainty of the tip's centre along either lateral axis in mm. */
  readonly positioning_u_mm: number;
  /** σ of the edges where a field states none. */
  readonly penumbraSigma_mm: Measured;
}

/** Part of k_vol − 1 that the model of the field may be wrong by, as a standard uncertainty (proposed default). */
const MODEL_SHARE = 1 / 4;

/** Standard uncertainty of a computed k_vol for its model; none where the field is flat over the tip but for rounding. */
function modelDoubt(k: number): number {
  const off = Math.abs(k - 1);
  return off < 1e-12 ? 0 : off * MODEL_SHARE;
}

/** Sizes and corrections of the fields of one series; what they share is one input. */
export class FieldCorrections {
  readonly #chain: Chain;
  readonly #assumptions: FieldAssumptions;
  readonly #tip: TipGeometry | undefined;
  #sharedSigma: Scalar | undefined;

  constructor(chain: Chain, assumptions: FieldAssumptions) {
    this.#chain = chain;
    this.#assumptions = assumptions;
    this.#tip = assumptions.activeVolume && new TipGeometry(chain.model, assumptions.activeVolume);
  }

  of(condition: string, field: DescribedField): FieldFactors {
    const { model } = this.#chain;
    const { fieldWidth_u_mm, positioning_u_mm } = this.#assumptions;
    const size = addFieldSize(this.#chain, condition, field, fieldWidth_u_mm);
    const names = {
      volume: {
        key: `volume-averaging.${condition}`,
        symbol: `k_vol,${condition}`,
        label: `volume averaging, ${condition}`,
      },
      place: { key: `positioning.${condition}`, symbol: `k_pos,${condition}`, label: `positioning, ${condition}` },
    };
    const stated = field.k_volume !== undefined;
    const given = stated
      ? model.estimate({ ...names.volume, type: "B", unit: ONE, value: field.k_volume, u: field.k_volume_u ?? 0 })
      : undefined;
    const common = { name: condition, size, stated };
    if (!this.#tip)
      return {
        ...common,
        model: "none",
        volumeAveraging: given ?? model.constant({ ...names.volume, unit: ONE, value: 1 }),
        positioning: model.constant({ ...names.place, unit: ONE, value: 1 }),
      };
    const shape = fieldModel(model, field.shape, size.widths, this.#sigma(condition, field), !size.measured);
    const { volumeAveraging, positioning, placementSpread } = this.#tip.corrections(shape, {
      offset: [field.offset_x_mm ?? 0, field.offset_y_mm ?? 0],
      u: positioning_u_mm,
    });
    const doubt = (what: string, label: string, u: number) =>
      model.estimate({
        key: `output-factors/${condition}/${what}`,
        symbol: `δ_${what},${condition}`,
        label: `${label}, ${condition}`,
        type: "B",
        unit: ONE,
        value: 0,
        u,
      });
    return {
      ...common,
      model: shape.halfWidths ? "blurred" : "gaussian",
      volumeAveraging:
        given ??
        volumeAveraging
          .plus(doubt("field-model", "model of the field", modelDoubt(volumeAveraging.value)))
          .named(names.volume.key, names.volume.symbol, names.volume.label),
      positioning: positioning
        .times(doubt("placement", "centring", placementSpread).plus(1))
        .named(names.place.key, names.place.symbol, names.place.label),
    };
  }

  /** σ of the field's edges: its own, or the one input that all others share. */
  #sigma(condition: string, { sigma_mm, sigma_u_mm }: DescribedField): Scalar {
    const { model } = this.#chain;
    const common = { symbol: "σ", type: "B" as const, unit: MILLIMETRE };
    if (sigma_mm !== undefined)
      return model.estimate({
        ...common,
        key: `output-factors/${condition}/sigma`,
        label: `blur of the edge of ${condition}`,
        value: sigma_mm,
        u: sigma_u_mm ?? 0,
      });
    this.#sharedSigma ??= model.estimate({
      ...common,
      key: "penumbra-sigma",
      label: "blur of the fields' edges",
      ...this.#assumptions.penumbraSigma_mm,
    });
    return this.#sharedSigma;
  }
}
