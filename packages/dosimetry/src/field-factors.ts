import { type DeviateSurface, ONE, type Scalar } from "@alcedo-dosimetry/metrology";
import type { ActiveVolume } from "./active-volume.ts";
import type { Chain, Measured } from "./chain.ts";
import { fieldModel } from "./field-model.ts";
import { addFieldSize, type FieldDescription, type FieldSize } from "./field-size.ts";
import { MILLIMETRE } from "./length-unit.ts";
import type { Placement } from "./placement.ts";
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
  /**
   * How they are computed: `gaussian` where the field is narrower than its blur allows; `flat` where both are one within
   * 1e-9, whatever the draws; `none` without a volume.
   */
  readonly model: "blurred" | "gaussian" | "flat" | "none";
  /** Whether k_vol is the table's. */
  readonly stated: boolean;
  /** The k_vol of the field's size and the active volume, used or not; undefined where no volume is known. */
  readonly computed?: number;
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
    const sigma = this.#sigma(condition, field);
    const placement: Placement = { offset: [field.offset_x_mm ?? 0, field.offset_y_mm ?? 0], u: positioning_u_mm };
    if (isFlat(size, fieldWidth_u_mm, sigma, this.#assumptions.activeVolume!, placement))
      return {
        ...common,
        model: "flat",
        computed: 1,
        volumeAveraging: given ?? model.constant({ ...names.volume, unit: ONE, value: 1 }),
        positioning: model.constant({ ...names.place, unit: ONE, value: 1 }),
      };
    const shape = fieldModel(model, field.shape, size.widths, sigma.node(), !size.measured);
    const found = this.#tip.corrections(shape, placement);
    const { volumeAveraging, positioning, placementSpread, placement: surface } = found;
    const widths = [size.widths[0].value, size.widths[1].value] as const;
    const curved =
      sigma.u > 0
        ? this.#tip.curvature(shape, widths, sigma, !size.measured, placement, found)
        : { volumeAveraging: 0, positioning: 0 };
    const doubt = (what: string, label: string, u: number, of?: { surface: () => DeviateSurface }) =>
      model.estimate({
        key: `output-factors/${condition}/${what}`,
        symbol: `δ_${what},${condition}`,
        label: `${label}, ${condition}`,
        type: "B",
        unit: ONE,
        value: 0,
        u,
        ...of,
      });
    const shifted = (node: Scalar, what: "volume-averaging" | "positioning", value: number) =>
      value === 0
        ? node
        : node.plus(
            model.meanShift({
              key: `output-factors/${condition}/${what} over the blur`,
              symbol: `Δ_σ,${condition}`,
              label: `what the spread of the blur adds to the mean, ${what.replace("-", " ")}, ${condition}`,
              unit: ONE,
              value,
              derivedFrom: "output-factors",
            }),
          );
    return {
      ...common,
      model: shape.gaussian ? "gaussian" : "blurred",
      computed: volumeAveraging.value,
      volumeAveraging:
        given ??
        shifted(volumeAveraging, "volume-averaging", curved.volumeAveraging)
          .plus(doubt("field-model", "model of the field", modelDoubt(volumeAveraging.value)))
          .named(names.volume.key, names.volume.symbol, names.volume.label),
      positioning: shifted(
        positioning.times(doubt("placement", "centring", placementSpread, { surface }).plus(1)),
        "positioning",
        curved.positioning,
      ).named(names.place.key, names.place.symbol, names.place.label),
    };
  }

  /** σ of the field's edges: its own, or the one input that all others share; written down where it is used. */
  #sigma(condition: string, { sigma_mm, sigma_u_mm }: DescribedField): Blur {
    const { model } = this.#chain;
    const common = { symbol: "σ", type: "B" as const, unit: MILLIMETRE, distribution: "rectangular" as const };
    if (sigma_mm === undefined) {
      const shared = this.#assumptions.penumbraSigma_mm;
      const label = "blur of the fields' edges";
      const node = () => (this.#sharedSigma ??= model.estimate({ ...common, key: "penumbra-sigma", label, ...shared }));
      return { ...shared, node };
    }
    const own = { value: sigma_mm, u: sigma_u_mm ?? 0 };
    const key = `output-factors/${condition}/sigma`;
    return {
      ...own,
      node: () => model.estimate({ ...common, key, label: `blur of the edge of ${condition}`, ...own }),
    };
  }
}

/** A blur of edges in mm, drawn between value ± √3·u. */
interface Blur extends Measured {
  /** Its node: an input of the model as soon as it is asked for. */
  node(): Scalar;
}

/** Blurs from its edge at which the dose of a field is within 3e-10 of its middle's. */
const FLAT = 6.2;

/** Standard deviations within which a normal error lies for certain. */
const CERTAIN = 4;

/** Whether the field is flat wherever the tip may stand, at the largest blur and the least width: both corrections are one. */
function isFlat(
  { widths, measured }: FieldSize,
  width_u: number,
  sigma: Measured,
  { diameter_mm, length_mm }: ActiveVolume,
  { offset, u }: Placement,
): boolean {
  // a nominal size is 2a to the letter, and a measured FWHM is that of a field with a ≥ FWHM/2 or just below
  const spare = measured ? 0.01 : 0;
  const blur = sigma.value + Math.sqrt(3) * sigma.u;
  const reach = (diameter_mm + length_mm) / 2 + CERTAIN * u;
  return ([0, 1] as const).every((axis) => {
    const half = (widths[axis].value * (1 - spare) - CERTAIN * width_u) / 2;
    return half - reach - Math.abs(offset[axis]) > FLAT * blur;
  });
}
