import { Unit } from "@alcedo-dosimetry/metrology";

/** Percentage depth doses are in %, a unit of its own, so that one is never taken for a fraction. */
export const PERCENT = Unit.parse("%");
