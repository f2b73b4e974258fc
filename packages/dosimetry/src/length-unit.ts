import { type Scalar, Unit } from "@alcedo-dosimetry/metrology";

/** The unit of every length that enters or leaves this package. */
export const MILLIMETRE = Unit.parse("mm");

/** The unit of the published formulas of fields and beam quality: used inside them alone. */
export const CENTIMETRE = Unit.parse("cm");

const MILLIMETRES_PER_CENTIMETRE = MILLIMETRE.over(CENTIMETRE);

/** A length in mm written in cm: over exactly 10 mm/cm. */
export function inCentimetres(length: Scalar): Scalar {
  return length.over(length.tape.literal(10, MILLIMETRES_PER_CENTIMETRE));
}

/** A length in cm written in mm: times exactly 10 mm/cm. */
export function inMillimetres(length: Scalar): Scalar {
  return length.times(length.tape.literal(10, MILLIMETRES_PER_CENTIMETRE));
}
