import { meanOverVolume } from "./active-volume.ts";
import { type Aperture, apertureKey } from "./aperture.ts";
import { type Beam, outputFactor } from "./beam.ts";
import type { Fibre, PerChannel } from "./fibre.ts";
import { profileOf, widthsAtHalf } from "./lateral-profile.ts";
import { remembered } from "./remembered.ts";

/** True field output factor of an opening, at a point. */
export function trueOutputFactor(beam: Beam, aperture: Aperture): number {
  return remembered(beam, `output ${apertureKey(aperture)}`, () => outputFactor(beam, aperture));
}

/** True widths at half maximum of an opening's field. */
export function trueWidths(beam: Beam, aperture: Aperture): PerChannel {
  return remembered(beam, `widths ${apertureKey(aperture)}`, () => {
    const [x, y] = widthsAtHalf(beam, aperture);
    return [x, y] as const;
  });
}

/** Mean dose over the detector that stands at `at`, over the dose at the field's centre. */
export function trueAverage(beam: Beam, fibre: Fibre, aperture: Aperture, at: PerChannel): number {
  const { diameter_mm, length_mm, axis } = fibre;
  const compute = () => meanOverVolume(profileOf(beam, aperture), fibre, at[0], at[1]);
  if (at[0] !== 0 || at[1] !== 0) return compute();
  return remembered(beam, `average ${apertureKey(aperture)} ${diameter_mm} ${length_mm} ${axis}`, compute);
}

/** Dose at a point off the centre, over the dose at the field's centre. */
export function trueProfile(beam: Beam, aperture: Aperture, at: PerChannel): number {
  return at[0] === 0 && at[1] === 0 ? 1 : profileOf(beam, aperture)(at[0], at[1]);
}
