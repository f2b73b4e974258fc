const ENTRY = 0x02014b50;

/** A zip file whose directory says something else of its first file: `change` is given the place so far behind its record. */
export function patchedEntry(
  bytes: Uint8Array,
  offset: number,
  change: (view: DataView, at: number) => void,
): Uint8Array {
  const copy = bytes.slice();
  const view = new DataView(copy.buffer);
  let at = 0;
  while (view.getUint32(at, true) !== ENTRY) at += 1;
  change(view, at + offset);
  return copy;
}
