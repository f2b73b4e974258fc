import type { ActiveVolume } from "./active-volume.ts";
import { integral } from "./quadrature.ts";
import { exp } from "./special.ts";

/** A number for each of the two channels, the one rich in scintillation first. */
export type PerChannel<T = number> = readonly [T, T];

/**
 * A plastic fibre with a scintillating tip, as the two channels of the reader see it. Light is in nC; invented, but of
 * the size that such detectors show.
 */
export interface Fibre extends ActiveVolume {
  readonly id: string;
  readonly channels: PerChannel<string>;
  /** Scintillation in the first channel per dose to the active volume, at the reference temperature. */
  readonly scintillation_perGy: number;
  /** Part of the scintillation that the second channel sees as well, of the first's. */
  readonly crosstalk: number;
  /** Stem light per dose at the field's centre and per mm of irradiated fibre at right angles to the beam. */
  readonly stem_perGyMm: PerChannel;
  /** Fluorescence of the stem: as the above, but alike from every angle. */
  readonly fluorescence_perGyMm: PerChannel;
  /** How the captured Cherenkov light peaks about an angle to the beam: 1 + height·(bell(θ) − bell(90°)). */
  readonly capture: { readonly height: number; readonly peak_deg: number; readonly width_deg: number };
  /** Light lost per metre of fibre, which the stem light from beyond the tip is spared. */
  readonly attenuation_perM: PerChannel;
  /** Relative change of the scintillation per kelvin; that of the stem light is none. */
  readonly temperatureCoefficient_perK: number;
  /** Light lost per kGy to the whole fibre, of all light in the channel. */
  readonly yellowing_perKGy: PerChannel;
  readonly accumulatedDose_Gy: number;
}

/** What a reading's light comes from. */
export interface Irradiation {
  /** Dose to the active volume, as far as the scintillation follows it, in Gy. */
  readonly volumeDose_Gy: number;
  /** Dose at the field's centre, in Gy. */
  readonly centreDose_Gy: number;
  readonly fibre_mm: number;
  readonly angle_deg: number;
  /** Temperature above the reference, in K. */
  readonly warmth_K: number;
  /** Dose since the campaign began, in Gy. */
  readonly since_Gy: number;
  /** Stem light over what it should be, by channel. */
  readonly stemFactor: PerChannel;
}

/** Light in each channel, in nC. */
export function lightOf(fibre: Fibre, irradiation: Irradiation): [number, number] {
  const { volumeDose_Gy, centreDose_Gy, warmth_K, since_Gy, stemFactor } = irradiation;
  const scintillation = fibre.scintillation_perGy * volumeDose_Gy * (1 + fibre.temperatureCoefficient_perK * warmth_K);
  const captured = capturedAt(fibre, irradiation.angle_deg);
  const channel = (c: 0 | 1) => {
    const seen = c === 0 ? scintillation : scintillation * fibre.crosstalk;
    const perMm = fibre.stem_perGyMm[c] * captured + fibre.fluorescence_perGyMm[c];
    const stem = perMm * centreDose_Gy * effectiveLength(irradiation.fibre_mm, fibre.attenuation_perM[c] / 1000);
    const left = 1 - (fibre.yellowing_perKGy[c] * since_Gy) / 1000;
    return left * (seen + stem * stemFactor[c]);
  };
  return [channel(0), channel(1)];
}

/**
 * The stem ratio ρ: stem light of the first channel over that of the second, from the tip, at right angles to the beam,
 * with the fibre as it was when the campaign began.
 */
export function stemRatioOf({ stem_perGyMm, fluorescence_perGyMm }: Fibre, gain: PerChannel): number {
  const seen = (c: 0 | 1) => gain[c] * (stem_perGyMm[c] + fluorescence_perGyMm[c]);
  return seen(0) / seen(1);
}

/** The calibration coefficient N_D in Gy per nC of corrected signal, at the reference temperature. */
export function coefficientOf(fibre: Fibre, gain: PerChannel): number {
  const { scintillation_perGy, crosstalk } = fibre;
  return 1 / (scintillation_perGy * (gain[0] - stemRatioOf(fibre, gain) * gain[1] * crosstalk));
}

function capturedAt({ capture }: Fibre, angle_deg: number): number {
  const bell = (angle: number) => {
    const off = (angle - capture.peak_deg) / capture.width_deg;
    return exp(-0.5 * off * off);
  };
  return 1 + capture.height * (bell(angle_deg) - bell(90));
}

/** Light from along the fibre has less of it to pass than light from the tip. */
function effectiveLength(length: number, attenuation_perMm: number): number {
  if (attenuation_perMm === 0) return length;
  return integral((at) => exp(attenuation_perMm * at), 0, length, 100);
}
