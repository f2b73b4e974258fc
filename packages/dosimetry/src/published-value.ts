/** A number from outside, with where it is from. */
export interface PublishedValue {
  readonly name: string;
  readonly value: number;
  /** Symbol of the unit; `1` where there is none. */
  readonly unit: string;
  /** Standard uncertainty in the same unit; absent where the source gives none. */
  readonly uncertainty?: number;
  readonly source: string;
}
