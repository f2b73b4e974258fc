/**
 * The offset of the first byte that cannot be part of valid UTF-8 (RFC 3629: no overlong forms, no surrogates, nothing above
 * U+10FFFF), or `undefined` when all is valid. A sequence that is cut short counts from its first byte.
 */
export function firstInvalidByte(bytes: Uint8Array): number | undefined {
  let i = 0;
  while (i < bytes.length) {
    const lead = bytes[i]!;
    const length = lead < 0x80 ? 1 : sequenceLength(lead);
    if (length === 0) return i;
    for (let k = 1; k < length; k++) {
      const next = bytes[i + k];
      const [low, high] = k === 1 ? secondByte(lead) : ANY;
      if (next === undefined || next < low || next > high) return i;
    }
    i += length;
  }
  return undefined;
}

const ANY = [0x80, 0xbf] as const;

function sequenceLength(lead: number): number {
  if (lead >= 0xc2 && lead <= 0xdf) return 2;
  if (lead >= 0xe0 && lead <= 0xef) return 3;
  return lead >= 0xf0 && lead <= 0xf4 ? 4 : 0;
}

/** The second byte's bounds, narrower after the leads that could begin an overlong form or leave Unicode. */
function secondByte(lead: number): readonly [number, number] {
  if (lead === 0xe0) return [0xa0, 0xbf];
  if (lead === 0xed) return [0x80, 0x9f];
  if (lead === 0xf0) return [0x90, 0xbf];
  return lead === 0xf4 ? [0x80, 0x8f] : ANY;
}
