import type { Fibre, PerChannel } from "./fibre.ts";
import type { Laboratory } from "./laboratory.ts";

/**
 * The same laboratory after its fibre has taken so much more dose: light is lost to discolouring as the fibre's
 * `yellowing_perKGy` says, all light of a channel alike, and the accumulated dose has grown.
 *
 * @throws RangeError where no light would be left.
 */
export function aged(laboratory: Laboratory, dose_Gy: number): Laboratory {
  const { fibre } = laboratory;
  const left = fibre.yellowing_perKGy.map((loss) => 1 - (loss * dose_Gy) / 1000) as [number, number];
  if (!left.every((part) => part > 0))
    throw new RangeError(`after ${dose_Gy} Gy more no light of the fibre ${fibre.id} would be left`);
  return { ...laboratory, fibre: { ...faded(fibre, left), accumulatedDose_Gy: fibre.accumulatedDose_Gy + dose_Gy } };
}

function faded(fibre: Fibre, left: PerChannel): Fibre {
  const both = (light: PerChannel): PerChannel => [light[0] * left[0], light[1] * left[1]];
  return {
    ...fibre,
    scintillation_perGy: fibre.scintillation_perGy * left[0],
    // the second channel's part is stated in terms of the first's
    crosstalk: (fibre.crosstalk * left[1]) / left[0],
    stem_perGyMm: both(fibre.stem_perGyMm),
    fluorescence_perGyMm: both(fibre.fluorescence_perGyMm),
  };
}
