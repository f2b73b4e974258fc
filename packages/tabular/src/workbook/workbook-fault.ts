/** Why bytes cannot be read as a workbook. */
export type WorkbookFaultKind =
  | "not-a-workbook"
  | "other-format"
  | "encrypted"
  | "macros"
  | "too-large"
  | "twice"
  | "damaged";

/** A workbook that is refused; the message says why, as the end of a sentence that begins with the file's name. */
export class WorkbookFault extends Error {
  readonly kind: WorkbookFaultKind;

  constructor(kind: WorkbookFaultKind, message: string) {
    super(message);
    this.kind = kind;
  }
}
