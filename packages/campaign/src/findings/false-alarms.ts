import { sidakPerTest } from "@alcedo-dosimetry/metrology";

/** Probability that a clean campaign draws any statistical warning at all. */
const PER_CAMPAIGN = 0.01;

/** Families of tests that may raise a statistical warning: scatter, fit, verification, lone readings, background. */
const FAMILIES = 5;

/** The level of one family: the campaign's budget shared among them (Šidák). */
export const FAMILY_LEVEL = sidakPerTest(PER_CAMPAIGN, FAMILIES);
