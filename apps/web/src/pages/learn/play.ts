import {
  aged,
  type Laboratory,
  pointDetector,
  standardLaboratory,
  withMistake,
  withRepeats,
} from "@alcedo-dosimetry/simulator";

/** What may be done wrong on the page, each a mistake of the virtual laboratory. */
export const SLIPS = ["none", "channels-swapped", "dose-unequal", "fibre-angle-changed"] as const;

/** See {@link SLIPS}. */
export type Slip = (typeof SLIPS)[number];

/** How the virtual fibre lies, and what has become of it. */
export interface Play {
  /** Fibre in the beam in the arrangement that is moved by hand, in mm. */
  readonly fibre_mm: number;
  /** Fibre in the beam in the arrangement with most of it. */
  readonly much_mm: number;
  /** Side of the square field whose output factor is looked for. */
  readonly side_mm: number;
  /** Dose that the fibre has taken since it was new, in Gy. */
  readonly dose_Gy: number;
  readonly slip: Slip;
  /** Each time it is read again, other noise. */
  readonly seed: number;
}

/** How the page begins. */
export const START: Play = { fibre_mm: 300, much_mm: 400, side_mm: 10, dose_Gy: 0, slip: "none", seed: 1 };

/** What may be moved, and how far. Whole steps for the arrow keys. */
export const REACH = {
  fibre_mm: { least: 30, most: 600, step: 10 },
  much_mm: { least: 60, most: 600, step: 10 },
  side_mm: { least: 4, most: 100, step: 1 },
  dose_Gy: { least: 0, most: 4000, step: 100 },
} as const;

/** The little-fibre arrangement: in a field of 100 mm it cannot be less. */
export const LITTLE_MM = 50;

/** Names of conditions on this page. */
export const NAMES = {
  little: "little",
  much: "much",
  moved: "moved",
  field: "your-field",
  reference: "100x100",
} as const;

/** Light lost per kGy; the blue end of the spectrum yellows first (invented, of the size that such fibres show). */
const YELLOWING = [0.05, 0.02] as const;

/** From the tip to the edge of the field and as far again as the fibre is held: what a field of that side covers. */
const coveredBy = (side_mm: number) => side_mm / 2 + 10;

/**
 * The laboratory in which that is so. Only noise errs in it: what is stated is true, so that what is seen comes from the
 * light alone.
 */
export function laboratoryOf(play: Play): Laboratory {
  const standard = pointDetector(withRepeats(standardLaboratory(), 3));
  const square = (side_mm: number) => ({ shape: "rectangle", x_mm: side_mm, y_mm: side_mm }) as const;
  const group = { aperture: square(100), doseGroup: NAMES.reference };
  const reference = { name: NAMES.reference, aperture: square(100), fibre_mm: LITTLE_MM };
  const laboratory: Laboratory = {
    ...standard,
    name: "virtual-fibre",
    fibre: { ...standard.fibre, yellowing_perKGy: YELLOWING, accumulatedDose_Gy: 0 },
    effects: { ...standard.effects, typeB: false, averagingModel_u: 0 },
    physicist: {
      ...standard.physicist,
      plan: {
        ...standard.physicist.plan,
        separation: [
          { ...group, name: NAMES.little, fibre_mm: LITTLE_MM, role: "fit" },
          { ...group, name: NAMES.much, fibre_mm: play.much_mm, role: "fit" },
          { ...group, name: NAMES.moved, fibre_mm: play.fibre_mm, role: "verify" },
        ],
        calibration: { ...reference, name: "reference", dose: "each-reading" },
        outputFactors: {
          reference,
          fields: [{ name: NAMES.field, aperture: square(play.side_mm), fibre_mm: coveredBy(play.side_mm) }],
          referenceEvery: 1,
        },
      },
    },
  };
  const used = aged(laboratory, play.dose_Gy);
  return play.slip === "none" ? used : withMistake(used, play.slip);
}
