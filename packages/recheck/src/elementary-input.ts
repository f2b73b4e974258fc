/** Elementary inputs that vary together; inputs of different blocks are independent. */
export interface InputBlock {
  readonly keys: readonly string[];
  /** Covariance of the inputs' errors. */
  readonly covariance: readonly (readonly number[])[];
}

/** How far each elementary input stands from its estimate: zero for all but the one that is being tried. */
export type Shift = (key: string) => number;

/** Every input at its estimate. */
export const atEstimates: Shift = () => 0;

/** A block of one input with its standard uncertainty. */
export function single(key: string, u: number): InputBlock {
  return { keys: [key], covariance: [[u * u]] };
}
