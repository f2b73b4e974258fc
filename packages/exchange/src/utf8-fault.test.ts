import fc from "fast-check";
import { expect, test } from "vitest";
import { firstInvalidByte } from "./utf8-fault.ts";

/** The platform's own decoder as the outside judge. */
function isValid(bytes: Uint8Array): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

test.each([
  [[], undefined],
  [[0x41, 0xc3, 0xa9, 0xe2, 0x82, 0xac, 0xf0, 0x9f, 0x98, 0x80], undefined],
  [[0x41, 0xe9, 0x41], 1],
  [[0x80], 0],
  [[0xc0, 0xaf], 0],
  [[0xe0, 0x80, 0x80], 0],
  [[0xed, 0xa0, 0x80], 0],
  [[0xf4, 0x90, 0x80, 0x80], 0],
  [[0xff], 0],
  [[0x41, 0xe2, 0x82], 1],
  [[0x41, 0x42, 0xc3], 2],
])("in %j the first invalid byte is %s", (bytes, offset) => {
  // Overlong forms, surrogates and sequences above U+10FFFF: RFC 3629, section 3 and 4 (from memory, M).
  expect(firstInvalidByte(Uint8Array.from(bytes))).toBe(offset);
});

test("bytes are valid exactly where the platform's strict decoder takes them, and so is all before the first invalid one", () => {
  const byte = fc.oneof(
    fc.nat(255),
    fc.constantFrom(0xc2, 0xe0, 0xed, 0xef, 0xf0, 0xf4, 0x80, 0x8f, 0x90, 0x9f, 0xa0, 0xbf),
  );
  fc.assert(
    fc.property(fc.array(byte, { maxLength: 12 }), (list) => {
      const bytes = Uint8Array.from(list);
      const offset = firstInvalidByte(bytes);
      expect(offset === undefined).toBe(isValid(bytes));
      if (offset !== undefined) expect(isValid(bytes.slice(0, offset))).toBe(true);
    }),
    { numRuns: 5000 },
  );
});
