/**
 * The functions that engines compute each in their own way, from the library whose plain arithmetic is the same
 * everywhere: the same seed gives the same campaign to the last bit. This file is the package's only door to it.
 */
import stdlibCos from "@stdlib/math-base-special-cos";
import stdlibExp from "@stdlib/math-base-special-exp";
import stdlibLn from "@stdlib/math-base-special-ln";
import stdlibSin from "@stdlib/math-base-special-sin";

/** e^x. */
export const exp: (x: number) => number = stdlibExp;

/** Natural logarithm. */
export const ln: (x: number) => number = stdlibLn;

/** Cosine of an angle in radians. */
export const cos: (x: number) => number = stdlibCos;

/** Sine of an angle in radians. */
export const sin: (x: number) => number = stdlibSin;
