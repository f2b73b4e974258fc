import { MISTAKES, type MistakeKind } from "@alcedo-dosimetry/simulator";

/** A mistake to be made, of its usual size unless one is given. */
export interface MistakeToMake {
  readonly kind: MistakeKind;
  readonly size?: number;
}

/** `KIND` or `KIND=SIZE` as typed. @throws RangeError saying what is wrong with it. */
export function mistakeToMake(text: string): MistakeToMake {
  const at = text.indexOf("=");
  const kind = at < 0 ? text : text.slice(0, at);
  if (!isKind(kind)) throw new RangeError("There is no such mistake; alcedo simulate --list names them.");
  if (at < 0) return { kind };
  const { size: scale } = MISTAKES[kind];
  if (!scale) throw new RangeError(`The mistake ${kind} has no size.`);
  const size = text.slice(at + 1);
  if (!/^[+-]?\d+(\.\d+)?(e[+-]?\d{1,2})?$/i.test(size))
    throw new RangeError(`Its size is a number with a decimal point: ${kind}=${scale.usual} (${scale.meaning}).`);
  return { kind, size: Number(size) };
}

function isKind(text: string): text is MistakeKind {
  return Object.hasOwn(MISTAKES, text);
}
