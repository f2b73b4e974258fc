import { sidakPerTest } from "@alcedo-dosimetry/metrology";

/**
 * Probability that a clean campaign draws a statistical warning from the rules: half of the 1 % that a campaign may raise.
 * The other half is the verification's, whose level is the physics' own.
 */
const OF_THE_RULES = 0.005;

/** Families of tests among the rules that may raise one: scatter, fit, lone readings, background. */
const FAMILIES = 4;

/** The level of one family: that half shared among them (Šidák). */
export const FAMILY_LEVEL = sidakPerTest(OF_THE_RULES, FAMILIES);
