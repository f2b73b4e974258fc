/** Where the tip's centre may be. */
export interface Placement {
  /** Measured distance of the tip from the field's centre along x and y in mm. */
  readonly offset: readonly [number, number];
  /** Standard uncertainty of the tip's place along either axis in mm. */
  readonly u: number;
}
