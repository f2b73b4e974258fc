/** Something that is not as it was kept. */
export interface AuditFault {
  /** The first revision that does not fit, where it can be told. */
  readonly revision?: number;
  readonly says: string;
}
